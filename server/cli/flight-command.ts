import { hasError } from "../../core/problem";
import type { Options } from "../../core/query/vocabulary";
import { unitSystems, type UnitSystem } from "../../core/units";
import { vocabulary } from "../../core/vocabulary";
import { asArgument, askCell, askSession, giveAnswer, unitsOf, type Asked, type Values } from "./ask-session";
import { UsageError, type Command } from "./command";
import { exitCodes } from "./exit-codes";
import { readArguments } from "./read-arguments";
import { resultsFile } from "./results-file";

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
    await giveAnswer(flown, { toOut: options["json"] === "-", target }, terminal);
    return flown.table === null || hasError(flown.problems) ? exitCodes.problems : exitCodes.clean;
  },
};

function flyOne(values: Values, units: UnitSystem, folder: string): Asked {
  const missing = Object.entries(flightOptions).flatMap(([name, { required }]) => (required && !values.some(([given]) => given === name) ? [`--${asArgument(name)}`] : []));
  if (missing.length > 0) throw new UsageError(`one flight needs ${missing.join(" and ")}; or name a session file for the flights of its shots`);
  return { place: { root: folder, path: "" }, ...askCell("flight", values, new Map(), units), inputs: [] };
}

async function flySession(given: string, values: Values, units: UnitSystem, folder: string): Promise<Asked> {
  const foreign = values.find(([name]) => !ofSessions.has(name));
  if (foreign !== undefined) throw new UsageError(`--${asArgument(foreign[0])} is for one shot: the shots of a session start as they were measured`);
  return askSession(given, "flight", values, units, folder);
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
