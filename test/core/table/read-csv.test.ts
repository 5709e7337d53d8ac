import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import type { Problem } from "../../../core/problem";
import { fieldRange, fieldText } from "../../../core/table/delimited-text";
import { delimitedReader, readDelimited } from "../../../core/table/read-csv";
import type { ReadOptions } from "../../../core/table/read-options";

const encodeUtf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

function read(input: string | Uint8Array, options: ReadOptions = {}) {
  const { value, problems } = readDelimited(typeof input === "string" ? encodeUtf8(input) : input, options);
  const rows = Array.from({ length: value.rowCount }, (_, row) => value.header.map((_, column) => fieldText(value, row, column)));
  return { value, problems, names: value.header.map((cell) => cell.name), rows };
}

function place(problem: Problem): string {
  return `${problem.code} ${problem.range.start.line}:${problem.range.start.column}`;
}

function checkRows(input: string | Uint8Array, names: readonly string[], rows: readonly (readonly (string | null)[])[], options?: ReadOptions): void {
  const got = read(input, options);
  expect(got.names).toEqual(names);
  expect(got.rows).toEqual(rows);
}

function checkProblems(input: string | Uint8Array, expected: readonly string[], options?: ReadOptions): void {
  expect(read(input, options).problems.map(place)).toEqual(expected);
}

function bytes(...parts: readonly (string | readonly number[])[]): Uint8Array {
  return Uint8Array.from(parts.flatMap((part) => (typeof part === "string" ? [...encodeUtf8(part)] : [...part])));
}

test("C-02 bytes that are not UTF-8 are reported with their offset and never replaced", () => {
  const input = bytes("a,b\n1,5", [0xb0], '10"\n2,x\n');
  checkProblems(input, ["csv.encoding 2:4", "csv.bare-quote 2:7"]);
  checkRows(input, ["a", "b"], [["1", null], ["2", "x"]]);
  expect(read(input).problems[0]!.facts).toMatchObject({ byte: 7, count: 1 });
});

test("C-03 a short row is an error, and what it lacks is empty", () => {
  checkProblems("a,b\n1\n", ["csv.short-row 2:1"]);
  checkRows("a,b\n1\n2,3", ["a", "b"], [["1", ""], ["2", "3"]]);
  expect(read("a,b\n1\n").problems[0]!.message).toBe("this row has 1 values, the header 2");
});

test("C-03 a declared policy makes short rows a matter of record", () => {
  checkProblems("a,b\n1\n2\n", ["csv.rows-filled 2:1"], { shortRows: "missing" });
  expect(read("a,b\n1\n2\n", { shortRows: "missing" }).problems[0]!.facts).toEqual({ count: 2 });
});

test("C-04 a long row is an error that shows what belongs nowhere", () => {
  checkProblems("a,b\n1,2,3,4\n", ["csv.long-row 2:5"]);
  expect(read("a,b\n1,2,3,4\n").problems[0]!.message).toContain('"3,4"');
});

test("a row that ends in a delimiter loses nothing, and that is said", () => {
  checkProblems("a,b\n1,2,\n3,4,\n", ["csv.trailing-delimiter 2:1"]);
  checkRows("a,b\n1,2,\n", ["a", "b"], [["1", "2"]]);
});

test("C-05 duplicate header", () => {
  checkProblems("a,a\n1,2", ["csv.duplicate-header 1:3"]);
  checkRows("a,a\n1,2", ["a", "a (2)"], [["1", "2"]]);
  expect(read("a,a\n1,2").problems[0]!.message).toContain("columns 1 and 2");
  checkProblems("a,a\n1,2", [], { duplicateHeaders: "number" });
  checkRows("a,a (2),a\n1,2,3", ["a", "a (2)", "a (3)"], [["1", "2", "3"]]);
});

test("C-06 empty header names get a name, and a corrected copy would have it", () => {
  checkProblems("a,,b\n1,2,3", ["csv.empty-header 1:3"]);
  checkProblems("a,b,\n1,2,", ["csv.empty-header 1:5"]);
  checkRows("a,,b\n1,2,3", ["a", "column 2", "b"], [["1", "2", "3"]]);
  expect(read("a,,b\n1,2,3").problems[0]!.mends![0]!.text).toBe("column 2");
});

test("C-07 a byte order mark is no part of the first name, and is remembered", () => {
  checkRows(bytes([0xef, 0xbb, 0xbf], "a,b\n1,2"), ["a", "b"], [["1", "2"]]);
  expect(read(bytes([0xef, 0xbb, 0xbf], "a,b\n1,2")).value.mark).toBe(true);
  expect(read("a,b").value.mark).toBe(false);
});

test("C-08 a mark further in is data, with a warning", () => {
  checkProblems(bytes([0xef, 0xbb, 0xbf, 0xef, 0xbb, 0xbf], "a,b\n1,2"), ["csv.invisible-char 1:1"]);
  checkProblems("a,b\n1,\ufeff2", ["csv.invisible-char 2:3"]);
  checkRows("a,b\n1,\ufeff2", ["a", "b"], [["1", "\ufeff2"]]);
});

test("C-09 UTF-16 is refused by name", () => {
  const wide = (text: string): number[] => text.split("").flatMap((c) => [c.charCodeAt(0), 0]);
  for (const input of [bytes([0xff, 0xfe], wide("a,b\n1,2")), bytes([0xfe, 0xff, 0], wide("a,b\n1,2")), bytes(wide("a,b\n1,2\n3,4"))]) {
    const got = read(input);
    expect(got.problems.map((p) => p.code)).toEqual(["csv.encoding"]);
    expect(got.problems[0]!.message).toContain("UTF-16");
    expect(got.names).toEqual([]);
  }
});

test("a spreadsheet is refused by name", () => {
  checkProblems(bytes([0x50, 0x4b, 0x03, 0x04, 1, 2]), ["csv.encoding 1:1"]);
});

test("C-10 invalid bytes are found at the exact byte", () => {
  const got = read(bytes([0x61, 0x2c, 0xff, 0xfe]));
  expect(got.problems.find((p) => p.code === "csv.encoding")!.facts).toMatchObject({ byte: 2, count: 2 });
});

test("C-11 a quote that is never closed is reported where it opens, and swallows nothing", () => {
  checkProblems('a,b\n"x,1\n2,3', ["csv.unclosed-quote 2:1"]);
  checkRows('a,b\n"x,1\n2,3', ["a", "b"], [['"x', "1"], ["2", "3"]]);
  checkProblems('a,b\n"x,1\n2,"y"\n3,4', ["csv.unclosed-quote 2:1"]);
  checkRows('a,b\n"x,1\n2,"y"\n3,4', ["a", "b"], [['"x', "1"], ["2", "y"], ["3", "4"]]);
});

test("C-12 much text after an open quote is read once more and not oftener", () => {
  const line = '2,""\n';
  const got = readDelimited(encodeUtf8('a,b\n"x,1\n' + line.repeat(200_000)));
  expect(got.problems.map(place)).toEqual(["csv.unclosed-quote 2:1"]);
  expect(got.value.rowCount).toBe(200_001);
});

test("C-13 text after a closing quote", () => {
  checkProblems('a,b\n1,"x"y\n', ["csv.text-after-quote 2:6"]);
  checkRows('a,b\n1,"x"y\n', ["a", "b"], [["1", '"x"y']]);
});

test("C-14 a bare quote is kept, with a warning", () => {
  checkProblems('a,b\n1,x"y\n', ["csv.bare-quote 2:4"]);
  checkRows('a,b\n1,x"y"z\n', ["a", "b"], [["1", 'x"y"z']]);
});

test("C-15 a space before a quote is data, and a corrected copy would not have it", () => {
  const got = read('a,b\n"a", "b"\n');
  expect(got.problems.map(place)).toEqual(["csv.bare-quote 2:6"]);
  expect(got.rows).toEqual([["a", ' "b"']]);
  expect(got.problems[0]!.mends).toEqual([{ range: { start: { line: 2, column: 5 }, end: { line: 2, column: 9 } }, text: '"b"' }]);
});

test("C-16 any line end, mixed and missing", () => {
  for (const end of ["\n", "\r\n", "\r"] as const) {
    checkRows(`a,b${end}1,2${end}3,4`, ["a", "b"], [["1", "2"], ["3", "4"]]);
    checkRows(`a,b${end}1,2${end}3,4${end}`, ["a", "b"], [["1", "2"], ["3", "4"]]);
    expect(read(`a,b${end}1,2${end}`).value.lineEnd).toBe(end);
  }
  checkRows("a,b\r\n1,2\n3,4\r5,6", ["a", "b"], [["1", "2"], ["3", "4"], ["5", "6"]]);
  checkProblems("a,b\r\n1,2\n3,4\r5,6", ["csv.mixed-eol 1:1"]);
  expect(read("a,b\r\n1,2\n3,4\r5,6").value.lineEnd).toBe("mixed");
});

test("C-17 line ends in quotes are kept byte for byte, and later lines still have their numbers", () => {
  const input = 'a,b\n1,"x\r\ny\nz\rw"\n2\n';
  checkRows(input, ["a", "b"], [["1", "x\r\ny\nz\rw"], ["2", ""]]);
  checkProblems(input, ["csv.short-row 6:1"]);
  const { value } = read('a,b\n"x\ny",2\n3,4');
  expect(fieldRange(value, 0, 1).start).toEqual({ line: 3, column: 4 });
  expect(fieldRange(value, 1, 1)).toEqual({ start: { line: 4, column: 3 }, end: { line: 4, column: 4 } });
});

test("columns count UTF-16 units", () => {
  const { value } = read("a,b\n🐦é,4");
  expect(fieldRange(value, 0, 1).start).toEqual({ line: 2, column: 5 });
});

test("C-18 blank lines are left out, and that is said once", () => {
  checkRows("\na,b\n\n1,2\n \t\n3,4\n\n", ["a", "b"], [["1", "2"], ["3", "4"]], { delimiter: "," });
  checkProblems("a,b\n\n1,2\n  \n3,4\n\n", ["csv.blank-lines 2:1"]);
  expect(read("a,b\n\n1,2\n  \n3,4\n\n").problems[0]!.facts).toEqual({ count: 3 });
});

test("C-18 with a single column a blank line is an empty value", () => {
  checkRows("a\n1\n\n2\n", ["a"], [["1"], [""], ["2"]]);
  checkProblems("a\n1\n\n2\n", []);
});

test("C-19 nothing to read", () => {
  checkProblems("", ["csv.empty 1:1"]);
  checkProblems(bytes([0xef, 0xbb, 0xbf]), ["csv.empty 1:1"]);
  checkProblems("\n", ["csv.blank-lines 1:1", "csv.empty 1:1"]);
  checkProblems("a,b", ["csv.empty 1:1"]);
  checkRows("a,b\n", ["a", "b"], []);
});

test("C-20, C-21 odd names are names", () => {
  const odd = ["__proto__", "constructor", "toString", "hasOwnProperty", "length", "a.__proto__.x"];
  checkRows(`${odd.join(",")}\n1,2,3,4,5,6`, odd, [["1", "2", "3", "4", "5", "6"]]);
  checkProblems(`${odd.join(",")}\n1,2,3,4,5,6`, []);
  expect(Object.hasOwn(Object.prototype, "x")).toBe(false);
});

test("C-22 names that are easily confused are distinct, with a warning", () => {
  checkRows("Carry, carry ,carry\u00a0\n1,2,3", ["Carry", " carry ", "carry\u00a0"], [["1", "2", "3"]]);
  checkProblems("Carry, carry ,carry\u00a0\n1,2,3", ["csv.confusable-header 1:7", "csv.confusable-header 1:15"]);
  checkProblems("\u00e9,e\u0301\n1,2", ["csv.confusable-header 1:3"]);
});

test("C-23 invisible characters in a name are shown escaped, and a corrected copy would not have them", () => {
  const got = read("ca\u200brry,b\u202e\n1,2");
  expect(got.problems.map(place)).toEqual(["csv.invisible-char 1:3", "csv.invisible-char 1:9"]);
  expect(got.problems[0]!.message).toContain("U+200B");
  expect(got.problems[0]!.mends).toEqual([{ range: { start: { line: 1, column: 3 }, end: { line: 1, column: 4 } }, text: "" }]);
});

test("C-24 control characters are kept and flagged", () => {
  checkProblems("a,b\n1,x\0y\n2,\x1b[0m\x7f", ["csv.control-char 2:4", "csv.control-char 3:3", "csv.control-char 3:7"]);
  checkRows("a,b\n1,x\0y", ["a", "b"], [["1", "x\0y"]]);
});

test("C-25 another delimiter and a decimal comma are found and said", () => {
  const got = read("a;b\n1,5;2\n3,25;4\n");
  expect(got.rows).toEqual([["1,5", "2"], ["3,25", "4"]]);
  expect(got.value).toMatchObject({ delimiter: ";", decimal: ",", decimalKnown: true });
  expect(got.problems.map(place)).toEqual(["csv.delimiter 1:1", "csv.decimal-comma 2:1"]);
  checkProblems("a\tb\n1.5\t2\n", ["csv.delimiter 1:1"]);
  checkProblems("a;b\n1,5;2\n", [], { delimiter: ";", decimal: "," });
  expect(read('a,b\n"1,5",x\n').value).toMatchObject({ delimiter: ",", decimal: "," });
});

test("C-25 what may be either mark tells nothing", () => {
  expect(read("a;b\n1,234;2\n").value).toMatchObject({ decimal: ".", decimalKnown: false });
  expect(read('a,b\n"1,234",2.5\n').value).toMatchObject({ decimal: ".", decimalKnown: true });
  expect(read("a;b\n1,5;2.5\n").value).toMatchObject({ decimal: ".", decimalKnown: true });
  expect(read("a;b\n1.234,5;x\n").value).toMatchObject({ decimal: "," });
  expect(read("a;b\n14.03.2026;12:30\n").value).toMatchObject({ decimal: ".", decimalKnown: false });
});

test("C-26 limits name themselves", () => {
  const wide = read(`${Array.from({ length: 1000 }, (_, i) => `c${i}`).join(",")}\n`);
  expect(wide.problems.map(place)).toContain("csv.limit 1:1");
  expect(wide.problems[0]!.message).toContain("500 columns");
  const long = read(`a,b\n1,${"x".repeat(70_000)}\n2,3\n`);
  expect(long.problems.map(place)).toEqual(["csv.limit 2:3"]);
  expect(long.problems[0]!.hint).toContain("cellText");
  const big = read("a,b\n1,2\n3,4\n", { limits: { ...defaultLimits, fileBytes: 8 } });
  expect(big.problems.map((p) => p.code)).toContain("csv.limit");
});

test("C-27 rows beyond the limit are not read, and a million blank lines are one remark", () => {
  const got = read("a,b\n1,2\n3,4\n5,6\n7,8\n", { limits: { ...defaultLimits, rows: 2 } });
  expect(got.problems.map(place)).toEqual(["csv.limit 4:1"]);
  expect(got.rows).toHaveLength(2);
  checkProblems(`a,b\n1,2\n${"\n".repeat(1_000_000)}`, ["csv.blank-lines 3:1"]);
});

test("C-28 where the bytes are cut makes no difference", () => {
  const input = bytes(
    [0xef, 0xbb, 0xbf],
    'a;b;"c ""d"""\r\n1,5;"x\r\ny;\n";é🐦\n\r\n2;3\r"q;4\n5;6;7;8\n9;"r"s;0\r\n\n10;x"y;\0\u200b\n',
    [0xff],
    ";2;3",
  );
  const whole = readDelimited(input);
  for (let at = 0; at <= input.length; at++) {
    const reader = delimitedReader();
    reader.push(input.subarray(0, at));
    reader.push(input.subarray(at));
    expect(reader.end()).toEqual({ value: { ...whole.value, bytes: expect.anything() }, problems: whole.problems });
  }
  const single = delimitedReader();
  for (const byte of input) single.push(Uint8Array.of(byte));
  const got = single.end();
  expect(got.problems).toEqual(whole.problems);
  expect([...got.value.bytes]).toEqual([...input]);
  expect(got.value.starts).toEqual(whole.value.starts);
});

test("C-28 chunks are never written to", () => {
  const first = encodeUtf8("a,b\n1,");
  const reader = delimitedReader();
  reader.push(first.subarray(0, 3));
  reader.push(encodeUtf8("XYZ"));
  reader.end();
  expect(first).toEqual(encodeUtf8("a,b\n1,"));
});

test("C-28 files longer than the sample do not depend on their chunks either", () => {
  const input = encodeUtf8("a;b\n" + "1;22\n".repeat(20_000) + "1,5;3\n");
  const whole = readDelimited(input);
  for (const at of [1, 65_535, 65_536, 65_537, 90_000]) {
    const reader = delimitedReader();
    reader.push(input.subarray(0, at));
    reader.push(input.subarray(at));
    expect(reader.end().problems).toEqual(whole.problems);
  }
  expect(whole.value).toMatchObject({ delimiter: ";", rowCount: 20_001, decimal: ".", decimalKnown: false });
});

test("C-29 comment lines are not skipped unless lines are", () => {
  checkRows("#made today\na,b\n1,2", ["#made today"], [["a,b"], ["1,2"]], { delimiter: ";" });
  checkRows("#made today\na,b\n1,2", ["a", "b"], [["1", "2"]], { skipLines: 1 });
  expect(fieldRange(read("#x\r\n#y\na,b\n1,2", { skipLines: 2 }).value, 0, 0).start).toEqual({ line: 4, column: 1 });
});

test("C-29 lines above the header are one error, which names the answer", () => {
  const rows = "No,Club,Carry\n1,Wren,150.5\n2,Wren,151\n3,Heron,152\n";
  for (const [above, count] of [["# exported by x\n", 1], ["Session,12\n\n# made today\n", 3], ["\ufeffReport\n", 1]] as const) {
    const got = read(above + rows);
    expect(got.problems.map(place), above).toEqual(["csv.lines-above-header 1:1"]);
    expect(got.problems[0]!.hint).toContain(`skip_lines: ${count} `);
    expect(got.names).toEqual([]);
    checkRows(above + rows, ["No", "Club", "Carry"], [["1", "Wren", "150.5"], ["2", "Wren", "151"], ["3", "Heron", "152"]], { skipLines: count });
  }
  expect(read(`# exported by x\n${rows.replaceAll(",", ";")}`).problems.map(place)).toEqual(["csv.lines-above-header 1:1"]);
  checkProblems("a,b\n1,2,3\n4,5,6\n", ["csv.bare-decimal-commas 2:5"]);
});

test("values separated by bars are read, and that is said", () => {
  checkRows("a|b\n1,5|2\n", ["a", "b"], [["1,5", "2"]]);
  checkProblems("a|b\n1|2\n", ["csv.delimiter 1:1"]);
});

test("V-15 of very many problems so many are listed, with the true total", () => {
  const got = read("a,b\n" + "1\n".repeat(100_000));
  expect(got.problems).toHaveLength(101);
  expect(got.problems.at(-1)!.facts).toEqual({ of: "csv.short-row", total: 100_000, listed: 100 });
  expect(got.problems.slice(0, 3).map(place)).toEqual(["csv.short-row 2:1", "csv.short-row 3:1", "csv.short-row 4:1"]);
});
