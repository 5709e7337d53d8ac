import { oneOf, problemKind as kind, quoted, shown } from "../problem-kind";
import { sideLetters } from "./side-letters";
import { parseUnit } from "../units";

/** What programs usually write where there is no value. Common practice, no source. */
const usualBlanks = /^(?:[-\u2012-\u2015\u2212]+|\.+|\*+|\?+|n\/?a|n\.a\.|nan|null|none|nil|missing|---?)$/iu;

/** True for what programs usually write where there is no value. */
export function isUsualBlank(text: string): boolean {
  return usualBlanks.test(text);
}

/** How to say that a text means missing; `null` for a text with digits, behind which there is a value, and for a long one. */
function missingHint(text: string): string | null {
  const quotedText = quoted(text);
  if (quotedText === null || /\d/.test(text)) return null;
  const list = `missing: [${quotedText}]`;
  return usualBlanks.test(text) ? `where ${shown(text)} stands for no value, list it in the session: ${list}` : `if ${shown(text)} says that the value is missing, list it: ${list}`;
}

/** What to do about a text that is no number; `directions` are those of a column for which nothing tells the sides. */
function numberHint(text: string, directions: readonly [string, string] | undefined): string {
  if (parseUnit(text) !== undefined) return "where the row under the header holds units, say so beside the file: units_row: true";
  if (directions !== undefined && /^(?:\p{L}+\s*[\d.,]+|[\d.,]+\s*\p{L}+)$/u.test(text))
    return `where a letter tells the side, say which under the column: sides: ${sideLetters(directions)}`;
  if (/^\D*\d+,\d+\D*$/.test(text)) return 'where the comma is a decimal mark, say so beside the file in the session: decimal: ","';
  return missingHint(text) === null ? "a number such as 152.4: the sign before it, its unit behind it, no brackets and no spaces inside" : `a number such as 152.4; ${missingHint(text)!}`;
}

/** What can be wrong with the values of a column, or with all of them together. */
export const valueProblems = {
  "value.not-a-number": kind(
    "error",
    (f: { text: string; column: string; instead?: string; directions?: readonly [string, string] }) => `${shown(f.text)} is not a number, and ${f.column} holds numbers; it is missing`,
    (f) => (f.instead === undefined ? numberHint(f.text, f.directions) : `write ${shown(f.instead)}`),
  ),
  "value.thousands-separator": kind(
    "error",
    (f: { text: string; column: string; instead: string }) =>
      `${shown(f.text)} in ${f.column} may have a decimal comma or grouped thousands, and nothing in the file tells which; it is missing`,
    (f) => `write ${shown(f.instead)}, or say it beside the file in the session: decimal: "." or decimal: ","`,
  ),
  "value.precision-loss": kind(
    "warning",
    (f: { text: string; column: string; kept: boolean }) =>
      `${shown(f.text)} in ${f.column} has more digits than a number can hold${f.kept ? "; the column is kept as text" : "; it is missing"}`,
    () => "whole numbers up to 9007199254740992 are held exactly; names made of digits are text",
  ),
  "value.side": kind(
    "error",
    (f: { text: string; column: string; sides: readonly string[] }) =>
      `${shown(f.text)} in ${f.column} does not tell its side plainly; it is missing`,
    (f) => `a number without sign, ${oneOf(f.sides)} behind or before it, as the session says; 0 needs no side`,
  ),
  "value.out-of-range": kind(
    "warning",
    (f: { value: string; column: string; low: string; high: string; zero?: string }) =>
      `${f.value} is not a plausible ${f.column} (${f.low} to ${f.high}); it is kept`,
    (f) =>
      f.zero === undefined
        ? "a wrong unit, a wrong side or a misread; set the value aside with a reason, or state other limits under plausible"
        : `0 often stands for what was not read; if it does here, say so under the column: missing: [${JSON.stringify(f.zero)}]`,
  ),
  "value.date": kind(
    "error",
    (f: { text: string; what: "date" | "time" }) => `${shown(f.text)} is not a ${f.what} that can be read without doubt`,
    (f) =>
      f.what === "date"
        ? "year, month and day of the calendar: 2026-03-14"
        : "2026-03-14 09:05:00, 2026-03-14T09:05:00Z or 09:05:00; otherwise order by shot or by file",
  ),
  "value.kept-as-text": kind(
    "info",
    (f: { column: string; numbers: number; total: number; text: string }) =>
      `${shown(f.column)} is kept as text: ${f.numbers} of ${f.total} values are numbers, but not ${shown(f.text)}`,
    (f) => missingHint(f.text) ?? "a column is numbers when all of its values are plain numbers",
  ),
  "schema.unit": kind(
    "error",
    (f: { column: string; found: string; expected: string; where: string; whole: boolean }) =>
      `${f.where} says ${f.found}, but ${f.column} is ${f.expected === "" ? "a number without unit" : `in ${f.expected}`}; ${f.whole ? "all of its values are" : "it is"} missing`,
    (f) => `nothing is converted on a guess: map ${f.column} from the column that holds it, with the unit that the export has`,
  ),
  "schema.unique": kind(
    "error",
    (f: { what: string; value: string; first: string; second: string }) =>
      `${f.what} ${f.value} is there twice: ${f.first} and ${f.second}`,
    (f) =>
      f.what === "shot"
        ? "both rows are kept and counted as shots; if one of them is none, set it aside with a reason (column: all), or export again"
        : "each session counts once in a table",
  ),
} as const;
