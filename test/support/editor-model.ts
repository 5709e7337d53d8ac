import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { CancellationTokenSource, ResponseError, type Position, type Range } from "vscode-languageserver/node";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";
import { lineTable } from "../../core/text-position";
import type { StdioClient } from "../../scripts/editor/stdio-client";
import type { WholeAnswer, WholeParams } from "../../server/language/requests";
import { smallExport, smallSession } from "./small-session";

/** A text as it is in the editor. */
export interface ModelText {
  readonly uri: string;
  readonly language: string;
  version: number;
  text: string;
}

/** What an editor has open: a notebook with cells, and texts. */
export interface ModelState {
  notebook: { readonly uri: string; version: number; cells: ModelText[]; isOpen: boolean };
  readonly texts: Map<string, ModelText>;
}

/** An editor that does things at random, sane and insane ones, and knows what its documents must be afterwards. */
export interface EditorModel {
  readonly state: ModelState;
  /** What was done, in words. */
  readonly log: readonly string[];
  readonly step: () => void;
  readonly whole: (params: WholeParams) => WholeAnswer;
  /** Settles when every request was answered: errors that no request may be answered with. */
  readonly wrongAnswers: () => Promise<readonly string[]>;
}

const bodies = [
  "shots.filter(d => d.carry > 150)",
  "shots.filter(d => d.cary > 150)",
  'a.groupby("head").rollup({ far: op.mean("carry") })',
  'b.select("far")',
  'shots.compare({ of: "carry", by: "head" })',
  'shots.filter(d => d.head === "Wren',
  "text`Wren 😀 carries ${a.one(\"carry\")}`",
  'const x = a.slice(0, 2)\r\nx.derive({ "é": d => d.carry * 2 })',
  "shots\n  .orderby(op.desc(\n",
  "",
];
const specs = ['{ "mark": "point", "encoding": { "x": { "field": "carry" } } }', '{\n  "mark": "point",\r\n  "encoding": { "y": { "field": "😀" }\n}', "{ "];
const headers = ["query=a", "query=b", "query=c", "query=a x", 'chart=d table=shots description="Carry"', "chart=e table=a", ""];
const pieces = ["", "", ".", '"', "d.carry", "\n", "\r\n", "\r", "😀", "\ud83d", "é", " ", "shots", "`", "}", "(", "// ", "query=b"];
const oddNumbers = [-1, -(2 ** 31), 1.5, 2 ** 31, 1e9, 99_999];

/** What may be answered besides a result: the request was cancelled, is out of date, or cannot be done. */
const fairCodes: ReadonlySet<number> = new Set([-32800, -32801, -32802, -32803]);

/** Actions after which a server has, or asks for, a whole document. */
const mending: ReadonlySet<string> = new Set(["an odd range in a cell", "an odd change of the structure", "an unknown cell", "open it again", "close it and open it", "an odd range in a text"]);

/** Returns an editor whose documents are in the folder `name` below `folder`; the notebook is opened at once. */
export function createEditorModel(client: StdioClient, folder: string, name: string, random: () => number): EditorModel {
  const { connection } = client;
  const below = (min: number, end: number): number => min + Math.floor(random() * (end - min));
  const pick = <T>(list: readonly T[]): T => list[below(0, list.length)]!;
  const log: string[] = [];
  const answers: Promise<string | null>[] = [];
  let sent: (readonly [method: string, params: object, uri: string])[] = [];
  const notebookUri = client.uriOf(`${name}/n.shots.md`);
  const sessionUri = client.uriOf(`${name}/one.session.yaml`);
  const textUris = [client.uriOf(`${name}/m.shots.md`), sessionUri, notebookUri];
  const texts = new Map<string, ModelText>();
  let cellsMade = 0;

  const newCell = (language: string, text: string, uri = `vscode-notebook-cell:${notebookUri.slice("file:".length)}#c${cellsMade++}`): ModelText => ({ uri, language, version: 1, text });
  const someCell = (): ModelText => {
    const isChart = random() < 0.25;
    const text = [pick(headers), pick(isChart ? specs : bodies)].filter((part) => part !== "").join("\n");
    return newCell(random() < 0.08 ? pick([languageOfKind.front, languageOfKind.conflict]) : isChart ? languageOfKind.chart : languageOfKind.query, text);
  };
  const front = newCell(languageOfKind.front, "shots: one.session.yaml");
  const notebook: ModelState["notebook"] = { uri: notebookUri, version: 1, cells: [front, someCell(), someCell(), someCell()], isOpen: false };
  const state: ModelState = { notebook, texts };

  function send(method: string, params: object): void {
    log.push(`${method} ${JSON.stringify(params).slice(0, 600)}`);
    void connection.sendNotification(method, params);
  }

  /** Sends a change, which may be sent again later. */
  function sendChange(method: string, params: object, uri: string): void {
    sent.push([method, params, uri]);
    send(method, params);
  }

  const item = ({ uri, language, version, text }: ModelText) => ({ uri, languageId: language, version, text });
  const cellOf = ({ uri }: ModelText) => ({ kind: 2, document: uri });

  function openNotebook(): void {
    notebook.isOpen = true;
    send("notebookDocument/didOpen", { notebookDocument: { uri: notebookUri, notebookType, version: notebook.version, cells: notebook.cells.map(cellOf) }, cellTextDocuments: notebook.cells.map(item) });
  }

  function closeNotebook(): void {
    notebook.isOpen = false;
    send("notebookDocument/didClose", { notebookDocument: { uri: notebookUri }, cellTextDocuments: notebook.cells.map(({ uri }) => ({ uri })) });
  }

  function tellNotebook(cells: unknown): void {
    notebook.version += pick([1, 1, 1, 7]);
    sendChange("notebookDocument/didChange", { notebookDocument: { uri: notebookUri, version: notebook.version }, change: { cells } }, notebookUri);
  }

  function positionOf(text: string, offset: number): Position {
    const { line, column } = lineTable(text).positionAt(offset);
    return { line: line - 1, character: column - 1 };
  }

  /** One to three changes of a text, each on what the ones before left: in its middle, in a surrogate pair, in a CRLF. */
  function change(document: ModelText): readonly object[] {
    document.version += pick([1, 1, 3]);
    return Array.from({ length: below(1, 4) }, () => {
      const { text } = document;
      const from = below(0, text.length + 1);
      const to = random() < 0.6 ? from : Math.min(text.length, from + below(0, 8));
      const insert = random() < 0.05 ? pick(bodies) : pick(pieces);
      if (random() < 0.1) {
        document.text = insert;
        return { text: insert };
      }
      document.text = text.slice(0, from) + insert + text.slice(to);
      return { range: { start: positionOf(text, from), end: positionOf(text, to) }, text: insert };
    });
  }

  function oddRange({ text }: ModelText): Range {
    const end = lineTable(text).lineCount - 1;
    const odd = pick(oddNumbers);
    const place = { line: 0, character: 0 };
    return pick<Range>([
      { start: { line: odd, character: 0 }, end: { line: odd, character: 0 } },
      { start: place, end: { line: 0, character: odd } },
      { start: place, end: { line: end + 1, character: 0 } },
      { start: { line: end + 3, character: 2 }, end: place },
      ...(end > 0 ? [{ start: { line: end, character: 0 }, end: place }] : []),
    ]);
  }

  function someOpen(): ModelText {
    return pick([...notebook.cells, ...texts.values()]);
  }

  const inNotebook: Readonly<Record<string, () => void>> = {
    "edit a cell": () => {
      const cell = pick(notebook.cells);
      const changes = change(cell);
      // An editor may tell of a cell before its notebook counts the change.
      if (random() < 0.3) notebook.version -= 1;
      tellNotebook({ textContent: [{ document: { uri: cell.uri, version: cell.version }, changes }] });
    },
    "edit two cells": () => {
      const textContent = [...new Set([pick(notebook.cells), pick(notebook.cells)])].map((cell) => {
        const changes = change(cell);
        return { document: { uri: cell.uri, version: cell.version }, changes };
      });
      tellNotebook({ textContent });
    },
    "add cells": () => {
      const start = below(0, notebook.cells.length + 1);
      const cells = Array.from({ length: below(1, 3) }, someCell);
      notebook.cells.splice(start, 0, ...cells);
      tellNotebook({ structure: { array: { start, deleteCount: 0, cells: cells.map(cellOf) }, didOpen: cells.map(item) } });
    },
    "remove cells": () => {
      const start = below(0, notebook.cells.length);
      const removed = notebook.cells.splice(start, Math.min(below(1, 3), notebook.cells.length - 1));
      tellNotebook({ structure: { array: { start, deleteCount: removed.length }, didClose: removed.map(({ uri }) => ({ uri })) } });
    },
    "move a cell": () => {
      const [from, to] = [below(0, notebook.cells.length), below(0, notebook.cells.length)];
      const [moved] = notebook.cells.splice(from, 1);
      notebook.cells.splice(to, 0, moved!);
      const start = Math.min(from, to);
      const deleteCount = Math.abs(from - to) + 1;
      tellNotebook({ structure: { array: { start, deleteCount, cells: notebook.cells.slice(start, start + deleteCount).map(cellOf) } } });
    },
    "move a cell in two messages": () => {
      const from = below(0, notebook.cells.length);
      const [moved] = notebook.cells.splice(from, 1);
      tellNotebook({ structure: { array: { start: from, deleteCount: 1 }, didClose: [{ uri: moved!.uri }] } });
      const to = below(0, notebook.cells.length + 1);
      notebook.cells.splice(to, 0, moved!);
      tellNotebook({ structure: { array: { start: to, deleteCount: 0, cells: [cellOf(moved!)] }, didOpen: [item(moved!)] } });
    },
    "change a cell's kind": () => {
      const start = below(0, notebook.cells.length);
      const { uri, text } = notebook.cells[start]!;
      const other = newCell(pick([languageOfKind.query, languageOfKind.chart, languageOfKind.front, languageOfKind.conflict]), text, uri);
      notebook.cells[start] = other;
      tellNotebook({ structure: { array: { start, deleteCount: 1, cells: [cellOf(other)] }, didOpen: [item(other)], didClose: [{ uri }] } });
    },
    "tell the execution of a cell": () => tellNotebook({ data: [{ ...cellOf(pick(notebook.cells)), executionSummary: { executionOrder: 1 } }] }),
    "an odd range in a cell": () => {
      const cell = pick(notebook.cells);
      cell.version += 1;
      const good = { range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text: "x" };
      const odd = { range: oddRange(cell), text: "x" };
      tellNotebook({ textContent: [{ document: { uri: cell.uri, version: cell.version }, changes: random() < 0.5 ? [odd] : [good, odd] }] });
    },
    "an odd change of the structure": () => {
      const count = notebook.cells.length;
      const stranger = someCell();
      tellNotebook({
        structure: pick<object>([
          { array: { start: -1, deleteCount: 0 } },
          { array: { start: 0, deleteCount: count + 1 } },
          { array: { start: count + 2, deleteCount: 0, cells: [cellOf(stranger)] }, didOpen: [item(stranger)] },
          { array: { start: 0, deleteCount: 0, cells: [cellOf(stranger)] } },
          { array: { start: 0, deleteCount: 0, cells: [cellOf(notebook.cells[0]!)] } },
          { array: { start: 0.5, deleteCount: 1 } },
        ]),
      });
    },
    "an unknown cell": () => tellNotebook({ textContent: [{ document: { uri: `${notebookUri}#nowhere`, version: 3 }, changes: [{ text: "x" }] }] }),
    "open it again": openNotebook,
    "close it and open it": () => {
      closeNotebook();
      if (random() < 0.8) openNotebook();
    },
  };

  const anywhere: Readonly<Record<string, () => void>> = {
    "the last change again": () => {
      const last = sent.at(-1);
      if (last !== undefined) send(last[0], last[1]);
    },
    "a change from before": () => {
      const [method, params] = sent[below(0, sent.length)] ?? [];
      if (method !== undefined && params !== undefined) send(method, params);
    },
    "the last change once more": () => anywhere["the last change again"]!(),
    "an unknown notebook": () =>
      send("notebookDocument/didChange", { notebookDocument: { uri: `${notebookUri}.none`, version: 9 }, change: { cells: { structure: { array: { start: 0, deleteCount: 1 } } } } }),
    "close an unknown notebook": () => send("notebookDocument/didClose", { notebookDocument: { uri: `${notebookUri}.none` }, cellTextDocuments: [] }),
    "open or close a text": () => {
      const uri = pick(textUris);
      if (texts.delete(uri)) {
        // Versions begin anew with the text, so that nothing can tell a change of its life before from a new one.
        sent = sent.filter(([, , owner]) => owner !== `text ${uri}`);
        return send("textDocument/didClose", { textDocument: { uri } });
      }
      const isSession = uri === sessionUri;
      const cell = someCell().text;
      const text = isSession ? smallSession("one") : `---\nshots: one.session.yaml\n---\n\n# 😀\n\n\`\`\`js ${cell}\n\`\`\`\r\n`;
      const opened = { uri, language: isSession ? "yaml" : "markdown", version: 1, text };
      texts.set(uri, opened);
      send("textDocument/didOpen", { textDocument: item(opened) });
    },
    "edit a text": () => {
      const text = [...texts.values()][below(0, texts.size)];
      if (text === undefined) return;
      const contentChanges = change(text);
      sendChange("textDocument/didChange", { textDocument: { uri: text.uri, version: text.version }, contentChanges }, `text ${text.uri}`);
    },
    "an odd range in a text": () => {
      const text = [...texts.values()][below(0, texts.size)];
      if (text === undefined) return;
      text.version += 1;
      sendChange("textDocument/didChange", { textDocument: { uri: text.uri, version: text.version }, contentChanges: [{ range: oddRange(text), text: "x" }] }, `text ${text.uri}`);
    },
    "an unknown text": () => send("textDocument/didChange", { textDocument: { uri: `${sessionUri}.none`, version: 2 }, contentChanges: [{ text: "x" }] }),
    "change a file": changeFile,
    "ask": ask,
    "ask again": ask,
    "ask once more": ask,
  };

  function writeFile(file: string, text: string): void {
    mkdirSync(path.join(folder, name), { recursive: true });
    writeFileSync(path.join(folder, name, file), text);
  }

  function changeFile(): void {
    const changed = (file: string, type: number) => ({ uri: client.uriOf(`${name}/${file}`), type });
    const file = pick(["one.session.yaml", "small.csv"]);
    const done = pick<() => readonly object[]>([
      () => {
        rmSync(path.join(folder, name, file), { force: true });
        return [changed(file, 3)];
      },
      () => {
        writeFile("small.csv", smallExport.replace("150.0", pick(["far", "150.0", "9000", ""])));
        return [changed("small.csv", 2)];
      },
      () => {
        const moved = pick(["small.csv", "moved.csv"]);
        writeFile("one.session.yaml", smallSession("one", moved));
        writeFile(moved, smallExport);
        return [changed("one.session.yaml", 2), changed(moved, 1)];
      },
    ])();
    send("workspace/didChangeWatchedFiles", { changes: done });
  }

  /** Asks something at a place that may not be there, and takes the question back at once, a little later or never. */
  function ask(): void {
    const document = someOpen();
    const textDocument = { uri: random() < 0.05 ? `${notebookUri}#nowhere` : document.uri };
    const position = random() < 0.1 ? oddRange(document).start : positionOf(document.text, below(0, document.text.length + 1));
    const range = { start: { line: 0, character: 0 }, end: position };
    const [method, more] = pick<readonly [string, object]>([
      ["completion", { position }],
      ["hover", { position }],
      ["signatureHelp", { position }],
      ["definition", { position }],
      ["references", { position, context: { includeDeclaration: random() < 0.5 } }],
      ["documentHighlight", { position }],
      ["prepareRename", { position }],
      ["rename", { position, newName: pick(["far", "a", "", "é x", "__proto__"]) }],
      ["documentSymbol", {}],
      ["foldingRange", {}],
      ["documentLink", {}],
      ["inlayHint", { range }],
      ["semanticTokens/full", {}],
      ["formatting", { options: { tabSize: 2, insertSpaces: true } }],
      ["codeAction", { range, context: { diagnostics: [] } }],
    ]);
    log.push(`ask ${method} ${JSON.stringify({ textDocument, ...more })}`);
    const source = new CancellationTokenSource();
    const answer = connection.sendRequest(`textDocument/${method}`, { textDocument, ...more }, source.token).then(
      () => null,
      (error: unknown) => (error instanceof ResponseError && fairCodes.has(error.code) ? null : `${method}: ${error instanceof Error ? error.message : String(error)}`),
    );
    answers.push(answer);
    const patience = random();
    if (patience < 0.3) source.cancel();
    else if (patience < 0.6) setTimeout(() => source.cancel(), patience * 30);
  }

  // What makes a server ask for the whole document also mends whatever went wrong before: most editors do none of it.
  const isCalm = random() < 0.7;
  const possible = (actions: Readonly<Record<string, () => void>>): readonly string[] => Object.keys(actions).filter((action) => !isCalm || !mending.has(action));

  function step(): void {
    if (!notebook.isOpen) return openNotebook();
    const actions = random() < 0.6 ? inNotebook : anywhere;
    const action = pick(possible(actions));
    log.push(`— ${action}`);
    actions[action]!();
  }

  writeFile("one.session.yaml", smallSession("one"));
  writeFile("small.csv", smallExport);
  openNotebook();
  return {
    state,
    log,
    step,
    whole: ({ uri, kind }) => {
      const own = ({ uri: where, language, version, text }: ModelText) => ({ uri: where, language, version, text });
      if (kind === "notebook") return uri === notebookUri && notebook.isOpen ? { kind, version: notebook.version, cells: notebook.cells.map(own) } : null;
      const text = texts.get(uri);
      return text === undefined ? null : { kind, ...own(text) };
    },
    wrongAnswers: async () => (await Promise.all(answers)).filter((answer) => answer !== null),
  };
}
