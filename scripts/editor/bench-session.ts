import { writeFileSync } from "node:fs";
import path from "node:path";
import type { Position } from "vscode-languageserver/node";
import { lineTable } from "../../core/text-position";
import { inventExport, inventSession, stream } from "../invented-session";
import { measure, pause, peakMemory, printMemory, printRow, quiet, type Measured } from "./measured";
import { startStdioClient, type StdioClient } from "./stdio-client";

const heads = ["Wren", "Heron", "Plover", "Dunlin"];

/** A session file that is open in a client: its text changes with each edit. */
interface OpenSession {
  readonly client: StdioClient;
  readonly uri: string;
  readonly text: () => string;
  /** Puts `insert` in the place of the first `words` and tells the server; `performance.now()` of just before. */
  readonly edit: (words: string, insert: string) => number;
  /** Asks for completion behind the first `words`; the labels, and the milliseconds that it took. */
  readonly complete: (words: string) => Promise<{ readonly labels: readonly string[]; readonly took: number }>;
}

/**
 * Measures what somebody waits for who types in a session file with an export of 100 000 shots: the first completion, with
 * the export not read yet, those that follow, and problems. True when every goal is met.
 */
export async function benchSession(script: string, folder: string): Promise<boolean> {
  writeFileSync(path.join(folder, "big.csv"), inventExport(100_000, heads, stream(7)));
  console.log("\nA session file with an export of 100 000 shots, as it is typed in");
  const client = await startStdioClient(script, { folder });
  const open = openSession(client, "big.session.yaml", inventSession("big", heads));
  const rows = [await first(open), ...(await completions(open)), ...(await problems(open))];
  await quiet(client, 500);
  const isFast = rows.map(printRow).every(Boolean);
  const isSmall = printMemory("memory", peakMemory(client.process));
  const code = await client.stop();
  for (const fault of new Set(client.faults)) console.log(`  the server said: ${fault.trim().slice(0, 300)}`);
  return isFast && isSmall && code === 0;
}

function openSession(client: StdioClient, name: string, start: string): OpenSession {
  const uri = client.uriOf(name);
  let text = start;
  let version = 1;
  void client.connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "yaml", version, text } });
  const find = (words: string): number => {
    const at = text.indexOf(words);
    if (at < 0) throw new Error(`no ${words} in ${text}`);
    return at;
  };
  const placeOf = (offset: number): Position => {
    const { line, column } = lineTable(text).positionAt(offset);
    return { line: line - 1, character: column - 1 };
  };
  return {
    client,
    uri,
    text: () => text,
    edit: (words, insert) => {
      const from = find(words);
      const range = { start: placeOf(from), end: placeOf(from + words.length) };
      text = text.slice(0, from) + insert + text.slice(from + words.length);
      const at = performance.now();
      void client.connection.sendNotification("textDocument/didChange", { textDocument: { uri, version: ++version }, contentChanges: [{ range, text: insert }] });
      return at;
    },
    complete: async (words) => {
      const position = placeOf(find(words) + words.length);
      const asked = performance.now();
      const found = await client.connection.sendRequest<Labelled | { readonly items: Labelled }>("textDocument/completion", { textDocument: { uri }, position });
      return { labels: ("items" in found ? found.items : found).map(({ label }) => label), took: performance.now() - asked };
    },
  };
}

type Labelled = readonly { readonly label: string }[];

/** The first completion, asked for as soon as the file is open. */
async function first({ complete }: OpenSession): Promise<Measured> {
  const { labels, took } = await complete("kind: ");
  return { words: "first completion, just opened", times: [took], goal: 50, fault: labels.includes("iron") ? null : "nothing was suggested" };
}

async function completions({ client, edit, complete }: OpenSession): Promise<readonly Measured[]> {
  const once = async (words: string, insert: string, wanted: string): Promise<number> => {
    edit(words, insert);
    const { labels, took } = await complete(insert);
    edit(insert, words);
    if (!labels.includes(wanted)) throw new Error(`${wanted} was not suggested`);
    return took;
  };
  const meanwhile = await measure("completion of a value, export being read", 50, 40, () => once("kind: iron", "kind: i", "iron"));
  await untilRead(complete);
  await quiet(client, 500);
  return [
    meanwhile,
    await measure("completion of a header, text just changed", 50, 40, () => once("from: Carry", "from: C", "Carry")),
    await measure("completion of a key, text just changed", 50, 40, () => once("date: 2026-01-01", "dat", "date")),
  ];
}

/** Waits until the headers of the export are known. */
async function untilRead(complete: OpenSession["complete"]): Promise<void> {
  while (!(await complete("from: ")).labels.includes("Carry")) await new Promise((resolve) => setTimeout(resolve, 50));
}

/** Writes a head of no kind and waits until that is said, then mends it and waits until it is not said any more. */
async function problems({ client, uri, edit }: OpenSession): Promise<readonly Measured[]> {
  const back: number[] = [];
  await quiet(client, 1000);
  const said = await measure("problems, less the pause of 150 ms", 100, 10, async () => {
    const wrong = client.nextPublished((each) => each.uri === uri && each.diagnostics.some(({ code }) => code === "session.wrong-choice"));
    const misspelt = edit("kind: iron", "kind: spoon");
    const took = (await wrong).at - misspelt - pause;
    const right = client.nextPublished((each) => each.uri === uri && each.diagnostics.length === 0);
    const mended = edit("kind: spoon", "kind: iron");
    back.push((await right).at - mended - pause);
    return took;
  });
  return [said, { ...said, words: "problems taken back, less the pause", times: back.slice(1) }];
}
