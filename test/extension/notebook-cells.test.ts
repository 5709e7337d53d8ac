import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { NotebookDocument } from "../../core/notebook/document";
import { headerKind } from "../../core/notebook/header-text";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { printNotebook } from "../../core/notebook/print-notebook";
import { fromEditorCells, toEditorCells, type EditorCell, type EditorNotebook } from "../../extension/host/notebook-cells";
import { notebookPieces } from "../core/notebook/pieces";

const open = (text: string): EditorNotebook => toEditorCells(parseNotebook(text).value);
const save = (notebook: EditorNotebook): string => printNotebook(fromEditorCells(notebook));

function checkSaved(text: string, change: (cells: EditorCell[]) => void, expected: string): void {
  const notebook = open(text);
  const cells = [...notebook.cells];
  change(cells);
  expect(save({ ...notebook, cells })).toBe(expected);
}

function code(value: string, language = "fairstrike-query", metadata: Record<string, unknown> = {}): EditorCell {
  return { kind: "code", language, value, metadata };
}

function prose(value: string): EditorCell {
  return { kind: "markup", language: "markdown", value, metadata: {} };
}

const sample = "---\ntitle: x\n---\n\n# Heading\n\n```js query=gap\nstock\n```\n\n```json chart=landing table=gap\n{}\n```\n";

test("each kind of cell has its language, and canonical cells have no metadata", () => {
  expect(open(`${sample}\n<<<<<<< a\n=======\n>>>>>>> b\n`).cells).toEqual([
    { kind: "code", language: "fairstrike-front", value: "title: x", metadata: {} },
    { kind: "markup", language: "markdown", value: "# Heading", metadata: {} },
    { kind: "code", language: "fairstrike-query", value: "query=gap\nstock", metadata: {} },
    { kind: "code", language: "fairstrike-chart", value: "chart=landing table=gap\n{}", metadata: {} },
    { kind: "code", language: "fairstrike-conflict", value: "<<<<<<< a\n=======\n>>>>>>> b", metadata: {} },
  ]);
});
test("metadata holds what differs, under one key", () => {
  expect(open("  ~~~ts query=gap\r\n  a\r\n  ~~~").cells[0]!.metadata).toEqual({
    fairstrike: { indent: 2, fence: "~~~", word: "ts", after: "" },
  });
  expect(open("a\r\nb").metadata).toEqual({ fairstrike: { lineEnd: "\r\n", mark: false } });
});
test("N-17 opening and saving changes no byte", () => {
  fc.assert(
    fc.property(notebookPieces, (text) => {
      expect(save(open(text))).toBe(text);
      expect(save(JSON.parse(JSON.stringify(open(text))) as EditorNotebook)).toBe(text);
    }),
    { seed: 7, numRuns: 1500 },
  );
});
test("the editor sees LF alone", () => {
  const { cells } = open("a\r\nb\r\n\r\n```js query=x\r\ny\r```\r\n");
  expect(cells.map((cell) => cell.value)).toEqual(["a\nb", "query=x\ny"]);
});
test("N-05 new lines in a CRLF file end in CRLF", () =>
  checkSaved("a\r\n\r\n```js query=x\r\ny\r\n```\r\n", (cells) => (cells[1] = code("query=x\ny\nz")), "a\r\n\r\n```js query=x\r\ny\r\nz\r\n```\r\n"));
test("N-05 an edited cell in a stretch of other line ends keeps to them", () =>
  checkSaved("a\nb\n\nc\n\n```js query=x\r\ny\r\n```\n", (cells) => (cells[1] = { ...cells[1]!, value: "query=x\nz" }), "a\nb\n\nc\n\n```js query=x\r\nz\r\n```\n"));
test("N-05 mixed line ends stay while the cell is not touched, whatever the editor makes of them", () => {
  const text = "a\r\nb\nc\n\n```js query=x\n```\n";
  checkSaved(text, (cells) => (cells[0] = { ...cells[0]!, value: "a\r\nb\r\nc" }), text);
  checkSaved(text, (cells) => (cells[1] = code("query=y")), text.replace("query=x", "query=y"));
});

test("N-25 a cell without metadata gets a canonical fence", () =>
  checkSaved("x\n", (cells) => cells.push(code("query=new\nstock")), "x\n\n```js query=new\nstock\n```\n"));
test("N-25 a cell without a header gets a name that no other has", () => {
  checkSaved("```js query=cell_1\n```\n", (cells) => cells.push(code("stock"), code(""), code("{}", "fairstrike-chart")), [
    "```js query=cell_1\n```\n",
    "```js query=cell_2\nstock\n```\n",
    "```js query=cell_3\n```\n",
    "```json chart=chart_1\n{}\n```\n",
  ].join("\n"));
});
test("N-25 the document itself keeps such a cell as it is, so that lines still agree", () => {
  const { cells } = fromEditorCells({ cells: [code("stock")], metadata: {} });
  expect(cells).toEqual([{ kind: "query", text: "stock", form: {} }]);
});
test("N-25 code in another language is a fenced block of it", () => {
  checkSaved("x\n", (cells) => cells.push(code("print('```')\n```", "python")), "x\n\n````python\nprint('```')\n```\n````\n");
  checkSaved("x\n", (cells) => cells.push(code("", "we`i rd=")), "x\n\n```weird\n```\n");
});
test("N-25 code with a header is a cell in whatever language", () =>
  checkSaved("x\n", (cells) => cells.push(code("chart=a table=b\n{}", "json"), code("query=c", "javascript")), "x\n\n```json chart=a table=b\n{}\n```\n\n```js query=c\n```\n"));
test("N-25 a header decides between query and chart", () => {
  const kinds = [code("chart=a\n{}"), code("query=b", "fairstrike-chart")].map((cell) => fromEditorCells({ cells: [cell] }).cells[0]!.kind);
  expect(kinds).toEqual(["chart", "query"]);
});
test("N-25 a code cell in Markdown is prose", () =>
  checkSaved("", (cells) => cells.push(code("text", "markdown")), "text\n"));
test("N-25 any metadata is survived", () => {
  const json = fc.jsonValue();
  const form = fc.record(
    Object.fromEntries(
      ["indent", "fence", "closing", "word", "gap", "trail", "before", "after", "raw"].map((name) => [
        name,
        fc.oneof(json, fc.constantFrom("`", "````", "~~~", "---", "\n", "\n\n", " ", "", "js", "=", "query=x", "```js query=q\nstock\n```", 2, 3.5, -1)),
      ]),
    ),
    { requiredKeys: [] },
  );
  const metadata = fc.oneof(fc.constant({}), form.map((own) => ({ fairstrike: own })), json.map((own) => ({ fairstrike: own })));
  const values = fc.constantFrom("query=q\nstock", "query=q", "text", "stock", "title: x", "");
  const languages = fc.constantFrom("fairstrike-query", "fairstrike-chart", "fairstrike-front", "fairstrike-conflict", "markdown", "python");
  const cell = fc.record({ kind: fc.constantFrom<"code" | "markup">("code", "markup"), language: languages, value: values, metadata });
  fc.assert(
    fc.property(fc.array(cell, { maxLength: 5 }), metadata, (cells, own) => {
      checkStable(fromEditorCells({ cells: cells, metadata: own }));
    }),
    { seed: 7, numRuns: 1500 },
  );
});
test("N-25 no cells at all are an empty file", () => {
  expect(save({ cells: [], metadata: {} })).toBe("");
  expect(printNotebook(fromEditorCells({ cells: [] }))).toBe("");
});
test("a form is read from a metadata's own property alone", () => {
  const metadata = Object.create({ fairstrike: { fence: "~~~" } }) as Record<string, unknown>;
  expect(fromEditorCells({ cells: [code("query=a", "fairstrike-query", metadata)] }).cells[0]!.form).toEqual({});
});

test("front matter that is not first is put first again", () =>
  checkSaved(sample, (cells) => cells.unshift(prose("above")), sample.replace("\n# Heading", "\nabove\n\n# Heading")));
test("a second front matter is kept as a block of YAML", () =>
  checkSaved("---\ntitle: x\n---\n", (cells) => cells.push(code("seed: 2", "fairstrike-front")), "---\ntitle: x\n---\n\n```yaml\nseed: 2\n```\n"));
test("a notebook without front matter has none after saving", () => checkSaved("text\n", () => undefined, "text\n"));
test("a rule that comes to stand first does not become front matter", () =>
  checkSaved("x\n\n```js query=a\n```\n\n---\ntext\n\n---\n", (cells) => cells.splice(0, 2), "\n\n---\ntext\n\n---\n".slice(1)));
test("front matter that holds a --- line stays one", () => {
  checkSaved("---\ntitle: x\n---\n", (cells) => (cells[0] = { ...cells[0]!, value: "title: x\n---\nseed: 1" }), "---\ntitle: x\n ---\nseed: 1\n---\n");
});

// ---- any sequence of edits: what the person sees is what is there after reopening

/** The cells that a person sees, in the order of the file, with what saving may add or leave out taken away. */
function seen(document: NotebookDocument): readonly string[] {
  const front = document.cells.findIndex((cell) => cell.kind === "front");
  const ordered = front > 0 ? [document.cells[front]!, ...document.cells.filter((_, i) => i !== front)] : document.cells;
  const list: string[] = [];
  let inProse = false;
  for (const { kind, text } of ordered) {
    const words = text.split(/\s+/).filter((word) => word !== "").join(" ");
    if (kind === "prose" && words === "") continue;
    if (kind === "prose" && inProse) list.push(`${list.pop()!} ${words}`);
    else list.push(kind === "prose" ? `prose ${words}` : `${kind} ${words}`);
    inProse = kind === "prose";
  }
  return list;
}

/** Printing, parsing and printing again gives the same text, and no exception comes of any of it. */
function checkStable(document: NotebookDocument): NotebookDocument {
  const text = printNotebook(document);
  const again = parseNotebook(text).value;
  expect(printNotebook(again)).toBe(text);
  return again;
}

interface Edit {
  readonly what: "split" | "join" | "move" | "copy" | "delete" | "undo" | "insert" | "type";
  readonly at: number;
  readonly to: number;
  readonly text: string;
}

const texts = ["stock", "text with `code`", "query=gap\nstock", "- item\n  - more", "<!-- note -->", "<!-- open", "```\nopen", "<script>", "<div>\nhtml", "# Heading\n=======", "```\nplain\n```", "    indented", ""];

const edits: fc.Arbitrary<readonly Edit[]> = fc.array(
  fc.record({
    what: fc.constantFrom<Edit["what"]>("split", "join", "move", "copy", "delete", "undo", "insert", "type"),
    at: fc.nat(1000),
    to: fc.nat(1000),
    text: fc.constantFrom(...texts),
  }),
  { maxLength: 8 },
);

function applyEdit(history: EditorNotebook[], { what, at, to, text }: Edit): void {
  const notebook = history.at(-1)!;
  const cells = [...notebook.cells];
  const i = cells.length === 0 ? 0 : at % cells.length;
  const j = cells.length === 0 ? 0 : to % cells.length;
  const cell = cells[i];
  if (what === "undo") {
    if (history.length > 1) history.pop();
    return;
  }
  if (what === "insert") cells.splice(j, 0, text.startsWith("query") || text === "stock" ? code(text) : prose(text));
  else if (cell === undefined) return;
  else if (what === "split") {
    const lines = cell.value.split("\n");
    const cut = to % (lines.length + 1);
    // The editor gives the first part the metadata and the second none.
    cells.splice(i, 1, { ...cell, value: lines.slice(0, cut).join("\n") }, { ...cell, value: lines.slice(cut).join("\n"), metadata: {} });
  } else if (what === "join") {
    const next = cells[i + 1];
    if (next !== undefined && next.language === cell.language) cells.splice(i, 2, { ...cell, value: `${cell.value}\n${next.value}` });
  } else if (what === "move") cells.splice(j, 0, ...cells.splice(i, 1));
  else if (what === "copy") cells.splice(j, 0, at % 2 === 0 ? { ...cell, metadata: {} } : cell);
  else if (what === "delete") cells.splice(i, 1);
  else if (cell.language !== "fairstrike-conflict") cells[i] = { ...cell, value: `${cell.value}\n${text}` };
  history.push({ ...notebook, cells });
}

test("N-16 after any edits, every line is in the file and saving again changes nothing", () => {
  fc.assert(
    fc.property(notebookPieces, edits, (text, sequence) => {
      const history = [open(text)];
      for (const edit of sequence) applyEdit(history, edit);
      const document = fromEditorCells(history.at(-1)!);
      const saved = printNotebook(document);
      checkStable(document);
      for (const cell of document.cells) for (const line of cell.text.split("\n")) expect(saved).toContain(line.trim());
    }),
    { seed: 7, numRuns: 2500 },
  );
});

const tame = fc
  .array(
    fc.constantFrom(
      "# Heading\n\ntext",
      "- item\n  - more\n\n  ```\n  code",
      "> quoted",
      "```\nplain\n```",
      "<div>\nhtml",
      "```js query=one\nshots\n```",
      "  ~~~js query=two \n  stock\n  ~~~~",
      "   ```json chart=three table=two\n   {}\n   ```",
      "````js query=four\n```\n````",
      "<<<<<<< ours\na\n=======\nb\n>>>>>>> theirs",
    ),
    { maxLength: 6 },
  )
  .map((parts) => parts.join("\n\n"));

test("N-16 after any edits, the cells are the same when opened again", () => {
  fc.assert(
    fc.property(tame, edits, (text, sequence) => {
      const history = [open(text)];
      for (const edit of sequence) applyEdit(history, edit);
      const document = fromEditorCells(history.at(-1)!);
      // What is written in a text as a cell, or a conflict taken apart, is read as what it is.
      fc.pre(proseRuns(document).every(isProse) && document.cells.every(({ kind, text }) => kind !== "conflict" || isOneConflict(text)));
      expect(seen(parseNotebook(printNotebook(document)).value).map(stripped)).toEqual(seen(named(document)).map(stripped));
    }),
    { seed: 7, numRuns: 2500 },
  );
});

/** Texts in a row, as one text each: what begins in one may end in another. */
function proseRuns(document: NotebookDocument): readonly string[] {
  const runs = [""];
  for (const { kind, text } of document.cells) {
    if (kind !== "prose") runs.push("");
    else if (text.trim() !== "") runs.push(`${runs.pop()!}\n\n${text}`);
  }
  return runs;
}

function isProse(text: string): boolean {
  return parseNotebook(`\n${text}`).value.cells.every((cell) => cell.kind === "prose");
}

function isOneConflict(text: string): boolean {
  const { cells } = parseNotebook(text).value;
  return cells.length === 1 && cells[0]!.kind === "conflict";
}

/** The document as saving names its cells. */
function named(document: NotebookDocument): NotebookDocument {
  return { ...document, cells: document.cells.map((cell) => ({ ...cell, text: hasName(cell.text) || !isCode(cell.kind) ? cell.text : `new ${cell.text}` })) };
}

function hasName(text: string): boolean {
  return headerKind(text.split("\n", 1)[0]!.trim()) !== null;
}

function isCode(kind: string): boolean {
  return kind === "query" || kind === "chart";
}

/** Without what saving adds: a name, or the line that closes a text. */
function stripped(text: string): string {
  return text.replace(/^(query|chart) (?:new|(?:query|chart)=(?:cell|chart)_\d+)/, "$1 new").replace(/(?: (?:`{3,}|~{3,}|-->|<\/script>))+$/, "").trim();
}
