import { expect, test } from "vitest";
import { endOf, readLoosely, type LooseNode } from "../../../server/language/session-text";

/** The tree as plain values: a key without a colon is `key: undefined`, a value that is missing `null`. */
function plain(node: LooseNode | null): unknown {
  if (node === null) return null;
  if (node.kind === "scalar") return node.text;
  if (node.kind === "list") return node.items.map(plain);
  return Object.fromEntries(node.entries.map(({ key, hasColon, value }) => [key.text, hasColon ? plain(value) : undefined]));
}

function check(text: string, expected: unknown): void {
  const tree = readLoosely(text);
  expect(plain(tree), text).toEqual(expected);
  if (tree !== null) expect(endOf(tree)).toBeLessThanOrEqual(text.length);
}

test("maps and lists in lines and between brackets", () => {
  check("a: 1\nb:\n  c: x y # z\n  d: [1, 2]\ne:\n  - f: 1\n    g: 2\n  - { h: 3 }\n", { a: "1", b: { c: "x y", d: ["1", "2"] }, e: [{ f: "1", g: "2" }, { h: "3" }] });
  check("a:\n- 1\n- 2\nb: 3\n", { a: ["1", "2"], b: "3" });
  check("a: { b: { c: 1 },\n     d: 2 } # e\nf: 3", { a: { b: { c: "1" }, d: "2" }, f: "3" });
  check("- a\n- b: 1\n", ["a", { b: "1" }]);
  check('"a": "b: \\"c\\" \\u0041"\n\'d\': \'it\'\'s\'', { a: 'b: "c" A', d: "it's" });
  check("a:\n  - - 1\n    - 2\n", { a: [["1", "2"]] });
  check("\ufeffa: 1", { a: "1" });
  check("", null);
});

test("what is being written", () => {
  check("a: 1\nb", { a: "1", b: undefined });
  check("a:\n  b\n  c: 1\n", { a: { b: undefined, c: "1" } });
  check("a:\n  - b\n    c: 1\n", { a: [{ b: undefined, c: "1" }] });
  check("a: { b: 1, c\nd: 2", { a: { b: "1", c: undefined }, d: "2" });
  check("a:\n  - { b: 1, c: \n  - { d: 2 }\n", { a: [{ b: "1", c: null }, { d: "2" }] });
  check('a: { b: "x, c: 1 }\nd: 2', { a: { b: "x", c: "1" }, d: "2" });
  check('a: { b: "x, c: "y" }', { a: { b: "x", c: "y" } });
  check("a: [1, 2\nb: 3", { a: ["1", "2"], b: "3" });
  check("a:\n    b: 1\n  c: 2\n", { a: { b: "1", c: "2" } });
  check("a:\n  -\n  - ", { a: [null, null] });
});

test("text over several lines holds no keys", () => {
  check("a: |\n  b: 1\n  c\nd: 2", { a: "|", d: "2" });
  check("a: x\n  y: z\nd: 2", { a: "x", d: "2" });
});

test("Y-07 10 000 nested brackets and lines", () => {
  expect(readLoosely("a: " + "[".repeat(10_000))).not.toBeNull();
  expect(readLoosely("a: " + "{".repeat(10_000))).not.toBeNull();
  expect(readLoosely(Array.from({ length: 2000 }, (_, i) => " ".repeat(i) + "a:").join("\n"))).not.toBeNull();
  expect(readLoosely("- ".repeat(10_000))).not.toBeNull();
});
