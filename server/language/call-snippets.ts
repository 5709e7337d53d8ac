import { isColumnOf } from "../../core/query/check-column";
import { whyNotAName } from "../../core/query/names";
import type { Option, Options, Parameter, Verb } from "../../core/query/vocabulary";
import type { ColumnSchema, Schema } from "../../core/table/schema";
import { plainSnippet } from "./chart-snippets";

/** What a call is likely to be about: the columns at hand, and the name of a table to join or to draw. */
export interface Likely {
  readonly columns: Schema;
  readonly table: string;
}

/** A snippet of a call, for `insert`: where a bracket follows already, the name alone. */
export function asCall(snippet: string, next: string): { readonly insert: string; readonly isSnippet?: true } {
  return next === "(" ? { insert: snippet.slice(0, snippet.indexOf("(")) } : { insert: snippet, isSnippet: true };
}

/** Columns that a comparison is mostly about, the likeliest first. */
const usual = ["carry", "ball_speed", "head", "set", "session", "player", "zone", "intent", "stint", "pass"];

/** Numbers that tell of the order or the place of a shot and not of its outcome. */
const counts: ReadonlySet<string> = new Set(["shot", "stint", "pass"]);

/** Columns that can be named where one of `of` is wanted, the likeliest first. */
export function fittingColumns(schema: Schema, of: "number" | "text" | "any" | "group"): readonly ColumnSchema[] {
  const place = ({ name, kind }: ColumnSchema): number => {
    if (of === "number") return kind === "number" && counts.has(name) ? 1 : 0;
    return of === "any" || !usual.includes(name) ? usual.length : usual.indexOf(name);
  };
  return schema.columns.filter((column) => isColumnOf(column, of)).sort((a, b) => place(a) - place(b));
}

function likelyColumn(schema: Schema, of: "number" | "text" | "any" | "group"): string {
  const fitting = fittingColumns(schema, of).map(({ name }) => name);
  if (fitting.length === 0 && schema.open) return of === "number" ? "carry" : "head";
  return usual.find((name) => fitting.includes(name)) ?? fitting[0] ?? "";
}

/** What stands between the brackets of a verb, as a snippet: all that it cannot do without. */
export function verbArguments({ parameters }: Verb, likely: Likely): string {
  const written = writer(likely);
  return parameters.flatMap((parameter) => written.argument(parameter) ?? []).join(", ");
}

/** One argument of a verb as a snippet; `null` for one that is better left out. */
export function argumentSnippet(parameter: Parameter, likely: Likely): string | null {
  return writer(likely).argument(parameter);
}

/** The options of a chart or a source between their braces; "" where none need be written. */
export function optionEntries(options: Options, likely: Likely, firstStop = 1): string {
  return writer(likely, firstStop).entries(options);
}

/** The value of an option as a snippet. */
export function optionSnippet(option: Option, likely: Likely): string {
  return writer(likely).value(option);
}

/** Writes parts of one snippet; its places to fill in are counted as they are written. */
function writer({ columns, table }: Likely, firstStop = 1) {
  let stop = firstStop;
  const place = (text: string): string => (text === "" ? `$${stop++}` : `\${${stop++}:${plainSnippet(text)}}`);
  const quoted = (text: string): string => `"${place(JSON.stringify(text).slice(1, -1))}"`;
  const column = (of: "number" | "text" | "any" | "group"): string => quoted(likelyColumn(columns, of));

  function argument(parameter: Parameter): string | null {
    switch (parameter.kind) {
      case "choices":
        return null;
      case "condition":
        return `d => d.${place("")}`;
      case "new columns":
        return `{ ${place("name")}: d => d.${place("")} }`;
      case "aggregates":
        return `{ ${place("name")}: op.${place("")} }`;
      case "columns": {
        const likeliest = [...new Set([likelyColumn(columns, "group"), ...fittingColumns(columns, "any").map(({ name }) => name)])];
        return Array.from({ length: parameter.least }, (_, i) => quoted(likeliest[i] ?? "")).join(", ");
      }
      case "ordering":
        return column("number");
      case "renames": {
        const old = likelyColumn(columns, "any");
        return `{ ${place(old === "" || whyNotAName(old) === null ? old : JSON.stringify(old))}: "${place("name")}" }`;
      }
      case "table":
        return place(table);
      case "number":
        // Rows from the first on; the second place says how many.
        if (parameter.name === "start") return place("0");
        return parameter.optional && parameter.name !== "end" ? null : place("10");
      case "options": {
        const written = entries(parameter.options);
        return written === "" ? null : `{ ${written} }`;
      }
    }
  }

  /** The entries that are needed, and what is told apart, which is nearly always meant. */
  function entries(options: Options): string {
    const apart = (name: string, option: Option): boolean => name === "by" && option.kind === "column" && likelyColumn(columns, option.of) !== "";
    return Object.entries(options)
      .filter(([name, option]) => option.required || apart(name, option))
      .map(([name, option]) => `${name}: ${value(option)}`)
      .join(", ");
  }

  function value(option: Option): string {
    switch (option.kind) {
      case "column":
      case "columns":
        return column(option.of);
      case "choice":
        return quoted(option.choices[0] ?? "");
      case "quantity":
        return quoted(option.example);
      case "number":
        return place(String(option.usual));
      case "truth":
        return place("true");
      case "measure":
      case "text":
        return quoted("");
      case "windows":
        return `{ ${place("")} }`;
    }
  }

  return { argument, entries, value };
}
