import { readFile, realpath } from "node:fs/promises";
import path from "node:path";
import { hasError } from "../../core/problem";
import { applyEdits } from "../../core/session/apply-edits";
import { parseShotRange } from "../../core/session/read-shot-lists";
import type { SetAsideRequest } from "../../core/session/set-aside-edit";
import { setAsideEdits } from "../../core/session/set-aside-edit";
import { settableColumns } from "../../core/table/settable-columns";
import type { ShotColumn } from "../../core/table/shot-columns";
import type { Table } from "../../core/table/table";
import { findColumn, valueAt } from "../../core/table/table";
import { UsageError, type Command, type Terminal } from "./command";
import { exitCodes } from "./exit-codes";
import { askSession, giveAnswer, unitsOf, type Asked } from "./ask-session";
import { readArguments } from "./read-arguments";
import { replaceFile } from "./replace-file";
import { resultsFile } from "./results-file";
import { forTerminal } from "./say-problems";

/** `fairstrike suspects`: the doubtful values of a session and, when asked to, those that a person sets aside. */
export const suspectsCommand: Command = {
  usage: 'suspects SESSION [--doubt strong] [--units yd-mph|m-kmh|m-ms] [--json FILE|-] [--write [--shots "41, 52-78"] [--column NAME] [--because "REASON"]]',
  help: "List the values of a session file that other readings contradict (exit code 1 when there are any). Nothing is set aside unless you say --write: then the listed values, or those of the shots and the column you name, are added to set_aside in the session file, with your reason or else what contradicts them.",
  run: async (given, terminal) => {
    const { options, others, flags } = readArguments(given, ["doubt", "units", "json", "shots", "column", "because"], ["write"]);
    const [session, ...more] = others;
    if (session === undefined) throw new UsageError("name a session file, NAME.session.yaml");
    if (more.length > 0) throw new UsageError(`it takes one session at a time, not also ${more.map((each) => JSON.stringify(each)).join(", ")}`);
    const choice = choiceOf(options, flags.has("write"));
    const target = options.json === undefined || options.json === "-" ? null : await resultsFile(options.json, terminal.folder);
    const asked = await askSession(session, "suspects", options.doubt === undefined ? [] : [["doubt", options.doubt]], unitsOf(options.units), terminal.folder);
    await giveAnswer(asked, { toOut: options.json === "-", target }, terminal);
    const { table } = asked;
    if (table === null || hasError(asked.problems)) {
      if (choice !== null) throw new UsageError("nothing was set aside: mend the errors above first, so that it is sure which shots are meant");
      return exitCodes.problems;
    }
    const open = doubtfulIn(table);
    const left = choice === null ? open.length : open.length - (await writeAside(asked, open.filter((each) => isChosen(each, choice)), choice, terminal));
    return left > 0 ? exitCodes.problems : exitCodes.clean;
  },
};

/** A value that is doubted and not set aside. */
interface Doubtful {
  readonly shot: number;
  readonly column: ShotColumn;
  readonly rule: string;
  readonly evidence: string;
}

type ShotSpan = NonNullable<ReturnType<typeof parseShotRange>>;

/** What of the doubtful values a person sets aside. */
interface Choice {
  readonly shots: readonly ShotSpan[] | null;
  readonly column: ShotColumn | null;
  readonly because: string | null;
}

/** @throws {UsageError} for a choice that cannot be meant. */
function choiceOf(options: Readonly<Partial<Record<"shots" | "column" | "because", string>>>, writes: boolean): Choice | null {
  const { shots, column, because } = options;
  if (!writes) {
    if (shots !== undefined || column !== undefined || because !== undefined) throw new UsageError("--shots, --column and --because choose what --write sets aside");
    return null;
  }
  const known = settableColumns.find((name) => name === column);
  if (column !== undefined && known === undefined) throw new UsageError(`--column is one of ${settableColumns.join(", ")}, not ${JSON.stringify(column)}`);
  if (because !== undefined && because.trim() === "") throw new UsageError("--because is a reason in words");
  return { shots: shots === undefined ? null : shots.split(",").map(rangeOf), column: known ?? null, because: because ?? null };
}

function rangeOf(part: string): ShotSpan {
  const shots = parseShotRange(part);
  if (shots === null) throw new UsageError(`--shots are numbers and ranges, as 41 or "41, 52-78", not ${JSON.stringify(part)}`);
  return shots;
}

function isChosen({ shot, column }: Doubtful, { shots, column: only }: Choice): boolean {
  return (only === null || only === column) && (shots === null || shots.some(({ from, to }) => from <= shot && shot <= to));
}

function doubtfulIn(table: Table): readonly Doubtful[] {
  const text = (name: string, row: number): string => String(valueAt(findColumn(table, name)!, row));
  return Array.from({ length: table.rowCount }, (_, row) => row)
    .filter((row) => text("state", row) === "suspect")
    .map((row) => ({ shot: Number(text("shot", row)), column: text("column", row) as ShotColumn, rule: text("rule", row), evidence: text("evidence", row) }));
}

/** Adds the values to the session file and says what was written; how many of them are set aside then. */
async function writeAside({ place }: Asked, chosen: readonly Doubtful[], { because }: Choice, terminal: Terminal): Promise<number> {
  if (chosen.length === 0) {
    await terminal.say("Nothing to set aside: no doubtful value is among the shots and columns named.\n");
    return 0;
  }
  const file = await realpath(path.join(place.root, place.path));
  const text = textOf(await readFile(file));
  const { value, problems } = setAsideEdits(text, requestsOf(chosen, because));
  const wrong = problems.find((found) => found.severity === "error");
  if (value === null || wrong !== undefined) throw new UsageError(`nothing was set aside: ${wrong?.message ?? "the session file cannot be edited"}; ${wrong?.hint ?? ""}`);
  if (value.length > 0) await replaceFile(file, applyEdits(text, value));
  const added = value.map((edit) => edit.text.trim()).join("\n");
  await terminal.say(forTerminal(`Set aside ${chosen.length} ${chosen.length === 1 ? "value" : "values"} in ${path.posix.basename(place.path)}:\n${added}\n`));
  return chosen.length;
}

/**
 * One request for each column and rule, but one for all columns that a rule doubts in one shot with the same words, as in
 * a row that is there twice; with the evidence where it is that of one shot.
 */
function requestsOf(chosen: readonly Doubtful[], because: string | null): readonly SetAsideRequest[] {
  const groups = new Map<string, Doubtful[]>();
  const alike = new Map<string, number>();
  const wholeKey = ({ shot, rule, evidence }: Doubtful): string => JSON.stringify([shot, rule, evidence]);
  for (const each of chosen) alike.set(wholeKey(each), (alike.get(wholeKey(each)) ?? 0) + 1);
  for (const each of chosen) {
    const ofShot = because === null && alike.get(wholeKey(each))! > 1;
    const key = ofShot ? wholeKey(each) : because === null ? `${each.column} ${each.rule}` : each.column;
    groups.set(key, [...(groups.get(key) ?? []), each]);
  }
  return [...groups.values()].map((own) => {
    const [first] = own;
    const shots = [...new Set(own.map((each) => each.shot))];
    const found = shots.length === 1 ? first!.evidence : `contradicted by other readings of the same shots (rule: ${first!.rule})`;
    return { shots, columns: [...new Set(own.map((each) => each.column))], because: because ?? found };
  });
}

/** @throws {UsageError} for a file that is no UTF-8: what is written would be another text. */
function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new UsageError("nothing was set aside: the session file is not UTF-8; save it as UTF-8 first");
  }
}
