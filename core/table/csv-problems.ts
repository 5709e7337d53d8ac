import { oneOf, problemKind as kind, quoted, shown } from "../problem-kind";

const limitNames: Readonly<Record<string, string>> = {
  fileBytes: "bytes in a file",
  rows: "rows in a file",
  columns: "columns in a file",
  cellText: "characters in a field",
};

/** What can be wrong with the bytes and the shape of delimited text, and what is worth saying about it. */
export const csvProblems = {
  "csv.encoding": kind(
    "error",
    (f: { found: string; byte: number; count?: number }) =>
      `this file is ${f.found} (at byte ${f.byte}${f.count !== undefined && f.count > 1 ? `, the first of ${f.count}` : ""}), which cannot be read`,
    () => "save it as UTF-8, with or without a byte order mark",
  ),
  "csv.empty": kind(
    "warning",
    (f: { header: boolean }) => (f.header ? "there is a header and no row below it" : "there is nothing in this file"),
    () => "the first line names the columns, and each further line is a shot",
  ),
  "csv.limit": kind(
    "error",
    (f: { limit: string; most: number; got?: number }) =>
      `more than ${f.most} ${limitNames[f.limit] ?? f.limit}${f.got === undefined ? "" : ` (${f.got})`}; ${f.limit === "cellText" ? "the field is missing" : "what is beyond is not read"}`,
    (f) =>
      f.limit === "cellText"
        ? "the limit cellText is fixed; no reading is as long: is a quote open, or a delimiter or a line end missing?"
        : `the limit ${f.limit} is fixed: export less at a time`,
  ),
  "csv.short-row": kind(
    "error",
    (f: { expected: number; got: number }) => `this row has ${f.got} values, the header ${f.expected}`,
    (f) => `a row has ${f.expected} values; write "short_rows: missing" beside the file in the session to read the rest as missing`,
  ),
  "csv.rows-filled": kind(
    "info",
    (f: { count: number }) => `${f.count} rows are shorter than the header; what they lack is missing`,
    () => "the session says short_rows: missing",
  ),
  "csv.long-row": kind(
    "error",
    (f: { expected: number; got: number; extra: string }) =>
      `this row has ${f.got} values, the header ${f.expected}: ${shown(f.extra)} belongs to no column; nothing tells which value is whose, and its readings are missing`,
    (f) => `a row has ${f.expected} values; a value with the delimiter in it stands in quotes`,
  ),
  "csv.bare-decimal-commas": kind(
    "error",
    (f: { rows: number; total: number }) =>
      `${f.rows} of ${f.total} rows have more values than the header: this looks like numbers with a decimal comma, with commas between the values too; their readings are missing`,
    () => "export again with semicolons or tabs between the values, or with every number in quotes, or with decimal points",
  ),
  "csv.lines-above-header": kind(
    "error",
    (f: { count: number; first: number; header: number }) =>
      `the first line has ${f.first === 1 ? "1 value" : `${f.first} values`}, most lines have ${f.header}: line ${f.count + 1} looks like the header; nothing is read`,
    (f) => `write skip_lines: ${f.count} beside the file in the session`,
  ),
  "csv.trailing-delimiter": kind(
    "info",
    (f: { count: number }) => `${f.count} rows end in delimiters beyond the header, with nothing behind them`,
    () => "nothing is lost; the row ends where the header does",
  ),
  "csv.duplicate-header": kind(
    "error",
    (f: { name: string; first: number; second: number; instead: string }) =>
      `columns ${f.first} and ${f.second} are both called ${shown(f.name)}; the second is read as ${shown(f.instead)}`,
    () => 'column names differ; write "duplicate_headers: number" beside the file in the session to read them numbered',
  ),
  "csv.empty-header": kind(
    "warning",
    (f: { column: number; instead: string }) => `column ${f.column} has no name; it is read as ${shown(f.instead)}`,
    () => "every column has a name, and the header does not end in a delimiter",
  ),
  "csv.confusable-header": kind(
    "warning",
    (f: { name: string; other: string }) => `the column name ${shown(f.name)} is easily taken for ${shown(f.other)} and is not the same`,
    (f) => `names are compared character by character; the session may map ${shown(f.name)} by name`,
  ),
  "csv.invisible-char": kind(
    "warning",
    (f: { character: string }) => `there is an invisible character here, ${f.character}; it is kept`,
    () => "nobody can see it, and it makes two texts differ that look alike",
  ),
  "csv.control-char": kind(
    "warning",
    (f: { character: string }) => `there is a control character here, ${f.character}; it is kept`,
    () => "text has no control characters but tab and line ends",
  ),
  "csv.lost-char": kind(
    "warning",
    (f: { character: string }) => `here stands ${f.character}: a program before this one could not read the character that stood here`,
    () => "export the file again as UTF-8 if the text matters; the character cannot be brought back",
  ),
  "csv.unclosed-quote": kind(
    "error",
    (f: { field: string }) => `the quote that opens ${shown(f.field)} is never closed; it is read as part of the text`,
    () => "a field in quotes ends with a quote right before the delimiter or the line end",
  ),
  "csv.text-after-quote": kind(
    "error",
    (f: { found: string }) => `after the closing quote there is ${shown(f.found)}; the field is read as it stands, quotes and all`,
    () => "a field is in quotes as a whole or not at all; a quote inside is written twice",
  ),
  "csv.bare-quote": kind(
    "warning",
    (f: { field: string }) => `there is a quote inside ${shown(f.field)}, which is not in quotes itself; it is kept`,
    () => "a field with a quote in it is in quotes as a whole, and the quote inside is written twice",
  ),
  "csv.mixed-eol": kind(
    "info",
    (f: { kinds: readonly string[] }) => `lines end in ${f.kinds.join(" and ")}`,
    () => "each of them ends a line here; other programs may see lines differently",
  ),
  "csv.blank-lines": kind(
    "info",
    (f: { count: number }) => `${f.count} blank ${f.count === 1 ? "line is" : "lines are"} left out, the first here`,
    () => "a blank line is no shot",
  ),
  "csv.blank-rows": kind(
    "info",
    (f: { count: number }) => `${f.count} ${f.count === 1 ? "row has" : "rows have"} no value at all and ${f.count === 1 ? "is" : "are"} left out, the first here`,
    () => "a row without values is no shot",
  ),
  "csv.delimiter": kind(
    "info",
    (f: { delimiter: string }) => `values are separated by ${f.delimiter}`,
    () => "told from the first lines; the session may say it: delimiter beside the file",
  ),
  "csv.decimal-comma": kind(
    "info",
    (f: { example: string }) => `numbers have a decimal comma, as in ${shown(f.example)}`,
    () => 'told from the first lines; the session may say it: decimal: "," beside the file',
  ),
  "csv.units-row": kind(
    "info",
    (f: { units: readonly string[]; unknown: readonly string[] }) =>
      `this row holds units (${oneOf(f.units)}) and is no shot${f.unknown.length === 0 ? "" : `; ${oneOf(f.unknown.map(shown))} is no unit that is known here`}`,
    () => "the units are checked against the session's columns; if the row is a shot, write units_row: false beside the file in the session",
  ),
  "csv.summary-or-shot": kind(
    "warning",
    (f: { word: string; column: string }) => `this row may be a summary or a shot that ${shown(f.column)} calls ${shown(f.word)}; it is left out`,
    () => "a row with a whole number in the column mapped as shot is a shot; so is one with a known head where the column has other words too",
  ),
  "csv.no-shot-number": kind(
    "warning",
    (f: { word: string }) => `this row has ${shown(f.word)} for its shot number and no head that is known; it is taken for no shot and is left out`,
    (f) => (quoted(f.word) === null ? "a shot has a number" : `a shot has a number; if ${shown(f.word)} says that it is missing, list it: missing: [${quoted(f.word)!}]`),
  ),
  "csv.summary-row": kind(
    "info",
    (f: { word: string }) => `this row holds a summary (${shown(f.word)}), not a shot, and is left out`,
    () => "averages and the like are computed from the shots",
  ),
  "csv.checked-in-part": kind(
    "info",
    (f: { lines: number; read: string; of: string }) => f.lines === 0
        ? `only the first ${f.read} MB of ${f.of} MB of this file are looked at here, and no line ends in them`
        : `only the beginning of this file is checked here: lines 1 to ${f.lines}, ${f.read} MB of ${f.of} MB`,
    () => "fairstrike check reads the whole file, and so does every run",
  ),
  "csv.more-problems": kind(
    "info",
    (f: { of: string; total: number; listed: number }) => `${f.total} problems of the kind ${f.of} in all; the first ${f.listed} are listed`,
    () => "mend the first ones and look again",
  ),
} as const;
