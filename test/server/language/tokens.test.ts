import { assert, integer, property } from "fast-check";
import { expect, test } from "vitest";
import { tokensOf } from "../../../server/language/tokens";
import { notebookView, smallFront } from "../../support/notebook-view";

async function tokens(kind: "query" | "chart" | "prose", text: string): Promise<readonly string[]> {
  const view = await notebookView([smallFront, [kind, text]]);
  return tokensOf(view, 1).map(({ from, to, type, isDeclaration }) => `${text.slice(from, to)} ${type}${isDeclaration ? " declared" : ""}`);
}

async function checkTokens(body: string, ...expected: readonly string[]): Promise<void> {
  expect((await tokens("query", `query=x\n${body}`)).slice(2)).toEqual(expected);
}

test("a header line", async () => {
  expect(await tokens("query", "query=x\nshots")).toEqual(["query keyword", "x variable declared", "shots variable"]);
  expect(await tokens("chart", 'chart=c table=shots description="A b"\n{ "mark": "point", "encoding": { "x": { "field": "carry" } } }')).toEqual([
    "chart keyword",
    "c variable declared",
    "table keyword",
    "shots variable",
    "description keyword",
    '"A b" string',
    "carry property",
  ]);
});

test("columns, rows, verbs and functions", () =>
  checkTokens("shots.filter(d => op.abs(d.offline) < 3)", "shots variable", "filter method", "d parameter declared", "op namespace", "abs function", "d parameter", "offline property"));
test("options, choices and values", () =>
  checkTokens('shots.compare({ of: "carry", strikes: "same" })', "shots variable", "compare method", "of property", "carry property", "strikes property", "same enumMember"));
test("values of a column", () => checkTokens('shots.filter(d => d.head === "Wren")', "shots variable", "filter method", "d parameter declared", "d parameter", "head property", "Wren enumMember"));
test("declared columns and constants", () =>
  checkTokens("const a = 1\nshots.derive({ b: d => a })", "a variable declared", "shots variable", "derive method", "b property declared", "d parameter declared", "a variable"));
test("charts and sessions", async () => {
  await checkTokens("chart.landing(shots)", "chart namespace", "landing function", "shots variable");
  await checkTokens('session("s/one.session.yaml")', "session namespace", "s/one.session.yaml string");
});
test("a cell that does not parse", () => checkTokens("shots.filter(d => d.carry >", "shots variable", "filter method", "d parameter declared", "d parameter", "carry property"));
test("a name in a comment is none", () => checkTokens("// op.abs\nshots", "shots variable"));
test("prose has none", async () => expect(await tokens("prose", "op.abs")).toEqual([]));

test("tokens of any cut are sorted, apart, and each on one line within the text", async () => {
  const text = 'query=x\nconst w = shots.filter(d => d["head"] === "Wren" /* a\nb */) // c\nw.compare({ of: "carry",\n strikes: "same" })`';
  const views = await Promise.all(Array.from({ length: 30 }, (_, i) => notebookView([smallFront, ["query", text.slice(0, 8 + i * 4)]])));
  assert(
    property(integer({ min: 0, max: views.length - 1 }), (i) => {
      const cell = views[i]!.cells[1]!;
      let end = 0;
      for (const { from, to } of tokensOf(views[i]!, 1)) {
        expect(from >= end && from < to && to <= cell.text.length).toBe(true);
        expect(cell.text.slice(from, to)).not.toContain("\n");
        end = to;
      }
    }),
    { seed: 3, numRuns: 60 },
  );
});
