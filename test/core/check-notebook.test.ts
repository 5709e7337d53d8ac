import { expect, test } from "vitest";
import type { CheckedNotebook } from "../../core/check-notebook";
import { defaultLimits, type Limits } from "../../core/limits";
import type { CellKind, NotebookDocument } from "../../core/notebook/document";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import type { Problem } from "../../core/problem";
import { createEngine } from "../../core/run-notebook";
import { lineTable } from "../../core/text-position";
import { vocabulary } from "../../core/vocabulary";
import { memoryFiles } from "../support/memory-files";
import { notebookText, smallExport, smallFiles, smallSession } from "../support/small-session";

const front = "shots: s/one.session.yaml";

interface Setting {
  readonly files?: Readonly<Record<string, string>>;
  readonly path?: string;
  readonly limits?: Partial<Limits>;
}

async function check(document: NotebookDocument, setting: Setting = {}): Promise<CheckedNotebook> {
  const limits = { ...defaultLimits, ...setting.limits };
  const engine = createEngine({ files: memoryFiles(setting.files ?? smallFiles), vocabulary, limits, clock: () => 0 });
  return engine.check(document, setting.path ?? "n.shots.md");
}

/** Problems as `cell code text`: the number of the cell, and the text that the problem stands on. */
function placed(document: NotebookDocument, checked: CheckedNotebook): string[] {
  return checked.cells.flatMap((cell, index) =>
    cell.problems.map((found) => `${index} ${found.code} ${under(document.cells[index]!.text, found)}`),
  );
}

function under(text: string, { range }: Problem): string {
  const lines = lineTable(text);
  return text.slice(lines.offsetAt(range.start), lines.offsetAt(range.end));
}

/** Expects exactly these problems in the cells of the notebook; cell 0 is the front matter. */
async function checkProblems(text: string, expected: readonly string[], setting?: Setting): Promise<CheckedNotebook> {
  const document = parseNotebook(text).value;
  const checked = await check(document, setting);
  expect(placed(document, checked)).toEqual(expected);
  return checked;
}

/** The same for cells as an editor has them, where a cell may have no first line. */
async function checkCells(cells: readonly (readonly [CellKind, string])[], expected: readonly string[]): Promise<CheckedNotebook> {
  const document: NotebookDocument = { cells: cells.map(([kind, text]) => ({ kind, text, form: {} })), lineEnd: "\n", mark: false };
  const checked = await check(document);
  expect(placed(document, checked)).toEqual(expected);
  return checked;
}

const point = '{ "mark": "point", "encoding": { "x": { "field": "carry" } } }';

test("a table that is not known is told from the names of tables alone, not from charts or the cell itself", async () => {
  const text = notebookText(
    front,
    "query=gap\nstok.count()",
    `chart=stoks table=stock description="x"\n${point}`,
    "query=sto\nchart.landing(stock)",
    `chart=view table=stok description="x"\n${point}`,
    "query=stock\nshots.filter(d => d.carry > 1)",
  );
  const checked = await checkProblems(text, ["1 query.unknown-table stok", "4 query.unknown-table stok"]);
  const factsOf = (cell: number): unknown => checked.cells[cell]!.problems[0]!.facts;
  expect(factsOf(1)).toEqual({ name: "stok", candidates: ["shots", "stock"], nearest: "stock" });
  expect(factsOf(4)).toEqual({ name: "stok", candidates: ["shots", "gap", "stock"], nearest: "stock" });
});

test("a notebook without mistakes has no problems, and its cells are ordered by what they need", async () => {
  const text = notebookText(front, "query=late\nearly.count()", `chart=picture table=early description="x"\n${point}`, 'query=early\nshots.filter(d => d.head === "Wren")');
  const checked = await checkProblems(text, []);
  expect(checked.order).toEqual([3, 1, 2]);
  expect(checked.cells.map((cell) => cell.needs)).toEqual([[], [3], [3], []]);
  expect(checked.cells[1]!.schema?.columns.map((column) => column.name)).toEqual(["count"]);
});

test("a mistake is said once where it is, and what needs its cell is blocked, each saying what it waits for", () =>
  checkProblems(notebookText(front, "query=a\nshots.filter(d => d.cary > 1)", "query=b\na.count()", "query=c\nb.concat(b)"), [
    "1 query.unknown-column cary",
    "2 run.blocked a",
    "3 run.blocked b",
  ]));

test("N-13 cells of one name are both reported and still checked; what needs the name is blocked", () =>
  checkProblems(notebookText(front, "query=a\nshots.count()", "query=a\nshots.filter(d => d.cary > 1)", "query=b\na.count()"), [
    "1 nb.duplicate-name a",
    "2 nb.duplicate-name a",
    "2 query.unknown-column cary",
    "3 run.blocked a",
  ]));

test("N-14 cells that need one another say so, each at the name that closes the circle, and nothing else", () =>
  checkProblems(notebookText(front, "query=a\nb.count()", "query=b\nc.count()", "query=c\na.count()", "query=own\nown.count()", "query=e\na.count()"), [
    "1 nb.cycle b",
    "2 nb.cycle c",
    "3 nb.cycle a",
    "4 nb.cycle own",
    "5 run.blocked a",
  ]));

test("N-14 a chain of two thousand cells is checked", async () => {
  const cells = Array.from({ length: 2_000 }, (_, i) => `query=c${2_000 - i}\n${i === 1_999 ? "shots" : `c${1_999 - i}`}`);
  const checked = await checkProblems(notebookText(front, ...cells), []);
  expect(checked.order).toHaveLength(2_000);
});

test("a chart is no table, whether a chart cell or a query cell gives it", () =>
  checkProblems(
    notebookText(
      front,
      `chart=picture table=shots description="x"\n${point}`,
      "query=landing\nchart.landing(shots)",
      `chart=other table=picture description="x"\n${point}`,
      "query=more\nlanding.count()",
    ),
    ["3 query.not-a-table picture", "4 query.not-a-table landing"],
  ));

test("a chart says when it names no table, one that cannot be, or one that is not there", () =>
  checkProblems(
    notebookText(front, `chart=a description="x"\n${point}`, `chart=b table=op description="x"\n${point}`, `chart=c table=nothing description="x"\n${point}`),
    ["1 nb.no-table a", "2 nb.bad-table op", "3 query.unknown-table nothing"],
  ));

test("a cell that cannot have its name takes that name from nobody", async () => {
  const checked = await checkProblems(notebookText(front, "query=shots\nshots.count()", "query=b\nshots.filter(d => d.carry > 1)"), ["1 nb.bad-name shots"]);
  expect(checked.cells[2]!.schema?.columns.map((column) => column.name)).toContain("carry");
});

test("a cell of the editor without a first line is checked, and can run", async () => {
  const checked = await checkCells([["front", front], ["query", "shots.count()"], ["chart", point]], ["1 nb.no-header shots.count()", `2 nb.no-header ${point}`, `2 nb.no-table ${point}`, "2 chart.no-description {"]);
  expect(checked.cells.map((cell) => cell.name)).toEqual(["", "cell 2", "cell 3"]);
  expect(checked.cells[1]!.key).not.toBeNull();
});

test("front matter counts wherever it stands; of two, the first", async () => {
  const checked = await checkCells([["prose", "# Title"], ["front", `${front}\nseed: 3`], ["query", "query=a\nshots"], ["front", "seed: 4"]], ["3 nb.second-front seed: 4"]);
  expect(checked.front.seed).toBe(3);
});

test("without a session in the front matter, only what uses `shots` says so", async () => {
  await checkProblems(notebookText("title: x", "query=a\nshots.count()", 'query=b\nsession("s/one.session.yaml").count()'), ["1 run.no-front-shots shots"]);
  await checkCells([["query", "query=a\nshots.concat(shots)"]], ["0 run.no-front-shots shots"]);
});

test("a session that is not there is said where it is named, and what uses `shots` is blocked", () =>
  checkProblems(notebookText("shots: s/two.session.yaml", "query=a\nshots.count()", 'query=b\nsession("s/two.session.yaml")'), [
    "0 run.file s/two.session.yaml",
    "1 run.blocked shots",
    '2 run.file "s/two.session.yaml"',
  ]));

test("a path that cannot be followed leaves no `shots` made of the others", () =>
  checkProblems(notebookText("shots: [s/one.session.yaml, /etc/passwd]", "query=a\nshots.count()"), ["0 path.absolute /etc/passwd", "1 run.blocked shots"]));

test("a session whose export is not there says so at its source, the front matter names it, and cells wait", async () => {
  const files = { "s/one.session.yaml": smallSession("one", "gone.csv") };
  const checked = await checkProblems(notebookText(front, "query=a\nshots.count()"), ["0 run.no-shots s/one.session.yaml", "1 run.blocked shots"], { files });
  expect(checked.fileProblems.map(({ code, file, range }) => `${code} ${file} ${range.start.line}:${range.start.column}`)).toEqual(["run.file s/one.session.yaml 3:19"]);
  expect(checked.cells[0]!.problems[0]!.message).toBe('the shots of "s/one.session.yaml" could not be loaded: line 3: "gone.csv" does not exist');
});

test("what cannot be the path of a session file is one problem, and nothing is opened", async () => {
  await checkProblems(notebookText(front, 'query=a\nsession("")'), ['1 query.expected ""']);
  await checkProblems(notebookText(front, 'query=a\nsession("s/one.yaml")'), ['1 query.expected "s/one.yaml"']);
  await checkProblems(notebookText(front, 'query=a\nsessions("")'), ['1 query.expected ""']);
});

test("a session with a mistake that leaves its shots is reported in its file, and the cells run", async () => {
  const files = { ...smallFiles, "s/one.session.yaml": `${smallSession("one")}calculated: [cary]\n` };
  const checked = await checkProblems(notebookText(front, "query=a\nshots.count()"), [], { files });
  expect(checked.fileProblems.map(({ code, file }) => `${code} ${file}`)).toEqual(["session.wrong-choice s/one.session.yaml"]);
  expect(checked.cells[1]!.key).not.toBeNull();
});

test("sessions of a folder are taken together; what is wrong with that is said at the path", async () => {
  const files = {
    "s/a.session.yaml": smallSession("a"),
    "s/b.session.yaml": smallSession("b", "small.csv", "P2"),
    "s/small.csv": smallExport,
    "t/a.session.yaml": smallSession("a", "../s/small.csv"),
    "s/notes.txt": "",
  };
  await checkProblems(notebookText("title: x", 'query=a\nsessions("s/*.session.yaml").count()'), ['1 session.two-players "s/*.session.yaml"'], { files });
  await checkProblems(notebookText("shots: s/*.session.yaml", "query=a\nshots.count()"), ["0 session.two-players s/*.session.yaml"], { files });
  await checkProblems(notebookText("shots: [s/a.session.yaml, t/a.session.yaml]", "query=a\nshots.count()"), ["0 schema.unique t/a.session.yaml", "1 run.blocked shots"], { files });
  await checkProblems(notebookText("title: x", 'query=a\nsessions("u/*.session.yaml").count()'), ['1 run.no-sessions "u/*.session.yaml"'], { files });
  await checkProblems(notebookText("shots: s/*.session.yaml", "query=a\nshots.count()"), ["0 run.too-large s/*.session.yaml", "1 run.blocked shots"], { files, limits: { rows: 20 } });
});

test("P-06 a session file of a folder whose name not every system can open is not left out in silence", () =>
  checkProblems(notebookText("title: x", 'query=a\nsessions("s/*.session.yaml")'), ['1 path.reserved-name "s/*.session.yaml"'], {
    files: { ...smallFiles, "s/con.session.yaml": smallSession("con") },
  }));

test("P-01 paths start from the notebook's folder and stay inside the root", async () => {
  await checkProblems(notebookText("shots: ../../s/one.session.yaml", "query=a\nshots.count()"), [], { path: "deep/er/n.shots.md" });
  await checkProblems(notebookText("shots: s/../../s/one.session.yaml", 'query=a\nsession("../s/one.session.yaml")'), ["0 path.segment s/../../s/one.session.yaml", '1 path.outside-root "../s/one.session.yaml"']);
  await checkProblems(notebookText("shots: ../*.session.yaml"), ["0 path.outside-root ../*.session.yaml"]);
  await checkProblems(notebookText("title: x", 'query=a\nsessions("/*.session.yaml")'), ['1 path.absolute "/*.session.yaml"']);
});

test("a region with merge markers is reported at its first line, and names in it stand for nothing", () =>
  checkProblems(`${notebookText(front, "query=b\na.count()")}\n<<<<<<< ours\n\`\`\`js query=a\nshots\n\`\`\`\n=======\nx\n>>>>>>> theirs\n`, [
    "1 query.unknown-table a",
    "2 nb.conflict <<<<<<< ours",
  ]));

test("what two sessions say of one export is said once", async () => {
  const files = { "s/a.session.yaml": smallSession("a"), "s/b.session.yaml": smallSession("b"), "s/small.csv": `${smallExport}13,Wren,x,151,1\n` };
  const checked = await checkProblems(notebookText("shots: s/*.session.yaml"), [], { files });
  expect(checked.fileProblems.map(({ code, file, range }) => `${code} ${file} ${range.start.line}:${range.start.column}`)).toEqual(["value.not-a-number s/small.csv 14:9"]);
});

test("a session file of the size of a large export is some other file", () =>
  checkProblems(notebookText(front), ["0 run.file s/one.session.yaml"], { limits: { notebookText: 100 } }));

test("a front matter that is changed to a newer format is marked in its cell, and one that was so in its file is not marked twice", async () => {
  const codes = async (document: NotebookDocument): Promise<readonly string[]> => (await check(document)).cells[0]!.problems.map(({ code, range }) => `${code} ${range.start.line}:${range.start.column}`);
  const text = `fairstrike: 2\n${front}`;
  expect(await codes({ cells: [{ kind: "front", text, form: {} }], lineEnd: "\n", mark: false })).toEqual(["nb.newer-format 1:13"]);
  expect(await codes(parseNotebook(notebookText(text)).value)).toEqual([]);
});
