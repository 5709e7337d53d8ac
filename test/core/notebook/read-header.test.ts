import * as fc from "fast-check";
import { expect, test } from "vitest";
import { nameCells } from "../../../core/notebook/cell-names";
import type { Cell } from "../../../core/notebook/document";
import { bodyOffset, readHeader } from "../../../core/notebook/read-header";
import { applyEdits } from "../../../core/session/apply-edits";
import type { ProblemCode } from "../../../core/problem";

function checkHeader(line: string, expected: object): void {
  const { value, problems } = readHeader(line);
  expect(problems).toEqual([]);
  expect(value).toMatchObject(expected);
}

/** The codes of a line's problems, each with the part of the line that it is about. */
function checkProblems(line: string, ...expected: readonly (readonly [ProblemCode, string])[]): void {
  const { problems } = readHeader(line);
  expect(problems.map(({ code, range }) => [code, line.slice(range.start.column - 1, range.end.column - 1)])).toEqual(expected);
}

test("a query and its name", () => checkHeader("query=gap", { kind: "query", name: "gap", table: null, tableRange: null, description: null }));
test("a chart, its table and its description", () =>
  checkHeader('chart=landing table=stock description="Where the shots landed"', { kind: "chart", name: "landing", table: "stock", description: "Where the shots landed" }));
test("attributes in any order, apart by any spaces", () =>
  checkHeader("  table=shots\t\tdescription='say \"so\"'  chart=a ", { name: "a", table: "shots", description: 'say "so"' }));
test("quotes within quotes", () => {
  checkHeader('chart=a description="say \\"so\\" \\\\ \\n"', { description: 'say "so" \\ \\n' });
  checkHeader("chart=a description='\\'", { description: "\\" });
  checkHeader('chart=a description=""', { description: "" });
});
test("ranges cover the values without their quotes", () => {
  const line = 'chart="a" table=stock';
  const { value } = readHeader(line);
  const under = ({ start, end }: { start: { column: number }; end: { column: number } }): string => line.slice(start.column - 1, end.column - 1);
  expect([under(value!.nameRange), under(value!.tableRange!), under(value!.attributes.get("table")!.nameRange)]).toEqual(["a", "stock", "table"]);
});
test("a line without query= or chart= is no header", () => {
  checkProblems("stock.filter(d => d.x == 1)", ["nb.no-header", "stock.filter(d => d.x == 1)"]);
  checkProblems("", ["nb.no-header", ""]);
  expect(readHeader("run query=a").value).toBeNull();
});
test("N-09 unknown attributes are kept and reported, near ones with a fix", () => {
  checkProblems("query=a x=1", ["nb.unknown-attribute", "x"]);
  checkProblems("query=a table=b", ["nb.unknown-attribute", "table"]);
  const { value, problems } = readHeader("chart=a tabel=b");
  expect(value!.attributes.get("tabel")!.value).toBe("b");
  expect(problems[0]!.fix!.edits).toEqual([{ range: problems[0]!.range, text: "table" }]);
});
test("N-09 names of JavaScript's objects are attributes like others", () => {
  checkProblems("query=a __proto__=1 constructor=2", ["nb.unknown-attribute", "__proto__"], ["nb.unknown-attribute", "constructor"]);
  expect([...readHeader("query=a __proto__=1").value!.attributes.keys()]).toEqual(["query", "__proto__"]);
  expect(({} as Record<string, unknown>)["1"]).toBeUndefined();
});
test("N-09 of an attribute that is there twice the first counts", () => {
  checkProblems("query=a x=1 x=2", ["nb.unknown-attribute", "x"], ["nb.duplicate-attribute", "x"]);
  checkProblems("query=a query=b", ["nb.duplicate-attribute", "query"]);
  expect(readHeader("query=a query=b").value!.name).toBe("a");
});
test("N-09 a quote that is never closed goes to the end of the line", () => {
  checkProblems("chart=a description='x y", ["nb.unclosed-quote", "'"]);
  checkProblems('chart=a description="x\\"', ["nb.unclosed-quote", '"']);
  checkProblems("query=a x='", ["nb.unclosed-quote", "'"], ["nb.unknown-attribute", "x"]);
  expect(readHeader("chart=a description='x y").value!.description).toBe("x y");
});
test("N-09 words that are no attributes are reported", () => {
  checkProblems("query=a run", ["nb.stray-word", "run"]);
  checkProblems("query=a =1 b", ["nb.stray-word", "=1"], ["nb.stray-word", "b"]);
});
test("a description without quotes is one problem, however many its words", () => {
  const line = "chart=a description=Where they land by head table=b";
  checkProblems(line, ["nb.stray-word", "they land by head"]);
  checkHeader(applyEdits(line, readHeader(line).problems[0]!.fix!.edits), { description: "Where they land by head", table: "b" });
});
test("N-09 ten thousand characters are read", () => expect(readHeader(`chart=a description="${"x".repeat(10_000)}"`).value!.description).toHaveLength(10_000));
test("a cell is a query or a chart", () => {
  checkProblems("query=a chart=b", ["nb.two-kinds", "chart"]);
  expect(readHeader("chart=b query=a").value!.kind).toBe("chart");
});
test.each(["", "1a", "a-b", "a b", "a.b"])("%j is no name", (name) => checkProblems(`query="${name}"`, ["nb.bad-name", name]));
test.each(["op", "chart", "shots", "session", "d", "undefined", "NaN", "Math", "hasOwnProperty", "__proto__", "constructor", "class", "aq"])(
  "Q-12 a cell cannot be called %s, and is told why",
  (name) => {
    checkProblems(`query=${name}`, ["nb.bad-name", name]);
    expect(readHeader(`query=${name}`).problems[0]!.message.length).toBeGreaterThan(`a cell cannot be called "${name}": `.length);
  },
);
test("names may have letters of any script", () => checkHeader("query=länge_2", { name: "länge_2" }));
test("a chart's table is a name or shots", () => {
  checkProblems("chart=a table=shots");
  checkProblems("chart=a table=a.b", ["nb.bad-table", "a.b"]);
  checkProblems("chart=a table=", ["nb.bad-table", ""]);
});
test("the body begins after the header line", () => {
  expect(bodyOffset("query=gap\nstock")).toBe(10);
  expect(bodyOffset("query=gap")).toBe(10);
  expect(bodyOffset("stock\nquery=gap")).toBe(0);
  expect(bodyOffset("")).toBe(0);
});
test("any line is read", () => {
  const piece = fc.constantFrom("query", "chart", "=", '"', "'", "\\", " ", "\t", "a", "__proto__", "`", "\u2028");
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 20 }), (pieces) => {
      const line = pieces.join("");
      for (const { range } of readHeader(line).problems) expect(range.end.column).toBeLessThanOrEqual(line.length + 1);
    }),
    { seed: 7, numRuns: 2000 },
  );
});

test("cells without a header get the first free name, and saving again gives the same", () => {
  const cell = (kind: Cell["kind"], text: string): Cell => ({ kind, text, form: {} });
  const document = { cells: [cell("query", "x"), cell("prose", "query=no"), cell("query", "query=cell_2"), cell("query", ""), cell("chart", "{}")], lineEnd: "\n", mark: false } as const;
  const named = nameCells(document);
  expect(named.cells.map(({ text }) => text)).toEqual(["query=cell_1\nx", "query=no", "query=cell_2", "query=cell_3", "chart=chart_1\n{}"]);
  expect(nameCells(named)).toEqual(named);
  expect(named.cells[1]).toBe(document.cells[1]);
});
test("fixes of a first line where one answer is obvious", () => {
  const fixOf = (line: string): string | undefined => readHeader(line).problems.find(({ fix }) => fix !== undefined)?.fix!.edits[0]!.text;
  expect(fixOf("query=carry-by-head")).toBe("carry_by_head");
  expect(fixOf("query=7-iron")).toBeUndefined();
  expect(fixOf("query=shots")).toBeUndefined();
  expect(fixOf('chart=a description="Where they land')).toBe('"');
  expect(fixOf('chart=a description="Where table=a')).toBeUndefined();
  expect(fixOf("chart=a description=Where they land table=b")).toBe('"Where they land"');
  expect(fixOf('chart=a description=the "long" one')).toBe('"the \\"long\\" one"');
  expect(fixOf("chart=a table=b c")).toBeUndefined();
});
test.each([
  ["querry=y", "query=y"],
  ["Query=y", "query=y"],
  ["query:y", "query=y"],
  [" query = y", " query=y"],
  ["query= y", "query=y"],
  ["cahrt=a table=y", "chart=a table=y"],
  ["chart= a table=y", "chart=a table=y"],
])("the slip in %j is one problem, and the header is read as it was meant", (line, meant) => {
  const { value, problems } = readHeader(line);
  expect(problems).toHaveLength(1);
  expect(applyEdits(line, problems[0]!.fix!.edits)).toBe(meant);
  expect(readHeader(meant).problems).toEqual([]);
  if (line !== "query= y" && line !== "chart= a table=y") {
    expect([value!.name, value!.table]).toEqual([readHeader(meant).value!.name, readHeader(meant).value!.table]);
    expect(line.slice(value!.nameRange.start.column - 1, value!.nameRange.end.column - 1)).toBe(value!.name);
    expect(bodyOffset(`${line}\nstock`)).toBe(line.length + 1);
  }
});
test.each(["query == y", "query => y", "const query = y", "queue(y)", '"chart": 1', "stock = y"])("%j is no header line with a slip", (line) => checkProblems(line, ["nb.no-header", line]));
test("a name of two words can be joined, if the person says so", () => {
  expect(readHeader("query=my cell").problems.map(({ code, fix }) => [code, fix?.title, fix?.byPerson])).toEqual([["nb.stray-word", "Call it my_cell", true]]);
});
test("a short form of description is renamed, and its words stay", () => {
  const line = 'chart=a table=b desc="my words"';
  expect(applyEdits(line, readHeader(line).problems[0]!.fix!.edits)).toBe('chart=a table=b description="my words"');
});
