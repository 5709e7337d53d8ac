import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { ProblemCode } from "../../core/problem";
import { applyEdits } from "../../core/session/apply-edits";
import { lineTable } from "../../core/text-position";
import { mostYamlText, readYaml, type YamlNode } from "../../core/yaml-text";

type Plain = string | readonly Plain[] | { readonly [key: string]: Plain };

function plain(node: YamlNode | null): Plain | null {
  if (node === null) return null;
  if (node.kind === "scalar") return node.text;
  if (node.kind === "list") return node.items.map((item) => plain(item)!);
  return Object.fromEntries(node.entries.map((entry) => [entry.key, plain(entry.value)!]));
}

function checkValue(text: string, expected: Plain | null): void {
  const { value, problems } = readYaml(text);
  expect(problems.map((p) => p.code)).toEqual([]);
  expect(plain(value)).toEqual(expected);
}

function checkProblems(text: string, ...codes: ProblemCode[]): void {
  expect(readYaml(text).problems.map((p) => p.code)).toEqual(codes);
}

/** The text that the first problem's range covers. */
function checkSpot(text: string, spot: string): void {
  const [first] = readYaml(text).problems;
  expect(under(text, first!.range)).toBe(spot);
}

function under(text: string, range: YamlNode["range"]): string {
  const lines = lineTable(text);
  return text.slice(lines.offsetAt(range.start), lines.offsetAt(range.end));
}

/** Every range in the tree, in order, as the text it covers; keys before their values. */
function spots(text: string): readonly string[] {
  const found: string[] = [];
  const visit = (node: YamlNode): void => {
    if (node.kind === "scalar") found.push(under(text, node.range));
    else if (node.kind === "list") node.items.forEach(visit);
    else
      for (const { keyRange, value } of node.entries) {
        found.push(under(text, keyRange));
        visit(value);
      }
  };
  visit(readYaml(text).value!);
  return found;
}

test("a map, a list and scalars", () => checkValue("a: 1\nb: [x, 2]\nc:\n  - d: e\n", { a: "1", b: ["x", "2"], c: [{ d: "e" }] }));
test("an empty text has no value", () => checkValue("", null));
test("a comment alone has no value", () => checkValue("# nothing\n", null));
test("a lone scalar is a scalar", () => checkValue("word", "word"));
test("a value left out is an empty text", () => checkValue("a:\nb: {c, d: }\ne:\n  -\n  - f\n", { a: "", b: { c: "", d: "" }, e: ["", "f"] }));
test("quotes are resolved", () => checkValue(`a: "x\\ty"\nb: 'it''s'\n`, { a: "x\ty", b: "it's" }));
test("block scalars keep or fold their lines", () => checkValue("a: |\n  x\n  y\nb: >-\n  x\n  y\n", { a: "x\ny\n", b: "x y" }));
test("a leading --- and a closing ... are one document", () => checkValue("---\na: 1\n...\n", { a: "1" }));
test("a byte order mark is not part of a key", () => checkValue("\ufeffa: 1", { a: "1" }));
test("Y-06 CRLF and lone CR end lines", () => {
  checkValue("a: 1\r\nb: 2\r\n", { a: "1", b: "2" });
  checkValue("a: 1\rb: 2\r", { a: "1", b: "2" });
});
test("Y-05 scalars are text as written", () =>
  checkValue("a: no\nb: 012\nc: 1.20\nd: 2024-01-02\ne: ~\nf: null\ng: 0x1F\nh: 1_000\ni: .inf\n", {
    a: "no",
    b: "012",
    c: "1.20",
    d: "2024-01-02",
    e: "~",
    f: "null",
    g: "0x1F",
    h: "1_000",
    i: ".inf",
  }));
test("quoted is told from plain", () => {
  const { value } = readYaml(`[a, "a", 'a']`);
  expect(value?.kind === "list" && value.items.map((item) => item.kind === "scalar" && item.quoted)).toEqual([false, true, true]);
});

test("ranges cover keys and values", () => {
  expect(spots("a: one\nb:\n  - 'two'\n  - {c: \"d\"}\n")).toEqual(["a", "one", "b", "'two'", "c", '"d"']);
  expect(spots("a: one\r\nbb: two three # four\r\n")).toEqual(["a", "one", "bb", "two three"]);
  expect(spots("a: one\rbb: two\r")).toEqual(["a", "one", "bb", "two"]);
  expect(spots("a:\nb: x")).toEqual(["a", "", "b", "x"]);
});
test("the range of a block map ends with its last value", () => {
  const text = "a:\n  b: 1\n  c: 2\n\n# end\nd: 3\n";
  const { value } = readYaml(text);
  expect(value?.kind === "map" && under(text, value.entries[0]!.value.range)).toBe("b: 1\n  c: 2");
  expect(value !== null && under(text, value.range)).toBe("a:\n  b: 1\n  c: 2\n\n# end\nd: 3");
});
test("the range of a bracketed list has its brackets", () => {
  const text = "a: [1, 2 ] # x";
  const { value } = readYaml(text);
  expect(value?.kind === "map" && under(text, value.entries[0]!.value.range)).toBe("[1, 2 ]");
});

test("Y-01 aliases and anchors are refused", () => {
  checkProblems("a: &x 1\nb: *x\n", "yaml.anchor", "yaml.alias");
  checkSpot("a: 1\nb: *x\n", "*x");
  checkSpot("a: &x 1", "&x");
});
test("Y-01 an alias bomb is not expanded", () => {
  const lines = ["a0: &a0 [x, x]", ...Array.from({ length: 40 }, (_, i) => `a${i + 1}: &a${i + 1} [*a${i}, *a${i}]`)];
  const { value, problems } = readYaml(lines.join("\n"));
  expect(new Set(problems.map((p) => p.code))).toEqual(new Set(["yaml.anchor", "yaml.alias", "yaml.more"]));
  expect(value?.kind === "map" && plain(value.entries[1]!.value)).toEqual(["*a0", "*a0"]);
});
test("Y-02 merge keys are refused", () => {
  checkProblems("a: 1\n<<: {b: 2}\n", "yaml.merge");
  checkProblems("a: &x {b: 1}\nc:\n  <<: *x\n", "yaml.anchor", "yaml.merge", "yaml.alias");
});
test.each(["__proto__", "constructor", "prototype", "toString", '"__proto__"', '"\\u005f_proto__"'])("Y-02 the key %s is refused", (key) => {
  checkProblems(`${key}: {polluted: 1}\n`, "yaml.forbidden-name");
  checkProblems(`a: {${key}: 1}\n`, "yaml.forbidden-name");
  expect(({} as Record<string, unknown>)["polluted"]).toBeUndefined();
});
test("such a name is allowed as a value", () => checkValue("from: constructor\n", { from: "constructor" }));
test("Y-03 many merges and an ordered map are refused", () => {
  const codes = new Set(readYaml(Array.from({ length: 5000 }, (_, i) => `k${i}: {<<: *x}`).join("\n")).problems.map((p) => p.code));
  expect(codes).toEqual(new Set(["yaml.merge", "yaml.alias", "yaml.more"]));
  checkProblems("a: !!omap [b: 1]\n", "yaml.tag");
});
test("Y-04 tags are refused", () => {
  checkProblems("a: !!js/function 'x'\n", "yaml.tag");
  checkProblems("a: !local {b: 1}\n", "yaml.tag");
  checkProblems("a: !!str [b]\n", "yaml.tag");
  checkSpot("a: !!int 3", "!!int");
});
test("Y-06 a duplicate key names the line of the first, which is kept", () => {
  const { value, problems } = readYaml("a: 1\nb: 2\na: 3\n");
  expect(problems.map((p) => [p.code, p.range.start.line, p.facts])).toEqual([["yaml.duplicate-key", 3, { key: "a", line: 1 }]]);
  expect(plain(value)).toEqual({ a: "1", b: "2" });
});
test("Y-06 keys that differ by case are two keys", () => checkValue("a: 1\nA: 2", { a: "1", A: "2" }));
test("Y-06 tabs between tokens are refused, with a fix", () => {
  checkProblems("a:\n\tb: 1\n", "yaml.tab");
  checkProblems("a:\t1\n", "yaml.tab");
  expect(readYaml("a:\t1").problems[0]!.fix!.edits[0]!.text).toBe("  ");
  checkValue("a: 'x\ty' # a\tcomment\n", { a: "x\ty" });
});
test("several documents are refused and the first is read", () => {
  checkProblems("a: 1\n---\nb: 2\n", "yaml.several-documents");
  expect(plain(readYaml("a: 1\n---\nb: 2\n").value)).toEqual({ a: "1" });
});
test("directives are refused", () => {
  checkProblems("%YAML 1.1\n---\na: no\n", "yaml.directive");
  checkSpot("%TAG ! x\n---\na: 1\n", "%TAG ! x");
});
test("a key that is no name is refused", () => {
  checkProblems("? [a]\n: 1\n", "yaml.key");
  checkProblems("{a: 1}: 1\n", "yaml.key");
  checkProblems(": 1\n", "yaml.key");
});
test("broken syntax says where and why", () => {
  checkProblems("a: [1, 2\n", "yaml.syntax");
  checkProblems('a: "x\n', "yaml.syntax");
  checkProblems("a: 1\n   b: 2\n", "yaml.syntax");
  checkProblems("a: @x\n", "yaml.syntax");
  checkProblems('a: "\\q"\n', "yaml.syntax");
  checkSpot("a: @x\n", "@");
});
test.each([
  ["a: { b: c\nd: e\n", "{"],
  ["a:\n  - { b: c,\n      d: e\nf: g\n", "{"],
  ["a: [{ b: c }\n", "["],
  ["a: { b: [1, 2 }\nc: d\n", "["],
  ["a: 'b\nc: d\n", "'"],
  ['a: { b: "c }\n', '"'],
])("%j: the sign that is never closed is named where it stands, and nothing else", (text, sign) => {
  checkProblems(text, "yaml.syntax");
  checkSpot(text, sign);
  expect(readYaml(text).problems[0]!.message).toContain("never closed");
});
test("a value with a colon in it is one text with one problem, and what stands below it is read", () => {
  const text = "a: b: c: d # e\nf: [1]\ng:\n  h: i:\n  j: { k: l: m, n: o }\np: q\n";
  expect(plain(readYaml(text).value)).toEqual({ a: "b: c: d", f: ["1"], g: { h: "i:", j: { k: "l: m", n: "o" } }, p: "q" });
  const { problems } = readYaml(text);
  expect(problems.map(({ range }) => under(text, range))).toEqual(["b: c: d", "i:", "l: m"]);
  expect(plain(readYaml(applyEdits(text, problems.flatMap(({ fix }) => fix!.edits))).value)).toEqual(plain(readYaml(text).value));
});
test("a map that begins behind a key and goes on below it is none of its siblings", () => checkProblems("a: b: c\n   d: e\n", "yaml.syntax"));
test("what can be read of a broken text is read", () => {
  const { value } = readYaml("title: x\nshots: [a\n");
  expect(plain(value)).toEqual({ title: "x", shots: ["a"] });
});

test.each(["[", "{", "{a: ", "[[", "- ", "? ", "a:\n"])("Y-07 10 000 times %j is refused without overflow", (unit) => {
  const text = unit.endsWith("\n") ? Array.from({ length: 700 }, (_, i) => `${" ".repeat(i)}a:`).join("\n") : unit.repeat(10_000);
  checkProblems(text, "yaml.too-deep");
  expect(readYaml(text).value).toBeNull();
});
test("90 levels are read", () => checkValue(`${"[".repeat(90)}x${"]".repeat(90)}`, nested(90)));

function nested(depth: number): Plain {
  return depth === 0 ? "x" : [nested(depth - 1)];
}

test("a text beyond the limit is not read", () => checkProblems("a".repeat(mostYamlText + 1), "yaml.too-long"));
test("problems are cut with the true total", () => {
  const { problems } = readYaml("%a b\n".repeat(3000));
  expect(problems).toHaveLength(101);
  expect(problems.at(-1)!.facts).toEqual({ total: 3000, listed: 100 });
});
test.each(["&a ", "!t ", "*a ", "- &a\n", "---\n", "...\n", "%a b\n", "?\n", ": ", ",", "#\n", "\n", "a: |\n", "''", '"', "x: {y: [", "\t"])(
  "a long run of %j is read or refused",
  (unit) => {
    const { problems } = readYaml(unit.repeat(Math.floor(60_000 / unit.length)));
    expect(problems.length).toBeLessThanOrEqual(101);
  },
);

test("any text gives a value and problems with ranges inside it", () => {
  const pieces = fc.constantFrom("a", ":", " ", "\n", "\r", "- ", "[", "]", "{", "}", ",", "'", '"', "#", "|", ">", "&x", "*x", "!t", "\t", "---", "<<", "?", "%", "\u2028", "😀");
  fc.assert(
    fc.property(fc.array(pieces, { maxLength: 40 }), (parts) => {
      const text = parts.join("");
      const lines = lineTable(text);
      for (const { range } of readYaml(text).problems) {
        expect(lines.positionAt(lines.offsetAt(range.start))).toEqual(range.start);
        expect(lines.offsetAt(range.end)).toBeGreaterThanOrEqual(lines.offsetAt(range.start));
      }
    }),
    { seed: 7, numRuns: 1500 },
  );
});
test("maps of plain words read back", () => {
  const word = fc.stringMatching(/^[a-z]{1,6}$/);
  fc.assert(
    fc.property(fc.uniqueArray(fc.tuple(word, word), { selector: ([key]) => key, minLength: 1 }), (pairs) => {
      const text = pairs.map(([key, value]) => `${key}: ${value}`).join("\n");
      expect(plain(readYaml(text).value)).toEqual(Object.fromEntries(pairs));
    }),
    { seed: 7, numRuns: 200 },
  );
});
