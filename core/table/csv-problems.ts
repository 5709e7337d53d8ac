import { problemKind as kind, shown } from "../problem-kind";

/** What can be wrong with the bytes and the shape of delimited text. */
export const csvProblems = {
  "csv.encoding": kind(
    "error",
    (f: { found: string; byte: number }) => `this file is ${f.found} (at byte ${f.byte}), which cannot be read`,
    () => "save it as UTF-8, with or without a byte order mark",
  ),
  "csv.short-row": kind(
    "error",
    (f: { expected: number; got: number }) => `this row has ${f.got} values, the header ${f.expected}`,
    (f) => `a row has ${f.expected} values; leave a value empty to say that it is missing`,
  ),
} as const;

void shown;
