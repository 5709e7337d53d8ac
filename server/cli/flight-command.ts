import { stat } from "node:fs/promises";
import path from "node:path";
import { defaultLimits } from "../../core/limits";
import { presentTable } from "../../core/present/present-table";
import { hasError, type Problem } from "../../core/problem";
import { checkQuery } from "../../core/query/check-query";
import { runQuery } from "../../core/query/run-query";
import type { Options } from "../../core/query/vocabulary";
import { createSessionLoader } from "../../core/session-loader";
import { nothingKnown, type Schema } from "../../core/table/schema";
import type { Table } from "../../core/table/table";
import { unitSystems, type UnitSystem } from "../../core/units";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../node-files";
import { UsageError, type Command } from "./command";
import { exitCodes } from "./exit-codes";
import { findRoot, type FilePlace } from "./find-root";
import { readArguments } from "./read-arguments";
import { resultsFile, writeResults } from "./results-file";
import { problemJson, rowsWritten } from "./results-json";
import { tableText } from "./results-text";
import { countProblems, forTerminal, sayFile, sayProblem } from "./say-problems";

/** The options of one flight; those of a session's flights are among them. */
const flightOptions: Options = vocabulary.sources.get("flight")!.options;
const ofSessions: ReadonlySet<string> = new Set(vocabulary.verbs.get("flight")!.parameters.flatMap((each) => (each.kind === "options" ? Object.keys(each.options) : [])));
const launchOptions = Object.keys(flightOptions).filter((name) => !ofSessions.has(name));

/** `fairstrike flight`: the modelled flight of one shot, or of every shot of a session, as `flight` gives it in a cell. */
export const flightCommand: Command = {
  usage: `flight ${launchOptions.map((name) => usageOf(name, flightOptions[name]!.required)).join(" ")} [OPTIONS]\n       fairstrike flight SESSION [OPTIONS]\n  OPTIONS: ${[...ofSessions].map((name) => usageOf(name, false)).join(" ")} [--units ${unitSystems.join("|")}] [--json FILE|-]`,
  help: "Model the flight of one shot, as --ball-speed \"130 mph\" --launch-angle \"17 deg\" --spin-rate \"6200 rpm\", or of every shot of a session file.",
  run: async (given, terminal) => {
    const names = [...Object.keys(flightOptions).map(asArgument), "units", "json"];
    const { options, others } = readArguments(withNegatives(given), names);
    const [session, ...more] = others;
    if (more.length > 0) throw new UsageError(`it takes one session at a time, not also ${more.map((each) => JSON.stringify(each)).join(", ")}`);
    const target = options["json"] === undefined || options["json"] === "-" ? null : await resultsFile(options["json"], terminal.folder);
    const values = Object.keys(flightOptions).flatMap((name) => {
      const value = options[asArgument(name)];
      return value === undefined ? [] : [[name, value] as const];
    });
    const units = unitsOf(options["units"]);
    const flown = session === undefined ? flyOne(values, units, terminal.folder) : await flySession(session, values, units, terminal.folder);
    const from = { folder: terminal.folder, root: flown.place.root };
    for (const found of flown.problems) await terminal.say(sayProblem(found, from));
    if (target !== null) await writeResults(target, flightJson(flown), flown, flown.inputs);
    if (options["json"] === "-") await terminal.out(flightJson(flown));
    else if (flown.table !== null) await terminal.out(tableText(flown.table, terminal.columns));
    if (session !== undefined) await terminal.say(forTerminal(`${sayFile(flown.place.path, from)}: ${countProblems(flown.problems)}\n`));
    return flown.table === null || hasError(flown.problems) ? exitCodes.problems : exitCodes.clean;
  },
};

/** What was modelled, and from which files. */
interface Flown {
  /** The session's place; the working folder for one shot. */
  readonly place: FilePlace;
  /** `null` where there are only problems. */
  readonly table: Table | null;
  readonly problems: readonly Problem[];
  readonly inputs: readonly string[];
}

type Values = readonly (readonly [name: string, value: string])[];

function flyOne(values: Values, units: UnitSystem, folder: string): Flown {
  const missing = Object.entries(flightOptions).flatMap(([name, { required }]) => (required && !values.some(([given]) => given === name) ? [`--${asArgument(name)}`] : []));
  if (missing.length > 0) throw new UsageError(`one flight needs ${missing.join(" and ")}; or name a session file for the flights of its shots`);
  return { place: { root: folder, path: "" }, ...ask("flight", values, new Map(), units), inputs: [] };
}

async function flySession(given: string, values: Values, units: UnitSystem, folder: string): Promise<Flown> {
  const shown = JSON.stringify(given);
  if (!given.endsWith(".session.yaml")) throw new UsageError(`${shown} is no session file; its name would end in .session.yaml`);
  const foreign = values.find(([name]) => !ofSessions.has(name));
  if (foreign !== undefined) throw new UsageError(`--${asArgument(foreign[0])} is for one shot: the shots of a session start as they were measured`);
  const file = path.resolve(folder, given);
  if ((await stat(file).catch(() => null))?.isFile() !== true) throw new UsageError(`there is no file ${shown}`);
  const place = findRoot(file);
  const loader = createSessionLoader(nodeFiles(place.root, defaultLimits.fileBytes), defaultLimits);
  const loaded = await loader.load(place.path);
  if (loaded.fault !== null) throw new UsageError(`${shown} cannot be read: ${loaded.fault}`);
  const { value, problems } = loader.combine([loaded], units);
  const own = [...loaded.problems, ...problems.map((found) => ({ ...found, file: found.file ?? place.path }))];
  const inputs = loaded.inputs.map((input) => input.path);
  if (value === null) return { place, table: null, problems: own, inputs };
  const asked = ask("shots.flight", values, new Map([["shots", value]]), units);
  // What the table itself lacks is a matter of the session.
  return { place, table: asked.table, problems: [...own, ...asked.problems.map((found) => ({ ...found, file: place.path, range: start }))], inputs };
}

const start = { start: { line: 1, column: 1 }, end: { line: 1, column: 1 } } as const;

/**
 * Asks what a cell would ask, `CALL({ NAME: "VALUE", … })`: the same check and the same run.
 *
 * @throws {UsageError} for what is wrong with a value; what is wrong elsewhere is among the problems.
 */
function ask(call: string, values: Values, shots: ReadonlyMap<string, { readonly table: Table; readonly schema: Schema }>, units: UnitSystem): Pick<Flown, "table" | "problems"> {
  const places: { readonly name: string; readonly from: number; readonly to: number }[] = [];
  let text = `${call}({`;
  for (const [name, value] of values) {
    text += ` ${name}: `;
    const written = JSON.stringify(value);
    places.push({ name, from: text.length, to: text.length + written.length });
    text += `${written},`;
  }
  text += " })";
  const refuseValues = (problems: readonly Problem[]): void => {
    const wrong = problems.filter((found) => found.severity === "error").flatMap((found) => {
      const column = found.range.start.column - 1;
      const option = found.range.start.line === 1 ? places.find(({ from, to }) => column >= from && column < to) : undefined;
      return option === undefined ? [] : [`--${asArgument(option.name)}: ${found.message}; ${found.hint.replaceAll("_", "-")}`];
    });
    if (wrong.length > 0) throw new UsageError(wrong.join("\n  "));
  };
  const checked = checkQuery(text, 0, {
    vocabulary,
    tables: new Map([...shots].map(([name, { schema }]) => [name, schema])),
    cells: new Set(shots.keys()),
    tableNames: () => [...shots.keys()],
    sessions: () => nothingKnown,
    units,
    limits: defaultLimits,
  });
  refuseValues(checked.problems);
  if (checked.value === null || hasError(checked.problems)) return { table: null, problems: checked.problems };
  const context = { limits: defaultLimits, units, margins: {}, seed: 1, warn: () => undefined, checkpoint: () => undefined };
  const { value, problems } = runQuery(checked.value, new Map([...shots].map(([name, { table }]) => [name, table])), context, vocabulary);
  refuseValues(problems);
  return { table: value?.type === "table" ? value : null, problems: [...checked.problems, ...problems] };
}

/** The flights as JSON, keys in a fixed order; `session` is `null` for one shot. */
function flightJson({ place, table, problems }: Flown): string {
  const session = place.path === "" ? null : path.posix.basename(place.path);
  const result = table === null ? null : presentTable(table, rowsWritten);
  return `${JSON.stringify({ fairstrike: 1, session, problems: problems.map(problemJson), result }, null, 1)}\n`;
}

function unitsOf(given: string | undefined): UnitSystem {
  const found = unitSystems.find((system) => system === (given ?? unitSystems[0]));
  if (found === undefined) throw new UsageError(`--units is one of ${unitSystems.join(", ")}, not ${JSON.stringify(given)}`);
  return found;
}

function asArgument(name: string): string {
  return name.replaceAll("_", "-");
}

function usageOf(name: string, isNeeded: boolean): string {
  const option = flightOptions[name]!;
  const value = option.kind === "quantity" ? `"${option.example}"` : "NAME";
  const usage = `--${asArgument(name)} ${value}`;
  return isNeeded ? usage : `[${usage}]`;
}

/** A negative number behind an option is its value, and no option itself. */
function withNegatives(given: readonly string[]): readonly string[] {
  const joined: string[] = [];
  for (const [i, each] of given.entries()) {
    const before = given[i - 1];
    const isValue = before !== undefined && /^--[a-z]/u.test(before) && !before.includes("=") && /^[-\u2212]\s*[\d.]/u.test(each) && !given.slice(0, i).includes("--");
    if (isValue) joined[joined.length - 1] = `${before}=${each}`;
    else joined.push(each);
  }
  return joined;
}
