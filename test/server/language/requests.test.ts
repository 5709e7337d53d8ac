import { expect, test } from "vitest";
import { DocumentHighlightKind, type CompletionItem, type CompletionList, type DocumentHighlight, type DocumentSymbol, type Hover, type Location, type SignatureHelp, type TextDocumentEdit, type TextEdit, type WorkspaceEdit } from "vscode-languageserver";
import { startClient, type LanguageClient } from "../../support/language-client";
import { notebookText, smallSession } from "../../support/small-session";

const front = ["fairstrike-front", "shots: s/one.session.yaml"] as const;
const stock = ["fairstrike-query", 'query=stock\nshots.derive({ curve: d => d.offline * 2 }).filter(d => d.head === "Wren")'] as const;
const gap = ["fairstrike-query", 'query=gap\nstock.compare({ of: "curve", by: "head" })'] as const;
const drawn = ["fairstrike-chart", 'chart=drawn table=stock description="Curve"\n{ "mark": "point", "encoding": { "x": { "field": "curve" } } }'] as const;

/** A place in a document: the end of the first `text` in its `line`. */
function after(document: string, line: number, text: string): { textDocument: { uri: string }; position: { line: number; character: number } } {
  const found = documents.get(document)!.split("\n")[line]!;
  const at = found.indexOf(text);
  if (at < 0) throw new RangeError(`no ${text} in ${found}`);
  return { textDocument: { uri: document }, position: { line, character: at + text.length } };
}

/** Texts of the open documents, for `after`. */
const documents = new Map<string, string>();

async function openCells(client: LanguageClient, ...cells: readonly (readonly [string, string])[]): Promise<readonly string[]> {
  const uris = await client.openNotebook(cells);
  uris.forEach((uri, index) => documents.set(uri, cells[index]![1]));
  return uris;
}

async function openText(client: LanguageClient, uri: string, text: string): Promise<string> {
  documents.set(uri, text);
  await client.openText(uri, text);
  return uri;
}

const labelsOf = (given: CompletionItem[] | CompletionList): readonly string[] => ("items" in given ? given.items : given).map((item) => item.label);

test("columns of the table before a verb are suggested in a cell, derived ones among them", async () => {
  const client = await startClient();
  const [, , b] = await openCells(client, front, stock, ["fairstrike-query", "query=b\nstock.filter(d => d.c)"]);
  const items = await client.connection.sendRequest<CompletionItem[]>("textDocument/completion", after(b!, 1, "d.c"));
  expect(labelsOf(items)).toEqual(expect.arrayContaining(["carry", "curve"]));
  const carry = items.find((item) => item.label === "carry")!;
  expect(carry.textEdit).toEqual({ range: { start: { line: 1, character: 20 }, end: { line: 1, character: 21 } }, newText: "carry" });
});

test("heads are suggested within the text that they are compared with", async () => {
  const client = await startClient();
  const [, b] = await openCells(client, front, ["fairstrike-query", 'query=b\nshots.filter(d => d.head === "W")']);
  const items = await client.connection.sendRequest<CompletionItem[]>("textDocument/completion", after(b!, 1, '"W'));
  expect(labelsOf(items)).toEqual(expect.arrayContaining(["Heron", "Wren"]));
  expect(items.find((item) => item.label === "Wren")!.textEdit).toEqual({ range: { start: { line: 1, character: 30 }, end: { line: 1, character: 31 } }, newText: "Wren" });
});

test("hover, signature, symbols, and highlights are answered in a cell", async () => {
  const client = await startClient();
  const [, a, b] = await openCells(client, front, stock, gap);
  const hover = await client.connection.sendRequest<Hover>("textDocument/hover", after(a!, 1, "d.off"));
  expect(JSON.stringify(hover.contents)).toContain("yd");
  const signature = await client.connection.sendRequest<SignatureHelp>("textDocument/signatureHelp", after(b!, 1, 'of: "cur'));
  expect(signature.signatures[0]!.label).toContain("compare");
  const symbols = await client.connection.sendRequest<DocumentSymbol[]>("textDocument/documentSymbol", { textDocument: { uri: a } });
  expect(symbols.map((symbol) => symbol.name)).toEqual(["stock"]);
  const highlights = await client.connection.sendRequest<unknown[]>("textDocument/documentHighlight", after(a!, 0, "query=sto"));
  expect(highlights).toHaveLength(1);
});

test("a cell's name is found and renamed wherever it stands, in header, query, and chart", async () => {
  const client = await startClient();
  const [, a, b, c] = await openCells(client, front, stock, gap, drawn);
  const references = await client.connection.sendRequest<Location[]>("textDocument/references", { ...after(a!, 0, "query=sto"), context: { includeDeclaration: true } });
  expect(references.map((found) => found.uri)).toEqual([a, b, c]);
  const { documentChanges } = await client.connection.sendRequest<WorkspaceEdit>("textDocument/rename", { ...after(b!, 1, "sto"), newName: "struck" });
  const changes = documentChanges as TextDocumentEdit[];
  expect(changes.map(({ textDocument }) => [textDocument.uri, textDocument.version])).toEqual([a, b, c].map((uri) => [uri, 1]));
  expect(changes[2]!.edits).toEqual([{ range: { start: { line: 0, character: 18 }, end: { line: 0, character: 23 } }, newText: "struck" }]);
  await expect(client.connection.sendRequest("textDocument/rename", { ...after(b!, 1, "sto"), newName: "gap" })).rejects.toThrow(/gap/u);
});

test("the definition of a shot column is its line in the session file", async () => {
  const client = await startClient();
  const [, a] = await openCells(client, front, stock);
  const found = await client.connection.sendRequest<Location[]>("textDocument/definition", after(a!, 1, "d.off"));
  const line = smallSession("one").split("\n").findIndex((each) => each.startsWith("  offline:"));
  expect(found[0]).toMatchObject({ uri: client.uriOf("s/one.session.yaml"), range: { start: { line } } });
});

test("a head is highlighted and found wherever its session file names it", async () => {
  const client = await startClient();
  const text = `${smallSession("one")}corrections:\n  - { shots: 2, column: head, value: Wren, because: noted }\n`;
  const lines = text.split("\n");
  const uri = await openText(client, client.uriOf("s/one.session.yaml"), text);
  const declared = lines.findIndex((each) => each.startsWith("  Wren:"));
  const at = after(uri, declared, "  Wr");
  const highlights = await client.connection.sendRequest<DocumentHighlight[]>("textDocument/documentHighlight", at);
  expect(highlights.map(({ range, kind }) => [range.start.line, kind])).toContainEqual([declared, DocumentHighlightKind.Write]);
  const others = await client.connection.sendRequest<Location[]>("textDocument/references", { ...at, context: { includeDeclaration: false } });
  expect(others).toHaveLength(1);
  expect(highlights).toHaveLength(2);
  expect(others.every((found) => found.uri === uri && found.range.start.line !== declared)).toBe(true);
});

test("L-04 a notebook that is open as text has the same problems, said where they stand in the file", async () => {
  const client = await startClient();
  const text = notebookText("shots: s/one.session.yaml", "query=a\nshots.filter(d => d.cary > 1)");
  const uri = await openText(client, client.uriOf("n.shots.md"), text);
  const line = text.split("\n").findIndex((each) => each.includes("cary"));
  await client.expectAt(uri, [`${line}:20-24 query.unknown-column`]);
  const items = await client.connection.sendRequest<CompletionItem[]>("textDocument/completion", after(uri, line, "d.cary"));
  expect(items.find((item) => item.label === "carry")!.textEdit).toMatchObject({ range: { start: { line, character: 20 }, end: { line, character: 24 } } });

  const [, a] = await openCells(client, front, ["fairstrike-query", "query=a\nshots.filter(d => d.cary > 1)"]);
  await client.expectAt(a!, ["1:20-24 query.unknown-column"]);
  await client.expectAt(uri, []);
});

test("formatting a cell keeps its first line, and formatting a text its prose", async () => {
  const client = await startClient();
  const long = 'query=a\nshots.filter(d=>d.head==="Wren")';
  const [, a] = await openCells(client, front, ["fairstrike-query", long]);
  const options = { tabSize: 2, insertSpaces: true };
  const edits = await client.connection.sendRequest<TextEdit[]>("textDocument/formatting", { textDocument: { uri: a }, options });
  expect(edits.length).toBeGreaterThan(0);
  expect(edits.every((edit) => edit.range.start.line >= 1)).toBe(true);
  const text = `# A  title\n\n${notebookText("shots: s/one.session.yaml", long)}`.replace(/^# A {2}title\n\n/u, "") + "\nSome   prose\n";
  const uri = await openText(client, client.uriOf("m.shots.md"), text);
  const whole = await client.connection.sendRequest<TextEdit[]>("textDocument/formatting", { textDocument: { uri }, options });
  expect(whole.length).toBeGreaterThan(0);
  expect(whole.every((edit) => text.split("\n")[edit.range.start.line]!.includes("shots.filter"))).toBe(true);
});

test("keys, headers, and their meaning are known in a session file", async () => {
  const client = await startClient();
  const uri = await openText(client, client.uriOf("s/one.session.yaml"), `${smallSession("one")}car\n`);
  const line = smallSession("one").split("\n").length - 1;
  const items = await client.connection.sendRequest<CompletionItem[] | CompletionList>("textDocument/completion", after(uri, line, "car"));
  expect(labelsOf(items)).toContain("carry_is");
  const hover = await client.connection.sendRequest<Hover>("textDocument/hover", after(uri, 4, "colum"));
  expect(hover).not.toBeNull();
  const symbols = await client.connection.sendRequest<DocumentSymbol[]>("textDocument/documentSymbol", { textDocument: { uri } });
  expect(symbols.map((symbol) => symbol.name)).toEqual(expect.arrayContaining(["columns", "heads"]));
});

test("cells that are being begun in a notebook that is open as text are completed, whatever ends its lines", async () => {
  const client = await startClient();
  const uri = await openText(client, client.uriOf("m.shots.md"), "---\r\nfairstrike: 1\r\nshots: s/\r\nun\r\n\r\n```js ");
  const ask = (line: number, text: string): Promise<CompletionItem[]> => client.connection.sendRequest("textDocument/completion", after(uri, line, text));
  expect((await ask(3, "un")).find(({ label }) => label === "units")?.textEdit).toMatchObject({ range: { start: { line: 3, character: 0 }, end: { line: 3, character: 2 } } });
  expect(labelsOf(await ask(2, "shots: s/"))).toContain("s/one.session.yaml");
  expect(labelsOf(await ask(5, "```js "))).toEqual(["query=", "chart="]);
});

test("headers that are not known yet leave the list of suggestions incomplete", async () => {
  let letRead = (): void => {};
  const client = await startClient({}, new Promise((resolve) => (letRead = resolve)));
  const uri = await openText(client, client.uriOf("s/one.session.yaml"), smallSession("one"));
  const ask = (): Promise<CompletionItem[] | CompletionList> => client.connection.sendRequest("textDocument/completion", after(uri, 7, "from: "));
  expect(await ask()).toEqual({ isIncomplete: true, items: [] });
  letRead();
  await expect.poll(ask, { timeout: 10_000 }).toBeInstanceOf(Array);
  expect(labelsOf(await ask())).toContain("Ball speed");
});

test("L-05 a request that is cancelled, or about a document that is not open, ends without harm", async () => {
  const client = await startClient();
  const [, a] = await openCells(client, front, stock);
  for (const method of ["completion", "hover", "definition", "signatureHelp", "documentHighlight"])
    expect([null, "[]"]).toContainEqual(await client.connection.sendRequest(`textDocument/${method}`, { textDocument: { uri: "file:///nowhere.shots.md" }, position: { line: 3, character: 3 } }).then((answer) => (answer === null ? null : JSON.stringify(answer))));
  const hover = await client.connection.sendRequest<Hover>("textDocument/hover", after(a!, 1, "d.off"));
  expect(hover).not.toBeNull();
});
