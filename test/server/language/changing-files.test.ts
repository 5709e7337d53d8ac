import { renameSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import type { CompletionItem } from "vscode-languageserver";
import { editorExportBytes } from "../../../core/limits";
import { startClient } from "../../support/language-client";
import { smallExport, smallSession } from "../../support/small-session";

const session = "s/one.session.yaml";
const front = ["fairstrike-front", `shots: ${session}`] as const;

/** The small export with its shots over and over, `megabytes` long or little more, and a value that is none in its last row. */
function longExport(megabytes: number): string {
  const [header, ...rows] = smallExport.trimEnd().split("\n");
  const block = `${rows.join("\n")}\n`;
  return `${header}\n${block.repeat(Math.ceil((megabytes * 1024 * 1024) / block.length))}13,Wren,far,150.0,1.0\n`;
}

test("L-06 of an export of 50 MB the beginning is checked, which is said with its lines, while the server goes on answering", async () => {
  const { connection, openText, openNotebook, expectAt, messagesAt, reads, uriOf } = await startClient({ "s/small.csv": longExport(50) });
  // No shot is numbered twice.
  await openText(uriOf(session), smallSession("one").replace("order: shot", "order: file").replace('  shot: "No"\n', ""));
  const [top] = await openNotebook([["fairstrike-front", "se"]]);
  const asked = connection.sendRequest<CompletionItem[]>("textDocument/completion", { textDocument: { uri: top! }, position: { line: 0, character: 2 } });
  expect((await asked).map(({ label }) => label)).toContain("seed");
  await expectAt(uriOf("s/small.csv"), ["0:0-1 csv.checked-in-part"]);
  expect(messagesAt(uriOf("s/small.csv"))).toMatch(/only the beginning of this file is checked here: lines 1 to \d{6}, 1\d(?:\.\d)? MB of 5\d(?:\.\d)? MB/u);
  expect(new Set(reads.filter((each) => each.startsWith("s/small.csv")))).toEqual(new Set([`s/small.csv ${editorExportBytes}`]));
}, 60_000);

test("L-07 an export and a session that are edited, renamed and deleted outside are told of in all that name them", async () => {
  const { connection, openNotebook, expectAt, folder, uriOf } = await startClient();
  const [csv, file] = [path.join(folder, "s/small.csv"), path.join(folder, session)];
  const changed = (...files: readonly (readonly [name: string, type: 1 | 2 | 3])[]) =>
    connection.sendNotification("workspace/didChangeWatchedFiles", { changes: files.map(([name, type]) => ({ uri: uriOf(name), type })) });
  const [top, a] = await openNotebook([front, ["fairstrike-query", 'query=a\nshots.filter(d => d.head === "Wren")']]);
  await expectAt(a!, []);
  writeFileSync(csv, smallExport.replace("150.0", "far"));
  await changed(["s/small.csv", 2]);
  await expectAt(uriOf("s/small.csv"), ["1:13-16 value.not-a-number"]);
  renameSync(csv, path.join(folder, "s/moved.csv"));
  await changed(["s/small.csv", 3], ["s/moved.csv", 1]);
  await expectAt(uriOf("s/small.csv"), []);
  await expectAt(uriOf(session), ["2:18-27 run.file"]);
  await expectAt(top!, ["0:7-25 run.no-shots"]);
  await expectAt(a!, ["1:0-5 run.blocked"]);
  writeFileSync(file, smallSession("one", "moved.csv"));
  await changed([session, 2]);
  await expectAt(uriOf(session), []);
  await expectAt(a!, []);
  await expectAt(uriOf("s/moved.csv"), ["1:13-16 value.not-a-number"]);
  rmSync(file);
  await changed([session, 3]);
  await expectAt(uriOf("s/moved.csv"), []);
  await expectAt(top!, ["0:7-25 run.file"]);
}, 60_000);
