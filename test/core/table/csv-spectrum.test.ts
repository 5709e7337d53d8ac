import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { parse } from "csv-parse/sync";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fieldText } from "../../../core/table/delimited-text";
import { readDelimited } from "../../../core/table/read-csv";

const encodeUtf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

const spectrum = path.dirname(createRequire(import.meta.url).resolve("csv-spectrum"));

function rowsOf(bytes: Uint8Array): (string | null)[][] {
  const { value } = readDelimited(bytes, { delimiter: "," });
  return Array.from({ length: value.rowCount }, (_, row) => value.header.map((_, column) => fieldText(value, row, column)));
}

// The pair with a bare quote and lost characters is C-02; its JSON has another telephone number than its text.
const pairs = readdirSync(path.join(spectrum, "csvs")).filter((name) => name !== "location_coordinates.csv");

test.each(pairs)("C-01 %s reads as its paired JSON", (name) => {
  const { value, problems } = readDelimited(readFileSync(path.join(spectrum, "csvs", name)));
  const names = value.header.map((cell) => cell.name);
  const objects = rowsOf(readFileSync(path.join(spectrum, "csvs", name))).map((row) => Object.fromEntries(row.map((text, i) => [names[i]!, text])));
  const wanted: unknown = JSON.parse(readFileSync(path.join(spectrum, "json", name.replace(/csv$/, "json")), "utf8"));
  expect(objects).toEqual(wanted);
  expect(problems.filter((p) => p.severity !== "info")).toEqual([]);
});

test("C-02 the coordinates say what is wrong with them, and where", () => {
  const { problems } = readDelimited(readFileSync(path.join(spectrum, "csvs", "location_coordinates.csv")));
  // Two degree signs were lost before the file was published, and are not read as if they belonged there.
  expect(problems.map((p) => `${p.code} ${p.range.start.line}:${p.range.start.column}`)).toEqual([
    "csv.lost-char 2:14",
    "csv.bare-quote 2:22",
    "csv.lost-char 2:28",
  ]);
});

const text = fc.string({ unit: fc.constantFrom("a", "7", ",", '"', "\n", "\r", " ", "é", "🐦", ";", "\t", ".", "-"), maxLength: 6 });
const table = fc
  .integer({ min: 2, max: 4 })
  .chain((width) => fc.record({ width: fc.constant(width), rows: fc.array(fc.array(text, { minLength: width, maxLength: width }), { maxLength: 6 }) }));

function write(rows: readonly (readonly string[])[], end: string): string {
  const field = (value: string): string => (/[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value);
  return rows.map((row) => row.map(field).join(",") + end).join("");
}

test("C-31 what is written by the rules is read back, with any line end", () => {
  fc.assert(
    fc.property(table, fc.constantFrom("\n", "\r\n", "\r"), ({ width, rows }, end) => {
      const names = Array.from({ length: width }, (_, i) => `c${i}`);
      expect(rowsOf(encodeUtf8(write([names, ...rows], end)))).toEqual(rows);
    }),
    { seed: 31, numRuns: 500 },
  );
});

test("C-31 a strict reader of its own agrees wherever it accepts the text", () => {
  let accepted = 0;
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom("a", "b", ",", '"', "\n", "7"), maxLength: 24 }), (body) => {
      const input = `h,i\n${body}`;
      let wanted: string[][];
      try {
        wanted = parse(input, { skip_empty_lines: true, record_delimiter: ["\n"] }).slice(1);
      } catch {
        return;
      }
      accepted++;
      const { problems } = readDelimited(encodeUtf8(input), { delimiter: "," });
      expect(rowsOf(encodeUtf8(input))).toEqual(wanted);
      expect(problems.filter((p) => p.severity === "error")).toEqual([]);
    }),
    { seed: 310, numRuns: 3000 },
  );
  expect(accepted).toBeGreaterThan(300);
});

test("C-31 whatever the strict reader refuses has a problem here", () => {
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom("a", ",", '"', "\n", "7"), maxLength: 16 }), (body) => {
      const input = `h,i\n${body}`;
      let refused = false;
      try {
        parse(input, { skip_empty_lines: true, record_delimiter: ["\n"] });
      } catch {
        refused = true;
      }
      const { problems } = readDelimited(encodeUtf8(input), { delimiter: "," });
      // A row of nothing but delimiters is longer than the header and loses nothing: that is an info here.
      if (refused) expect(problems.filter((p) => p.code !== "csv.empty" && p.code !== "csv.blank-lines")).not.toEqual([]);
    }),
    { seed: 311, numRuns: 3000 },
  );
});

test("any bytes at all are read without an exception", () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 80 }), (bytes) => {
      const { value } = readDelimited(bytes);
      expect(value.starts.length).toBeGreaterThanOrEqual(value.rowCount * (value.header.length + 1));
      for (let row = 0; row < value.rowCount; row++) value.header.forEach((_, column) => fieldText(value, row, column));
    }),
    { seed: 19, numRuns: 2000 },
  );
});
