import { writeFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import type { CodeAction, TextDocumentEdit, TextEdit } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { largestCopied } from "../../../core/table/corrected-copy";
import { startClient } from "../../support/language-client";
import { notebookText, smallExport, smallSession } from "../../support/small-session";

const front = ["fairstrike-front", "shots: s/one.session.yaml"] as const;

test("a misspelt column is underlined where it stands, and no longer when it is mended", async () => {
  const { openNotebook, changeCell, expectAt } = await startClient();
  const [, a, b] = await openNotebook([front, ["fairstrike-query", "query=a\nshots.filter(d => d.cary > 1)"], ["fairstrike-query", "query=b\na.count()"]]);
  await expectAt(a!, ["1:20-24 query.unknown-column"]);
  await expectAt(b!, ["1:0-1 run.blocked"]);
  await changeCell(a!, 2, "query=a\nshots.filter(d => d.carry > 1)");
  await expectAt(a!, []);
  await expectAt(b!, []);
});

test("L-01 of many changes in a row only what the last one left is ever said", async () => {
  const { openNotebook, changeCell, expectAt, sent } = await startClient();
  const [, a] = await openNotebook([front, ["fairstrike-query", "query=a\nshots.first()"]]);
  await expectAt(a!, ["1:6-11 query.unknown-verb"]);
  sent.length = 0;
  const texts = Array.from({ length: 199 }, (_, i) => (i === 198 ? "query=a\nshots.filter(d => d.cary > 1)" : `query=a\nshots.verb${i}()`));
  await Promise.all(texts.map((text, i) => changeCell(a!, i + 2, text)));
  await expectAt(a!, ["1:20-24 query.unknown-column"]);
  expect(sent).toEqual([`${a!}: 1:20-24 query.unknown-column`]);
});

test("a session's text counts as it is open, unsaved, for itself and for the notebooks that name it", async () => {
  const { openNotebook, openText, changeText, closeText, expectAt, uriOf } = await startClient();
  const session = uriOf("s/one.session.yaml");
  const [top, a] = await openNotebook([front, ["fairstrike-query", 'query=a\nshots.filter(d => d.head === "Wren")']]);
  await openText(session, smallSession("one").replace("  Wren: { kind: iron", "  Wren: { kind: spoon"));
  await expectAt(session, ["11:16-21 session.wrong-choice"]);
  await changeText(session, 2, smallSession("one", "gone.csv"));
  await expectAt(session, ["2:18-26 run.file"]);
  await expectAt(top!, ["0:7-25 run.no-shots"]);
  await expectAt(a!, ["1:0-5 run.blocked"]);
  await closeText(session);
  await expectAt(session, []);
  await expectAt(top!, []);
  await expectAt(a!, []);
});

test("a value that cannot be read is underlined in the export, until the file is changed", async () => {
  const { openText, connection, expectAt, uriOf, folder } = await startClient({ "s/small.csv": smallExport.replace("150.0", "far") });
  await openText(uriOf("s/one.session.yaml"), smallSession("one"));
  await expectAt(uriOf("s/small.csv"), ["1:13-16 value.not-a-number"]);
  writeFileSync(path.join(folder, "s/small.csv"), smallExport);
  await connection.sendNotification("workspace/didChangeWatchedFiles", { changes: [{ uri: uriOf("s/small.csv"), type: 2 }] });
  await expectAt(uriOf("s/small.csv"), []);
});

test("L-02 what was said of a cell is taken back with the cell, and of a notebook when it is closed", async () => {
  const { openNotebook, removeCell, closeNotebook, expectAt, uriOf } = await startClient({ "s/small.csv": smallExport.replace("150.0", "far") });
  const [top, a, b] = await openNotebook([front, ["fairstrike-query", "query=a\nnothing"], ["fairstrike-query", "query=b\nnothing"]]);
  await expectAt(a!, ["1:0-7 query.unknown-table"]);
  await expectAt(b!, ["1:0-7 query.unknown-table"]);
  await removeCell(a!, 2, 1);
  await expectAt(a!, []);
  await expectAt(uriOf("s/small.csv"), ["1:13-16 value.not-a-number"]);
  await closeNotebook([top!, b!]);
  await expectAt(b!, []);
  await expectAt(uriOf("s/small.csv"), []);
});

test("other documents, and older versions that a comparison shows, are not checked, and nothing is said of places in them", async () => {
  const { openText, connection, expectAt, sent, uriOf } = await startClient();
  const older = (path: string): string => `git:${uriOf(path).slice("file:".length)}?ref`;
  await openText(uriOf("n.md"), "session: none of this");
  await openText(older("s/one.session.yaml"), "not: a session");
  await openText(older("n.shots.md").replace("?ref", ""), notebookText("shots: s/one.session.yaml", "query=a\nshots.nothing()"));
  await openText(uriOf("s/one.session.yaml"), smallSession("one").replace("  Wren: { kind: iron", "  Wren: { kind: spoon"));
  await expectAt(uriOf("s/one.session.yaml"), ["11:16-21 session.wrong-choice"]);
  expect(sent).toHaveLength(1);
  const symbols = (uri: string) => connection.sendRequest("textDocument/documentSymbol", { textDocument: { uri } });
  for (const uri of [uriOf("n.md"), older("n.shots.md").replace("?ref", ""), older("s/one.session.yaml")]) expect(await symbols(uri)).toEqual([]);
});

test("a fix asked for just after a change is one of the version that it was asked for, and mends it", async () => {
  const { openNotebook, changeCell, connection, expectAt } = await startClient();
  const [, a] = await openNotebook([front, ["fairstrike-query", "query=a\nshots.first()"]]);
  await expectAt(a!, ["1:6-11 query.unknown-verb"]);
  const text = "query=a\n\nshots.filter(d => d.cary > 1)";
  const place = { line: 2, character: 21 };
  await changeCell(a!, 2, text);
  const [action] = await connection.sendRequest<CodeAction[]>("textDocument/codeAction", { textDocument: { uri: a! }, range: { start: place, end: place }, context: { diagnostics: [] } });
  expect(action?.isPreferred).toBe(true);
  const [change, ...others] = action!.edit!.documentChanges as TextDocumentEdit[];
  expect([change!.textDocument, others]).toEqual([{ uri: a, version: 2 }, []]);
  await changeCell(a!, 3, TextDocument.applyEdits(TextDocument.create(a!, "", 2, text), change!.edits as TextEdit[]));
  await expectAt(a!, []);
});

test("a fix of an export edits its session at the version that is open, by a copy of the export no larger than is allowed", async () => {
  const { openText, connection, expectAt, reads, uriOf } = await startClient({ "s/small.csv": smallExport.replace("Side", "") });
  const [session, csv] = [uriOf("s/one.session.yaml"), uriOf("s/small.csv")];
  await openText(session, smallSession("one").replace("Side", "column 5"));
  await expectAt(csv, ["0:25-25 csv.empty-header"]);
  const place = { line: 0, character: 25 };
  const [action] = await connection.sendRequest<CodeAction[]>("textDocument/codeAction", { textDocument: { uri: csv }, range: { start: place, end: place }, context: { diagnostics: [] } });
  expect(action?.edit?.documentChanges).toMatchObject([{ kind: "create" }, { textDocument: { version: null } }, { textDocument: { uri: session, version: 1 } }]);
  expect(reads.at(-1)).toBe(`s/small.csv ${largestCopied + 1}`);
});

test("a text that cannot be read is underlined at once, be it of a cell, a notebook or a session, however long its files take", async () => {
  let giveFiles = (): void => undefined;
  const mayRead = new Promise<void>((resolve) => void (giveFiles = resolve));
  const { openNotebook, openText, changeText, expectAt, uriOf } = await startClient({}, mayRead);
  const [, a] = await openNotebook([front, ["fairstrike-query", "query=a\nshots.count("]]);
  await expectAt(a!, ["1:11-12 query.syntax"]);
  const [session, text] = [uriOf("s/one.session.yaml"), uriOf("m.shots.md")];
  await openText(text, notebookText("shots: s/one.session.yaml", "query=a\nshots.count("));
  await expectAt(text, ["5:11-12 query.syntax"]);
  await openText(session, smallSession("one"));
  await changeText(session, 2, smallSession("one").replace("  head: Club", "  head: [Club"));
  await expectAt(session, ["6:8-9 yaml.syntax"]);
  giveFiles();
});

test("what is wrong in a session's own text is said, and taken back, however long its exports take, though a notebook names it", async () => {
  let giveFiles = (): void => undefined;
  const mayRead = new Promise<void>((resolve) => void (giveFiles = resolve));
  const { openNotebook, openText, changeText, expectAt, uriOf } = await startClient({}, mayRead);
  const session = uriOf("s/one.session.yaml");
  await openNotebook([front]);
  await openText(session, smallSession("one").replace("  Wren: { kind: iron", "  Wren: { kind: spoon"));
  await expectAt(session, ["11:16-21 session.wrong-choice"]);
  await changeText(session, 2, smallSession("one").replace("  head: Club", "  head: [Club"));
  await expectAt(session, ["6:8-9 yaml.syntax"]);
  await changeText(session, 3, smallSession("one"));
  await expectAt(session, []);
  giveFiles();
});
