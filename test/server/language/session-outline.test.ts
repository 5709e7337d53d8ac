import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { SymbolAnswer } from "../../../server/language/answers";
import { sessionDefinitions, sessionFolds, sessionLinks, sessionSymbols } from "../../../server/language/session-outline";
import { atMark } from "../../support/notebook-view";
import { oddExport, sessionView } from "../../support/session-view";

const text = `session: one
sources:
  - { file: "odd.csv", order: file }
  - other.tsv
columns:
  head: Club
  carry: Carry (yd)
  club_path: { from: "Path [°]", unit: deg }
heads:
  Wren:
    kind: iron
    loft: 34 deg
corrections:
  - { shots: 1, column: head, value: Wren, because: x }
set_aside:
  - shot: 2
    column: carry
    because: a bird
calculated: [offline]
margin: { carry: 3 yd }
`;
const files = { "odd.csv": oddExport, "other.tsv": "Club\tBay\nWren\t2\n" };
const view = await sessionView(text, files);

test("symbols: keys, heads, columns, sources and what is set aside", () => {
  const named = ({ name, kind, detail, children }: SymbolAnswer): readonly unknown[] => [name, kind, detail, ...children.map(named)];
  expect(sessionSymbols(view).map(named)).toEqual([
    ["session", "key", "one"],
    ["sources", "key", "", ["odd.csv", "key", ""], ["other.tsv", "key", ""]],
    ["columns", "key", "", ["head", "column", "Club"], ["carry", "column", "Carry (yd)"], ["club_path", "column", "Path [°], deg"]],
    ["heads", "key", "", ["Wren", "head", "iron, 34 deg"]],
    ["corrections", "key", "", ["1 head", "key", "x"]],
    ["set_aside", "key", "", ["2 carry", "key", "a bird"]],
    ["calculated", "key", "offline", ["offline", "key", ""]],
    ["margin", "key", "", ["carry", "key", "3 yd"]],
  ]);
});

test("what is not seen, or turns text round, is written out in the outline", async () => {
  const odd = await sessionView('session: "a\u202eb"\nheads: { "Wr\u200ben": { kind: iron } }\nset_aside: [{ shot: 1, column: carry, because: "c\u2066d" }]\n', files);
  expect(JSON.stringify(sessionSymbols(odd))).not.toMatch(/[\u200b\u202e\u2066]/u);
  expect(sessionSymbols(odd)[1]!.children[0]!.name).toBe("Wr\\u200ben");
});

test("every key and item of several lines folds", () => {
  const lines = sessionFolds(view).map(({ from, to }) => `${text.slice(0, from).split("\n").length}-${text.slice(0, to).split("\n").length}`);
  expect(lines).toEqual(["2-4", "5-8", "9-12", "10-12", "13-14", "15-18", "16-18"]);
});

test("links to the exports, without their quotes", () => {
  expect(sessionLinks(view).map(({ from, to, path }) => [text.slice(from, to), path])).toEqual([["odd.csv", "s/odd.csv"], ["other.tsv", "s/other.tsv"]]);
});

test("a path that leads outside is no link", async () => {
  expect(sessionLinks(await sessionView("session: x\nsources: [../../a.csv, '']\n"))).toEqual([]);
});

test("definitions: headers, heads, columns and paths", () => {
  const check = (marked: string, ...expected: readonly string[]): void => {
    const { text: fragment, offset } = atMark(marked);
    const from = text.indexOf(fragment);
    expect(from, fragment).toBeGreaterThanOrEqual(0);
    expect(sessionDefinitions(view, from + offset).map(({ path, range: { start, end } }) => `${path} ${start.line}:${start.column}-${end.column}`), marked).toEqual(expected);
  };
  check("head: Cl¦ub", "s/odd.csv 1:4-8", "s/other.tsv 1:1-5");
  check('from: "Pa¦th', "s/odd.csv 1:9-19");
  check("car¦ry: Carry", "s/odd.csv 1:20-30");
  check("value: Wr¦en", "s/one.session.yaml 10:3-7");
  check("column: hea¦d", "s/one.session.yaml 6:3-7");
  check("column: carry¦", "s/one.session.yaml 7:3-8");
  check("margin: { car¦ry", "s/one.session.yaml 7:3-8");
  check("od¦d.csv", "s/odd.csv 1:1-1");
  check("[off¦line]");
  check("sess¦ion: one");
});

test("no cut of a session throws, and symbols hold their names and children", () => {
  const isHeld = ({ from, to, nameSpan, children, name }: SymbolAnswer): void => {
    expect(name).not.toBe("");
    expect(from <= nameSpan.from && nameSpan.to <= to).toBe(true);
    for (const child of children) {
      expect(from <= child.from && child.to <= to).toBe(true);
      isHeld(child);
    }
  };
  fc.assert(
    fc.property(fc.nat(text.length), fc.nat(40), fc.constantFrom("", "{", "[", '"', "- ", "\n"), fc.nat(text.length), (from, length, insert, at) => {
      const cut = { ...view, text: text.slice(0, from) + insert + text.slice(from + length) };
      sessionSymbols(cut).forEach(isHeld);
      for (const span of [...sessionFolds(cut), ...sessionLinks(cut)]) expect(0 <= span.from && span.from <= span.to && span.to <= cut.text.length).toBe(true);
      for (const { range } of sessionDefinitions(cut, at)) expect(range.start.line).toBeGreaterThan(0);
    }),
    { seed: 7, numRuns: 500 },
  );
});
