import { defaultLimits } from "../../core/limits";
import { presentOutcome } from "../../core/present/present-outcome";
import { drawFigure, figureSizes, figureThemes, type FigureBackground, type FigureTheme } from "../../core/report/figure";
import { UsageError, type Command } from "./command";
import { exitCodes } from "./exit-codes";
import { openNotebook } from "./open-notebook";
import { readArguments } from "./read-arguments";
import { reportFile, writeResults } from "./results-file";
import { indexOfCell, runOpened } from "./run-opened";
import { sayProblem } from "./say-problems";

const themes = Object.keys(figureThemes) as readonly FigureTheme[];
const backgrounds: readonly FigureBackground[] = ["solid", "transparent"];
/** Pixels of width where no size is given; the height is the chart's. */
const usualWidth = 800;

/** `fairstrike figure`: runs what one cell needs and writes its chart as an SVG that stands alone. */
export const figureCommand: Command = {
  usage: `figure NOTEBOOK --cell NAME --out FILE.svg [--size 1920x1080] [--theme ${themes.join("|")}] [--background ${backgrounds.join("|")}]`,
  help: "Write the chart of one cell as SVG, of an exact size with --size; a PNG is saved from below the chart in the editor.",
  run: async (given, terminal) => {
    const { options, others } = readArguments(given, ["cell", "out", "size", "theme", "background"]);
    const [notebook, ...more] = others;
    if (notebook === undefined) throw new UsageError("name the notebook that has the chart");
    if (more.length > 0) throw new UsageError(`it takes one notebook at a time, not also ${more.map((each) => JSON.stringify(each)).join(", ")}`);
    if (!notebook.endsWith(".shots.md")) throw new UsageError(`${JSON.stringify(notebook)} is no notebook; its name would end in .shots.md`);
    const { cell, out } = options;
    if (cell === undefined) throw new UsageError("name the cell with --cell");
    if (out === undefined) throw new UsageError("name the file with --out, or - for standard output");
    if (/\.png$/iu.test(out)) throw new UsageError("there is no screen here to make a PNG on; name a .svg file, or save a PNG from below the chart in the editor");
    const theme = figureThemes[oneOf("theme", options.theme ?? "light", themes)];
    const background = oneOf("background", options.background ?? "solid", backgrounds);
    const size = options.size === undefined ? { width: usualWidth } : readSize(options.size);
    const target = out === "-" ? null : await reportFile(out, terminal.folder, { ending: /\.svg$/iu, words: ".svg", mark: "<svg" });
    const opened = await openNotebook(notebook, terminal.folder);
    const index = indexOfCell(cell, opened);
    const ran = await runOpened(opened, index, terminal);
    const from = { folder: terminal.folder, root: opened.place.root };
    for (const found of [...ran.problems, ...ran.cells.flatMap((each) => each.problems)]) await terminal.say(sayProblem(found, from));
    const outcome = ran.cells.find((each) => each.outcome.index === index)?.outcome;
    if (outcome === undefined || outcome.status !== "ok") return exitCodes.problems;
    const chart = presentOutcome(outcome, defaultLimits).results.find((result) => result.type === "chart");
    if (chart === undefined) throw new UsageError(`${JSON.stringify(cell)} shows no chart; name a cell that does`);
    const { svg, warning } = await drawFigure(chart, cell, { theme, background, ...size });
    if (warning !== null) await terminal.say(`note: ${warning}\n`);
    if (target === null) await terminal.out(svg);
    else await writeResults(target, svg, opened, ran.inputs);
    return exitCodes.clean;
  },
};

function oneOf<T extends string>(option: string, given: string, accepted: readonly T[]): T {
  const found = accepted.find((each) => each === given);
  if (found === undefined) throw new UsageError(`--${option} is ${accepted.join(" or ")}, not ${JSON.stringify(given)}`);
  return found;
}

function readSize(given: string): { readonly width: number; readonly height: number } {
  const read = /^(\d{1,5})x(\d{1,5})$/u.exec(given);
  const [width, height] = [Number(read?.[1]), Number(read?.[2])];
  const { least, most } = figureSizes;
  if (read === null || Math.min(width, height) < least || Math.max(width, height) > most)
    throw new UsageError(`--size is WIDTHxHEIGHT in pixels, each ${least} to ${most}, as 1920x1080; not ${JSON.stringify(given)}`);
  return { width, height };
}
