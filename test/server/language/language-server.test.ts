import { writeFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { startClient } from "../../support/language-client";
import { smallExport, smallSession } from "../../support/small-session";

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
  const { openNotebook, openText, connection, expectAt, uriOf } = await startClient();
  const session = uriOf("s/one.session.yaml");
  const [top, a] = await openNotebook([front, ["fairstrike-query", 'query=a\nshots.filter(d => d.head === "Wren")']]);
  await openText(session, smallSession("one").replace("  Wren: { kind: iron", "  Wren: { kind: spoon"));
  await expectAt(session, ["11:16-21 session.wrong-choice"]);
  await connection.sendNotification("textDocument/didChange", { textDocument: { uri: session, version: 2 }, contentChanges: [{ text: smallSession("one", "gone.csv") }] });
  await expectAt(session, ["2:18-26 run.file"]);
  await expectAt(top!, ["0:7-25 run.no-shots"]);
  await expectAt(a!, ["1:0-5 run.blocked"]);
  await connection.sendNotification("textDocument/didClose", { textDocument: { uri: session } });
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
  const { openNotebook, connection, expectAt, uriOf } = await startClient({ "s/small.csv": smallExport.replace("150.0", "far") });
  const [top, a, b] = await openNotebook([front, ["fairstrike-query", "query=a\nnothing"], ["fairstrike-query", "query=b\nnothing"]]);
  await expectAt(a!, ["1:0-7 query.unknown-table"]);
  await expectAt(b!, ["1:0-7 query.unknown-table"]);
  await connection.sendNotification("notebookDocument/didChange", {
    notebookDocument: { uri: uriOf("n.shots.md"), version: 2 },
    change: { cells: { structure: { array: { start: 1, deleteCount: 1, cells: [] }, didClose: [{ uri: a! }] } } },
  });
  await expectAt(a!, []);
  await expectAt(uriOf("s/small.csv"), ["1:13-16 value.not-a-number"]);
  await connection.sendNotification("notebookDocument/didClose", { notebookDocument: { uri: uriOf("n.shots.md") }, cellTextDocuments: [{ uri: top! }, { uri: b! }] });
  await expectAt(b!, []);
  await expectAt(uriOf("s/small.csv"), []);
});

test("other documents, and older versions that a comparison shows, are not checked", async () => {
  const { openText, expectAt, sent, uriOf } = await startClient();
  await openText(uriOf("n.shots.md"), "session: none of this");
  await openText(`git:${uriOf("s/one.session.yaml").slice("file:".length)}?ref`, "not: a session");
  await openText(uriOf("s/one.session.yaml"), smallSession("one").replace("  Wren: { kind: iron", "  Wren: { kind: spoon"));
  await expectAt(uriOf("s/one.session.yaml"), ["11:16-21 session.wrong-choice"]);
  expect(sent).toHaveLength(1);
});
