import { expect, test } from "vitest";
import type { Problem } from "../../../core/problem";
import { createDiagnoser, documentOf, type Diagnoser, type EditorCellText, type ProblemsByFile } from "../../../server/language/diagnoser";
import { memoryFiles } from "../../support/memory-files";
import { smallExport, smallFiles, smallSession } from "../../support/small-session";

const root = "file:///work%20folder";

interface Setting {
  readonly files?: Readonly<Record<string, string>>;
  /** Texts open in the editor, by URI. */
  readonly open?: ReadonlyMap<string, string>;
}

/** A diagnoser on files in memory, in which every document lies below one root. */
function diagnoserOf({ files = smallFiles, open = new Map() }: Setting = {}): Diagnoser & { readonly reads: readonly string[] } {
  const port = memoryFiles(files);
  const diagnoser = createDiagnoser({
    place: (document) => Promise.resolve({ root, path: decodeURIComponent(document.slice(root.length + 1)) }),
    read: (_, path) => port.read(path),
    list: (_, folder) => port.list(folder),
    isCurrent: (_, path, digest) => port.isCurrent(path, digest),
    openText: (uri) => open.get(uri) ?? null,
  });
  return { ...diagnoser, reads: port.reads };
}

/** The problems of a notebook, by cell and by file. */
async function problemsOf(diagnoser: Diagnoser, cells: readonly EditorCellText[], path = "n.shots.md"): Promise<{ cells: readonly (readonly Problem[])[]; files: ProblemsByFile }> {
  const { view, files } = await diagnoser.notebook(`${root}/${path}`, documentOf(cells));
  return { cells: view.cells.map((cell) => cell.checked.problems), files };
}

const cells = [
  { language: "fairstrike-front", text: "shots: s/one.session.yaml" },
  { language: "fairstrike-query", text: "query=a\nshots.filter(d => d.cary > 1)" },
];

test("problems are given by cell, with their place in the cell's text whatever its line ends", async () => {
  for (const text of [cells[1]!.text, cells[1]!.text.replace("\n", "\r\n")]) {
    const { cells: found } = await problemsOf(diagnoserOf(), [cells[0]!, { ...cells[1]!, text }]);
    expect(found.map((problems) => problems.map(({ code, range }) => [code, range]))).toEqual([
      [],
      [["query.unknown-column", { start: { line: 2, column: 21 }, end: { line: 2, column: 25 } }]],
    ]);
  }
});

test("the holes of a text are checked as they are typed, each where it stands", async () => {
  const text = 'query=said\ntext`Wren:\n${a.slice(0, 1).one("cary")} and ${shots.one("carry")}`';
  const { cells: found } = await problemsOf(diagnoserOf(), [cells[0]!, { language: "fairstrike-query", text: "query=a\nshots" }, { language: "fairstrike-query", text }]);
  expect(found[2]!.map(({ code, range }) => `${code} ${range.start.line}:${range.start.column}`)).toEqual(["query.unknown-column 3:21", "query.not-one-row 3:36"]);
});

test("problems in session and export are given by URI, escaped as the editor escapes it", async () => {
  const files = { "s (1)/one!.session.yaml": smallSession("one", "small 'é'.csv").replace("kind: iron", "kind: spoon"), "s (1)/small 'é'.csv": smallExport.replace("150.0", "far") };
  const found = await problemsOf(diagnoserOf({ files }), [{ language: "fairstrike-front", text: 'shots: "s (1)/one!.session.yaml"' }]);
  expect([...found.files.keys()]).toEqual([`${root}/s%20%281%29/one%21.session.yaml`, `${root}/s%20%281%29/small%20%27%C3%A9%27.csv`]);
});

test("the text of a session that is open counts, and not the file", async () => {
  const uri = `${root}/s/one.session.yaml`;
  const open = new Map([[uri, smallSession("one").replace("kind: iron", "kind: spoon")]]);
  const diagnoser = diagnoserOf({ open });
  const codesOf = async (): Promise<(readonly string[])[]> => [...(await diagnoser.session(uri)).files.values()].map((problems) => problems.map((found) => found.code));
  expect(await codesOf()).toEqual([["session.wrong-choice"]]);
  open.set(uri, smallSession("one"));
  expect(await codesOf()).toEqual([]);
  open.delete(uri);
  expect([await codesOf(), diagnoser.reads]).toEqual([[], ["s/small.csv", "s/small.csv", "s/one.session.yaml", "s/small.csv", "s/one.session.yaml"]]);
});

test("a session that is not open is known with its text, and what its exports hold without their rows", async () => {
  const { view } = await diagnoserOf().session(`${root}/s/one.session.yaml`);
  expect([view.text, view.session?.name]).toEqual([smallSession("one"), "one"]);
  expect([view.exports.map((each) => each.rowCount), view.shots!.rowCount]).toEqual([[12], 0]);
});

test("the tables of a notebook have columns and counts, and no rows", async () => {
  const { view } = await diagnoserOf().notebook(`${root}/n.shots.md`, documentOf(cells));
  const { table, schema } = view.sources.shots!;
  expect([table!.rowCount, schema!.rowCount, schema!.columns.find((column) => column.name === "head")!.values]).toEqual([0, 12, ["Heron", "Wren"]]);
});

test("checking again reads no file that has not changed", async () => {
  const diagnoser = diagnoserOf();
  for (let i = 0; i < 3; i++) await problemsOf(diagnoser, [cells[0]!, { ...cells[1]!, text: `query=a\nshots.slice(0, ${i})` }]);
  expect(diagnoser.reads).toEqual(["s/one.session.yaml", "s/small.csv"]);
});

test("a session file that cannot be read says so in its own text", async () => {
  const { files: found } = await diagnoserOf({ files: {} }).session(`${root}/s/one.session.yaml`);
  expect([...found].map(([uri, problems]) => [uri, problems.map((each) => each.code)])).toEqual([[`${root}/s/one.session.yaml`, ["run.file"]]]);
});

test("a cell in a language of nobody's is prose, and paths start from the notebook's folder", async () => {
  const found = await problemsOf(diagnoserOf(), [
    { language: "python", text: "import os" },
    { language: "fairstrike-front", text: "shots: ../s/one.session.yaml" },
    { language: "fairstrike-query", text: "query=a\nshots.count()" },
  ], "deep/n.shots.md");
  expect(found.cells).toEqual([[], [], []]);
});
