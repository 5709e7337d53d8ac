import { expect, test } from "vitest";
import type { Problem } from "../../../core/problem";
import { createDiagnoser, documentOf, type Diagnoser, type EditorCellText, type ProblemsByFile } from "../../../server/language/diagnoser";
import { profileHere } from "../../../server/language/profile-session";
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
  const codesOf = async (): Promise<(readonly string[])[]> => [...(await diagnoser.sessionProblems(uri)).values()].map((problems) => problems.map((found) => found.code));
  expect(await codesOf()).toEqual([["session.wrong-choice"]]);
  open.set(uri, smallSession("one"));
  expect(await codesOf()).toEqual([]);
  open.delete(uri);
  expect([await codesOf(), diagnoser.reads]).toEqual([[], ["s/small.csv", "s/small.csv", "s/one.session.yaml", "s/small.csv"]]);
});

test("a session is known with its text at once, and with what its exports hold, without their rows, once that was found", async () => {
  const diagnoser = diagnoserOf();
  const uri = `${root}/s/one.session.yaml`;
  const before = (await diagnoser.session(uri, null)).view;
  expect([before.text, before.session?.name, before.exports, before.shots]).toEqual([smallSession("one"), "one", [], null]);
  await diagnoser.sessionProblems(uri);
  const { view } = await diagnoser.session(uri, smallSession("two"));
  expect([view.session?.name, view.exports.map((each) => each.rowCount), view.shots!.rowCount]).toEqual(["two", [12], 0]);
});

test("what was last known of the exports is not lost while the text is broken", async () => {
  const uri = `${root}/s/one.session.yaml`;
  const open = new Map([[uri, smallSession("one")]]);
  const diagnoser = diagnoserOf({ open });
  await diagnoser.sessionProblems(uri);
  const broken = `- ${smallSession("one")}`;
  open.set(uri, broken);
  expect([...(await diagnoser.sessionProblems(uri)).keys()]).toEqual([uri]);
  expect((await diagnoser.session(uri, broken)).view.exports.map((each) => each.headers.length)).toEqual([5]);
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
  const found = await diagnoserOf({ files: {} }).sessionProblems(`${root}/s/one.session.yaml`);
  expect([...found].map(([uri, problems]) => [uri, problems.map((each) => each.code)])).toEqual([[`${root}/s/one.session.yaml`, ["run.file"]]]);
});

test("a closed notebook and its session are forgotten once others were opened, and one that is open is not", async () => {
  const names = Array.from({ length: 30 }, (_, i) => `day-${i}`);
  const sessions = Object.fromEntries(names.map((name): [string, string] => [`s/${name}.session.yaml`, smallSession(name)]));
  const diagnoser = diagnoserOf({ files: { ...smallFiles, ...sessions } });
  const uri = `${root}/n.shots.md`;
  const queryOf = async (): Promise<unknown> => (await diagnoser.notebook(uri, documentOf(cells))).view.checked.cells[1]!.query;
  const openOthers = async (): Promise<void> => {
    for (const name of names) {
      await diagnoser.notebook(`${root}/${name}.shots.md`, documentOf([{ language: "fairstrike-front", text: `shots: s/${name}.session.yaml` }]));
      diagnoser.forget(`${root}/${name}.shots.md`);
    }
  };
  const query = await queryOf();
  await openOthers();
  const reads = diagnoser.reads.length;
  expect([await queryOf(), diagnoser.reads.length]).toEqual([query, reads]);
  expect(await queryOf()).toBe(query);
  diagnoser.forget(uri);
  expect(await queryOf()).not.toBe(query);
  expect(diagnoser.reads.length).toBe(reads);
  diagnoser.forget(uri);
  await openOthers();
  await queryOf();
  expect(diagnoser.reads.slice(-2)).toEqual(["s/one.session.yaml", "s/small.csv"]);
});

test("a notebook that is closed while it is checked, or a session, leaves nothing behind", async () => {
  const diagnoser = diagnoserOf();
  const uri = `${root}/n.shots.md`;
  const checking = diagnoser.notebook(uri, documentOf(cells));
  diagnoser.forget(uri);
  const { query } = (await checking).view.checked.cells[1]!;
  expect((await diagnoser.notebook(uri, documentOf(cells))).view.checked.cells[1]!.query).not.toBe(query);
});

test("roots without an open document are forgotten, but for one; files are read for the document that was asked about last", async () => {
  const port = memoryFiles(smallFiles);
  const readers: string[] = [];
  const profiled: string[] = [];
  const rootOf = (document: string): string => document.slice(0, document.indexOf("/", "file:///".length));
  const diagnoser = createDiagnoser(
    {
      place: (document) => Promise.resolve({ root: rootOf(document), path: document.slice(rootOf(document).length + 1) }),
      read: (document, path) => port.read((readers.push(document), path)),
      list: (_, folder) => port.list(folder),
      isCurrent: (document, path, digest) => port.isCurrent((readers.push(document), path), digest),
      openText: () => null,
    },
    (path, files) => {
      profiled.push(path);
      return profileHere(path, files);
    },
  );
  const check = (uri: string): Promise<unknown> => diagnoser.notebook(uri, documentOf(cells));
  await check("file:///a/one.shots.md");
  await check("file:///a/two.shots.md");
  expect(new Set(readers)).toEqual(new Set(["file:///a/one.shots.md", "file:///a/two.shots.md"]));
  expect(readers.at(-1)).toBe("file:///a/two.shots.md");
  for (const uri of ["file:///a/one.shots.md", "file:///a/two.shots.md"]) diagnoser.forget(uri);
  await check("file:///a/one.shots.md");
  expect(profiled).toHaveLength(1);
  diagnoser.forget("file:///a/one.shots.md");
  for (const name of ["b", "c"]) {
    await check(`file:///${name}/n.shots.md`);
    diagnoser.forget(`file:///${name}/n.shots.md`);
  }
  await check("file:///a/one.shots.md");
  expect(profiled).toHaveLength(4);
});

test("a cell in a language of nobody's is prose, and paths start from the notebook's folder", async () => {
  const found = await problemsOf(diagnoserOf(), [
    { language: "python", text: "import os" },
    { language: "fairstrike-front", text: "shots: ../s/one.session.yaml" },
    { language: "fairstrike-query", text: "query=a\nshots.count()" },
  ], "deep/n.shots.md");
  expect(found.cells).toEqual([[], [], []]);
});
