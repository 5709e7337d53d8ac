// One catalogue of data: longer than a file of code should be.
import { oneOf, problemKind as kind, shown } from "../problem-kind";

type Unknown = { name: string; candidates: readonly string[]; nearest?: string | undefined };

function unknown(what: string, accepted: string) {
  return kind<Unknown>(
    "error",
    (f) => `there is no ${what} ${shown(f.name)}`,
    (f) => `${f.nearest === undefined ? "" : `did you mean ${f.nearest}? `}${accepted}: ${oneOf(f.candidates, 40)}`,
  );
}

const names = unknown("name", "a row function can use its row and constants with a plain value");

/** What a hole of a text can hold. */
const holes = 'a hole holds TABLE.one("column"), TABLE.sentences(), or a table on a line to itself';

/** What can be wrong with a query cell: its text, its names, its kinds and units, and what shows only when it runs. */
export const queryProblems = {
  "query.empty": kind(
    "error",
    () => "this cell has no expression",
    () => "write one expression that gives a table, a chart or a text, such as shots.filter(d => d.carry > 150)",
  ),
  "query.syntax": kind(
    "error",
    (f: { found: string; reason: string; instead?: string | undefined }) => `cannot read ${f.found === "" ? "the end of this cell" : shown(f.found)}: ${f.reason}`,
    (f) => f.instead ?? "a cell is const names, then one expression",
  ),
  "query.too-deep": kind(
    "error",
    (f: { what: string; most: number }) => `this has more than ${f.most} ${f.what}`,
    () => "split it: give parts of it names with const, or use cells of their own",
  ),
  "query.too-long": kind(
    "error",
    (f: { length: number; most: number }) => `this cell has ${f.length} characters; the limit is ${f.most}`,
    () => "split it into several cells",
  ),
  "query.not-allowed": kind(
    "error",
    (f: { found: string; instead: string }) => `${shown(f.found)} cannot be used in a cell`,
    (f) => f.instead,
  ),
  "query.engine-name": kind(
    "error",
    (f: { name: string }) => `the name ${shown(f.name)} cannot be used in a cell`,
    () => "it has a meaning to JavaScript's own objects; use another name, or rename the column where the session maps its headers",
  ),
  "query.reserved-name": kind(
    "error",
    (f: { name: string; reason: string }) => `${shown(f.name)} cannot be a name here, because ${f.reason}`,
    () => "use another name",
  ),
  "query.duplicate-name": kind(
    "error",
    (f: { name: string; what: string }) => `the ${f.what} ${shown(f.name)} is given twice`,
    () => "each can be given once",
  ),
  "query.loose-equality": kind(
    "error",
    (f: { found: string; use: string }) => `${shown(f.found)} cannot be used in a cell`,
    (f) => `use ${f.use}, which compares values of one kind only`,
  ),
  "query.hidden-character": kind(
    "warning",
    (f: { code: string }) => `there is a character here that cannot be seen or changes the direction of text: ${f.code}`,
    () => "remove it, or make sure that the text means what it seems to say",
  ),
  "query.line-separator": kind(
    "error",
    (f: { code: string }) => `the character ${f.code} ends a line without showing it`,
    () => "replace it with an ordinary line end or a space",
  ),
  "query.look-alike": kind(
    "warning",
    (f: { name: string; codes: readonly string[] }) => `the name ${shown(f.name)} has letters that look like others: ${f.codes.join(", ")}`,
    () => "type it again with the letters of one alphabet",
  ),

  "query.unknown-table": unknown("table", "tables here are"),
  "query.unknown-name": kind<Unknown & { text?: string | undefined }>("error", names.says, (f) => (f.text === undefined ? names.hint(f) : `text stands in quotes: ${f.text}`)),
  "query.unknown-verb": unknown("verb", "verbs are"),
  "query.unknown-function": unknown("function", "functions are"),
  "query.unknown-chart": unknown("chart", "charts are"),
  "query.unknown-column": unknown("column", "columns here are"),
  "query.unknown-option": unknown("option", "options are"),
  "query.unknown-named-choice": kind<Unknown>(
    "error",
    (f) => `the front matter has no such choice ${shown(f.name)}`,
    (f) => (f.candidates.length === 0 ? "name it under choose: in the front matter" : `${f.nearest === undefined ? "" : `did you mean ${f.nearest}? `}choices that can stand here are: ${oneOf(f.candidates, 40)}`),
  ),
  "query.choice-kind": kind(
    "error",
    (f: { name: string; instead: string }) => `the choice ${f.name} cannot be used in this way`,
    (f) => f.instead,
  ),
  "query.choice-column": kind(
    "error",
    (f: { name: string; column: string; known: readonly string[] }) => `the choice ${f.name} is of the column ${shown(f.column)}, which this table does not have`,
    (f) => `choose before that column is left out; columns here are ${oneOf(f.known, 40)}`,
  ),
  "query.choice-value": kind(
    "error",
    (f: { name: string; column: string; wanted: string; found: string }) => `the choice ${f.name} cannot be ${shown(f.found)} for the column ${f.column} of this table`,
    (f) => `in the front matter it takes ${f.wanted}`,
  ),
  "query.no-choices": kind(
    "warning",
    () => "the front matter has no choices of columns, so every row is kept",
    () => "name some under choose: in the front matter: { head: { of: head, is: any } }",
  ),
  "query.unknown-choice": unknown("choice", "choices are"),
  "query.unknown-value": kind<Unknown & { column: string }>(
    "warning",
    (f) => `${shown(f.name)} is not among the values of ${f.column}`,
    (f) => (f.nearest === undefined ? `its values are ${oneOf(f.candidates)}` : `did you mean ${shown(f.nearest)}? Its values are ${oneOf(f.candidates)}`),
  ),
  "query.wrong-place": kind(
    "error",
    (f: { name: string; kind: string }) => `${f.name} is ${f.kind} and cannot be used here`,
    (f) =>
      f.kind === "a function of many rows"
        ? `give it a column of its own: .rollup({ result: op.${f.name}("carry") })`
        : "functions of one row stand in a row function: d => op.abs(d.offline)",
  ),

  "query.not-a-result": kind(
    "error",
    (f: { found: string }) => `this cell gives ${f.found}`,
    () => "a cell gives a table, a chart or a text: shots, another cell by name, session(\"…\"), verbs on a table, chart.KIND(table), or text`…`",
  ),
  "query.not-a-table": kind(
    "error",
    (f: { found: string }) => `a table is wanted here, not ${f.found}`,
    () => "a table is shots, another cell by name, a const, session(\"…\"), or verbs on one of them",
  ),
  "query.not-a-hole": kind(
    "error",
    (f: { found: string }) => (f.found === "" ? "a hole of a text is empty" : `a hole of a text cannot hold ${f.found}`),
    () => holes,
  ),
  "query.hole-place": kind(
    "error",
    (f: { place: string }) => `this hole stands in ${f.place}, where what it gives would not be shown as it is`,
    (f) => (f.place === "code" ? "move it into a sentence; four spaces before a line, or backquotes, make code" : "move it into a sentence, a heading, a list or a table"),
  ),
  "query.table-in-line": kind(
    "error",
    () => "a table has something beside it on its line",
    () => 'give its hole a line to itself, or take one value of it: ${TABLE.one("column")}',
  ),
  "query.text-only": kind(
    "error",
    (f: { name: string }) => `${f.name}(…) fills a hole of a text and gives no table`,
    (f) => `it comes last in a hole of a text: text\`… \${TABLE.${f.name}(${f.name === "one" ? '"column"' : ""})} …\``,
  ),
  "query.not-one-row": kind(
    "error",
    (f: { count: number }) => `this table has ${f.count === 0 ? "no row" : `${f.count} rows`}; its one value can only be that of one row`,
    (f) => (f.count === 0 ? "look at what the filter asks for" : 'keep one row: .filter(d => d.head === "Wren"), or .slice(0, 1) for the first'),
  ),
  "query.no-sentences": kind(
    "error",
    (f: { verb: string }) => (f.verb === "" ? "this table has no sentences" : `this table has no sentences: ${f.verb} keeps none`),
    () => "sentences come from a verb of the trade, and are asked for straight behind it: shots.compare({ … }).sentences()",
  ),
  "query.expected": kind(
    "error",
    (f: { wanted: string; found: string }) => `${f.wanted} is wanted here, not ${f.found}`,
    (f) => `write ${f.wanted}`,
  ),
  "query.missing-argument": kind(
    "error",
    (f: { call: string; argument: string; help: string }) => `${f.call} needs ${f.argument}`,
    (f) => f.help,
  ),
  "query.too-many-arguments": kind(
    "error",
    (f: { call: string; most: number; instead?: string | undefined }) => (f.most === 0 ? `${f.call} takes nothing between its brackets` : `${f.call} takes no more than ${f.most} ${f.most === 1 ? "argument" : "arguments"}`),
    (f) => f.instead ?? "remove this",
  ),
  "query.kind": kind(
    "error",
    (f: { what: string; found: string; wanted: string; instead?: string | undefined }) => `${f.what} is ${f.found}; ${f.wanted} is wanted here`,
    (f) => f.instead ?? "numbers, text and truth values are never turned into one another by themselves",
  ),
  "query.always-missing": kind(
    "error",
    () => "this is always missing",
    () => "a column needs a kind: let at least one branch give a number, text or a truth value",
  ),
  "query.number": kind(
    "error",
    (f: { found: string; wanted: string; instead?: string }) => `${f.found} is not ${f.wanted}`,
    (f) => `write ${f.instead ?? f.wanted}`,
  ),
  "query.unit-mismatch": kind(
    "error",
    (f: { left: string; right: string; does: string } | { left: string; what: string; wanted: string; units: string }) =>
      "does" in f ? `cannot ${f.does} ${f.left} and ${f.right}` : `${f.what} is ${f.wanted}; it cannot be in ${f.left}`,
    (f) => ("does" in f ? "both sides must be of one unit" : f.units === "" ? "write it without a unit" : `write it in ${f.units}`),
  ),
  "query.table-of": kind(
    "error",
    (f: { chart: string; verb: string; missing: readonly string[]; example: string }) => `${f.chart} draws the table of ${f.verb}; this one has no ${oneOf(f.missing, 3)}`,
    (f) => `write it like this: ${f.example}`,
  ),
  "query.unit-unknown": kind(
    "warning",
    (f: { unit: string; does: string }) => `one side is in ${f.unit} and the other has no unit that is known`,
    (f) => `make sure that the other side is in ${f.unit} too`,
  ),
  "query.missing-unit": kind(
    "error",
    (f: { found: string; unit: string }) => `${f.found} has no unit`,
    (f) => `write the number with its unit in quotes: "${f.found} ${f.unit}"`,
  ),
  "query.window-crossed": kind(
    "error",
    (f: { window: string }) => `the window ${shown(f.window)} holds nothing: its lower bound is not below its upper one`,
    () => 'write the lower bound first: "14 to 18 deg"',
  ),
  "query.function-type": kind(
    "error",
    (f: { name: string; reason: string }) => `op.${f.name} cannot work on this: ${f.reason}`,
    (f) => f.reason,
  ),
  "query.column-kind": kind(
    "error",
    (f: { name: string; kind: string; wanted: string }) => `column ${shown(f.name)} holds ${f.kind}; ${f.wanted} ${f.wanted === "text" ? "is" : "are"} wanted here`,
    (f) => `name a column of ${f.wanted}`,
  ),
  "query.duplicate-column": kind(
    "error",
    (f: { name: string }) => `the table would have two columns ${shown(f.name)}`,
    () => "columns of one table have different names; rename one of them",
  ),
  "query.different-columns": kind(
    "error",
    (f: { name: string; here: string; there: string }) => `column ${shown(f.name)} is ${f.here} here and ${f.there} in the other table`,
    () => "columns that are put together are of one kind and one unit",
  ),
  "query.mixed-columns": kind(
    "error",
    (f: { first: string; second: string }) => `${f.first} and ${f.second} cannot stand in one column`,
    () => "columns that are put together are of one kind and one unit",
  ),
  "query.column-count": kind(
    "error",
    (f: { verb: string; wanted: string; got: number }) => `${f.verb} takes ${f.wanted}, not ${f.got}`,
    (f) => `name ${f.wanted}`,
  ),
  "query.several-values": kind(
    "error",
    (f: { key: string; count: number }) => `${shown(f.key)} has ${f.count} values in one row of the result`,
    () => "roll the rows up first, so that each group has one value for each key, or group by more columns",
  ),

  "query.undecided-rows": kind(
    "info",
    (f: { count: number; of: number }) => `${f.count} of ${f.of} rows were left out because a missing value leaves the condition undecided`,
    () => "to keep them, say what missing means: d.carry === null || d.carry > 150",
  ),
  "query.none-left": kind(
    "info",
    (f: { of: number }) => `no row is left: this condition holds for none of ${f.of} ${f.of === 1 ? "row" : "rows"}`,
    () => "widen it",
  ),
  "query.undefined-numbers": kind(
    "warning",
    (f: { count: number }) => `${f.count} ${f.count === 1 ? "calculation" : "calculations"} had no result (a division by zero, or a function outside its range), and the value is missing there`,
    () => "say what it should be there, or null: d.club_speed > 0 ? d.ball_speed / d.club_speed : null",
  ),
  "query.undetermined": kind(
    "info",
    (f: { name: string; count: number; of: number }) => `${shown(f.name)} is missing for ${f.count} of ${f.of} groups, whose values do not determine it`,
    () => "a mean needs one value, a standard deviation two",
  ),
  "query.missing-keys": kind(
    "info",
    (f: { count: number; verb: string }) => `${f.count} rows have a missing key, which ${f.verb} matches with nothing`,
    () => "missing is not equal to missing",
  ),

  "nb.more-problems": kind(
    "info",
    (f: { total: number; listed: number }) => `${f.total} problems in this cell in all; ${f.listed} of them are listed`,
    () => "mend these and look again",
  ),
  "nb.cycle": kind(
    "error",
    (f: { path: readonly string[] }) => `these cells need one another: ${f.path.join(" → ")}`,
    () => "a cell can only use cells that do not need it",
  ),
  "nb.duplicate-name": kind(
    "error",
    (f: { name: string }) => `two cells are called ${shown(f.name)}`,
    () => "rename one of them; until then neither runs, nor does what needs them",
  ),
} as const;

