import { stat } from "node:fs/promises";
import path from "node:path";
import { defaultLimits } from "../../core/limits";
import { presentTable } from "../../core/present/present-table";
import { hasError, type Problem } from "../../core/problem";
import { checkQuery } from "../../core/query/check-query";
import { runQuery } from "../../core/query/run-query";
import { createSessionLoader } from "../../core/session-loader";
import { nothingKnown, type Schema } from "../../core/table/schema";
import type { Table } from "../../core/table/table";
import { textStart } from "../../core/text-position";
import { unitSystems, type UnitSystem } from "../../core/units";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../node-files";
import { UsageError, type Terminal } from "./command";
import { findRoot, type FilePlace } from "./find-root";
import { writeResults } from "./results-file";
import { problemJson, rowsWritten } from "./results-json";
import { tableText } from "./results-text";
import { countProblems, forTerminal, sayFile, sayProblem } from "./say-problems";

/** What was asked of a session or of one shot, and from which files the answer is. */
export interface Asked {
  /** The session's place; the working folder where no file was asked. */
  readonly place: FilePlace;
  /** `null` where there are only problems. */
  readonly table: Table | null;
  readonly problems: readonly Problem[];
  readonly inputs: readonly string[];
}

/** Where an answer goes besides the terminal: as JSON to standard output, and into a file that `resultsFile` gave. */
export interface AnswerTargets {
  readonly toOut: boolean;
  readonly target: string | null;
}

/** Says the problems of an answer, gives its table as text or JSON, and for a session says how many problems it has. */
export async function giveAnswer(asked: Asked, { toOut, target }: AnswerTargets, terminal: Terminal): Promise<void> {
  const { place, table, problems, inputs } = asked;
  const from = { folder: terminal.folder, root: place.root };
  for (const found of problems) await terminal.say(sayProblem(found, from));
  if (target !== null) await writeResults(target, answerJson(asked), asked, inputs);
  if (toOut) await terminal.out(answerJson(asked));
  else if (table !== null) await terminal.out(tableText(table, terminal.columns));
  if (place.path !== "") await terminal.say(forTerminal(`${sayFile(place.path, from)}: ${countProblems(problems)}\n`));
}

/** An answer as JSON, keys in a fixed order; `session` is `null` where no file was asked. */
function answerJson({ place, table, problems }: Asked): string {
  const session = place.path === "" ? null : path.posix.basename(place.path);
  const result = table === null ? null : presentTable(table, rowsWritten);
  return `${JSON.stringify({ fairstrike: 1, session, problems: problems.map(problemJson), result }, null, 1)}\n`;
}

/** Options of a call by their names in a cell. */
export type Values = readonly (readonly [name: string, value: string])[];

/**
 * What a verb of the trade gives for all shots of a session file.
 *
 * @throws {UsageError} when there is no such file, or for what is wrong with a value.
 */
export async function askSession(given: string, verb: string, values: Values, units: UnitSystem, folder: string): Promise<Asked> {
  const shown = JSON.stringify(given);
  if (!given.endsWith(".session.yaml")) throw new UsageError(`${shown} is no session file; its name would end in .session.yaml`);
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
  const asked = askCell(`shots.${verb}`, values, new Map([["shots", value]]), units);
  // What the table itself lacks is a matter of the session.
  return { place, table: asked.table, problems: [...own, ...asked.problems.map((found) => ({ ...found, file: place.path, range: textStart }))], inputs };
}

/**
 * Asks what a cell would ask, `CALL({ NAME: "VALUE", … })`: the same check and the same run.
 *
 * @throws {UsageError} for what is wrong with a value; what is wrong elsewhere is among the problems.
 */
export function askCell(call: string, values: Values, shots: ReadonlyMap<string, { readonly table: Table; readonly schema: Schema }>, units: UnitSystem): Pick<Asked, "table" | "problems"> {
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

/** @throws {UsageError} for what is no system of units; the first of them when left out. */
export function unitsOf(given: string | undefined): UnitSystem {
  const found = unitSystems.find((system) => system === (given ?? unitSystems[0]));
  if (found === undefined) throw new UsageError(`--units is one of ${unitSystems.join(", ")}, not ${JSON.stringify(given)}`);
  return found;
}

/** The option of the command line for an option of a cell. */
export function asArgument(name: string): string {
  return name.replaceAll("_", "-");
}
