import type { Fix } from "../problem";
import type { Schema } from "../table/schema";
import { isColumnOf } from "./check-column";
import { columnMeant } from "./column-fixes";
import type { Reporter } from "./reporter";
import type { Syntax } from "./syntax";
import type { Options } from "./vocabulary";

/**
 * Arguments given by place to what takes options, as options: `"carry", "head"` as `{ of: "carry", by: "head" }`, and
 * `"carry", { by: "head" }` likewise. `undefined` where it is not plain which options are meant.
 *
 * @param input what the columns are looked up in; `null` where they are not known.
 */
export function optionsFix(given: readonly Syntax[], options: Options, input: Schema | null, reporter: Reporter): Fix | undefined {
  const [first, last] = [given[0], given.at(-1)];
  if (first === undefined || last === undefined || !Object.hasOwn(options, "of")) return undefined;
  const rest = last.kind === "object" ? last : null;
  const names = (rest === null ? given : given.slice(0, -1)).map((node) => (node.kind === "text" ? node.value : columnMeant(node, input)));
  if (names.length === 0 || names.includes(null)) return undefined;
  const entries = placed(names as readonly string[], options, input);
  if (entries === null || rest?.entries.some(({ name }) => Object.hasOwn(entries, name)) === true) return undefined;
  const inside = Object.entries(entries).map(([name, value]) => `${name}: ${value}`).join(", ");
  const others = rest === null || rest.entries.length === 0 ? " }" : `,${reporter.textOf(rest).slice(1)}`;
  return reporter.replacing(rest === null ? `Write { ${inside} }` : `Write ${inside} among the options`, { from: first.from, to: last.to }, `{ ${inside}${others}`);
}

/** Names of columns as values of `of`, and the second of two as that of `by`, where they can be. */
function placed(names: readonly string[], options: Options, input: Schema | null): Readonly<Record<string, string>> | null {
  const quoted = names.map((name) => JSON.stringify(name));
  if (names.every((name) => fits(options, "of", name, input)) && (names.length === 1 || options["of"]?.kind === "columns")) {
    return { of: names.length === 1 ? quoted[0]! : `[${quoted.join(", ")}]` };
  }
  const isPair = names.length === 2 && fits(options, "of", names[0]!, input) && fits(options, "by", names[1]!, input);
  return isPair ? { of: quoted[0]!, by: quoted[1]! } : null;
}

function fits(options: Options, name: string, value: string, input: Schema | null): boolean {
  const option = Object.hasOwn(options, name) ? options[name]! : null;
  if (option?.kind !== "column" && option?.kind !== "columns") return false;
  const column = input?.columns.find((each) => each.name === value);
  return input === null || (column === undefined ? input.open : isColumnOf(column, option.of));
}
