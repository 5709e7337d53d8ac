import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Table } from "../../../core/table/table";
import { load, places, values } from "./load-check";

const columns = (long: Readonly<Record<string, string>> = {}): string =>
  [
    ["ball_speed", "Ball speed", "mph"],
    ["club_speed", "Club speed", "mph"],
    ["launch_angle", "Launch", "deg"],
    ["start_direction", "Start", "deg", "right"],
    ["spin_rate", "Spin", "rpm"],
    ["spin_axis", "Axis", "deg", "right"],
    ["carry", "Carry", "yd"],
    ["offline", "Side", "yd", "right"],
    ["strike_x", "Face X", "mm", "toe"],
    ["strike_y", "Face Y", "mm", "high"],
  ]
    .map(([column, header, unit, positive]) => `  ${column}: { from: ${header}, unit: ${unit}${long[column!] ?? (positive === undefined ? "" : `, positive: ${positive}`)} }\n`)
    .join("");

const heads = "heads:\n  Wren: { kind: iron, strike_reference: { x: 0 mm, y: -9 mm } }\n  Heron: { kind: iron, strike_reference: { x: 0 mm, y: -9 mm } }\n";

function session(sources: string, long?: Readonly<Record<string, string>>, more = ""): string {
  return `session: s\nsources: ${sources}\ncolumns:\n  shot: "No"\n  head: Club\n${columns(long)}${heads}${more}`;
}

function loadFiles(text: string, ...files: readonly string[]): { table: Table; said: readonly string[] } {
  const { table, problems } = load(text, Object.fromEntries(files.map((file) => [file, new Uint8Array(readFileSync(new URL(`../../data/csv/${file}`, import.meta.url)))])));
  expect(places(problems)).toEqual([]);
  return { table, said: places(problems, true) };
}

const plain = loadFiles(session("plain.csv"), "plain.csv").table;

function checkSame(table: Table): void {
  const cells = (of: Table) => Object.fromEntries(of.columns.filter((column) => column.name !== "No").map((column) => [column.name, values(of, column.name)]));
  expect(cells(table)).toEqual(cells(plain));
}

test("the plain export reads as its shots are written here", () => {
  expect(values(plain, "head")).toEqual(["Wren", "Wren", "Heron", "Heron"]);
  expect(values(plain, "club_speed")).toEqual([87, 87.25, null, 86.5]);
  expect(values(plain, "spin_rate")).toEqual([6543, 5980, 1012.5, 6000]);
  expect(values(plain, "offline")).toEqual([-12.3, 4, 0, 8.5]);
  expect(values(plain, "strike_y")).toEqual([-3, 0, 0.75, 3]);
  expect(values(plain, "zone")).toEqual(["low", "centre", "centre", "high"]);
});

test("semicolons, decimal commas, grouped thousands, U+2212, CRLF and a byte order mark", () => {
  const { table, said } = loadFiles(session("semicolon.csv"), "semicolon.csv");
  checkSame(table);
  expect(said).toEqual(["csv.delimiter semicolon.csv 1:1", "csv.decimal-comma semicolon.csv 2:8"]);
});

test("tabs, a row of units, averages at the end, a word for missing, newest first", () => {
  const { table, said } = loadFiles(session("tabs.tsv", {}, "missing: [n/a]\n"), "tabs.tsv");
  checkSame(table);
  expect(said).toEqual(["csv.delimiter tabs.tsv 1:1", "csv.units-row tabs.tsv 2:1", "csv.summary-row tabs.tsv 7:1", "csv.summary-row tabs.tsv 8:1", "csv.blank-lines tabs.tsv 9:1"]);
});

test("sides and units behind numbers, everything in quotes, CR", () => {
  const sides = { start_direction: ", sides: L/R", spin_axis: ", sides: L/R", offline: ", sides: L/R", strike_x: ", sides: T/H", strike_y: ", sides: H/L" };
  checkSame(loadFiles(session("sides.csv", sides), "sides.csv").table);
});

test("one head a file, numbered from 1 each, lines before the header, other order of columns", () => {
  const sources = "[{ file: one-head-wren.csv, head: Wren, skip_lines: 2 }, { file: one-head-heron.csv, head: Heron, skip_lines: 2 }]";
  const { table } = loadFiles(session(sources), "one-head-wren.csv", "one-head-heron.csv");
  checkSame(table);
  expect(values(table, "No")).toEqual([1, 2, 1, 2]);
});
