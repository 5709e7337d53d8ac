import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { build } from "esbuild";
import { seededRandom } from "../core/stats/random";
import { benchSession } from "./editor/bench-session";
import { largeNotebook } from "./editor/large-notebook";
import { isOutdated, measure, pause, peakMemory, printMemory, printRow, quiet, type Measured } from "./editor/measured";
import { openNotebook, type OpenNotebook } from "./editor/open-notebook";
import { startStdioClient, type StdioClient } from "./editor/stdio-client";

const root = path.join(import.meta.dirname, "..");

/** A notebook in a client, and repeatable chance. */
interface Scene {
  readonly client: StdioClient;
  readonly open: OpenNotebook;
  readonly random: () => number;
}

/**
 * Measures what somebody waits for who types in a notebook of 200 cells over 100 000 shots: a client over stdio edits,
 * asks and waits for problems; and the same in a session file. True when every goal is met.
 */
export async function benchEditor(): Promise<boolean> {
  const folder = realpathSync(mkdtempSync(path.join(tmpdir(), "fairstrike-editor-")));
  try {
    const script = await buildServer(folder);
    const isNotebookFast = await benchNotebook(script, folder);
    return (await benchSession(script, folder)) && isNotebookFast;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function benchNotebook(script: string, folder: string): Promise<boolean> {
  const { cells, files } = largeNotebook({ cells: 200, shots: 100_000, sessions: 8 });
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    writeFileSync(path.join(folder, name), text);
  }
  console.log(`\nA notebook of ${cells.length} cells over 100 000 shots in 8 sessions, as it is typed in`);
  const client = await startStdioClient(script, { folder });
  const opening = performance.now();
  const open = await openNotebook(client, cells);
  const scene: Scene = { client, open, random: seededRandom(5) };
  // No export is waited for; but 200 cells are checked, by a program that has run nothing yet.
  const first: Measured = { words: "first completion, just opened", times: [await complete(scene, 1, "d.ball_speed > 60", " && d.", 0)], goal: 1000, fault: null };
  const place = open.at(1, 0).position;
  // Its answer needs the whole notebook to be checked.
  await client.connection.sendRequest("textDocument/codeAction", { textDocument: { uri: open.cells[1]!.uri }, range: { start: place, end: place }, context: { diagnostics: [] } });
  console.log(`  opened and checked in ${(performance.now() - opening).toFixed(0)} ms`);
  await quiet(client, 1000);
  const memoryAfterOpening = peakMemory(client.process);
  const rows = [first, ...(await completions(scene)), await besideSession(scene, files), ...(await requests(scene)), ...(await diagnostics(scene)), ...(await burst(scene))];
  await quiet(client, 500);
  for (let i = open.edits(); i < 300; i++) await editAndBack(scene);
  await quiet(client, 1000);
  const isFast = rows.map(printRow).every(Boolean);
  const isSmall = printMemory("memory after opening", memoryAfterOpening) && printMemory(`memory after ${open.edits()} edits`, peakMemory(client.process));
  const code = await client.stop();
  for (const fault of new Set(client.faults)) console.log(`  the server said: ${fault.trim().slice(0, 300)}`);
  if (code !== 0) console.log(`  the server ended with ${code}`);
  return isFast && isSmall && code === 0;
}

/** Bundles the server as it is packaged; returns the bundle's path. */
async function buildServer(folder: string): Promise<string> {
  const outfile = path.join(folder, "server.js");
  await build({
    entryPoints: [path.join(root, "server/node-main.ts")],
    outfile,
    absWorkingDir: root,
    bundle: true,
    platform: "node",
    target: "node20",
    format: "cjs",
    minifySyntax: true,
    minifyWhitespace: true,
    logLevel: "error",
    // As in scripts/build.mjs, which says why.
    alias: {
      "vega-canvas": path.join(root, "node_modules/vega-canvas/build/vega-canvas.browser.js"),
      yaml: path.join(root, "node_modules/yaml/browser/index.js"),
    },
  });
  return outfile;
}

/** A cell of one sort at random; `sort` is its place among ten. */
function someCell({ open, random }: Scene, sort: number): number {
  const count = Math.floor((open.cells.length - 1 - sort) / 10);
  return 1 + sort + 10 * Math.floor(random() * count);
}

function findIn({ open }: Scene, cell: number, words: string): number {
  const at = open.cells[cell]!.text().indexOf(words);
  if (at < 0) throw new Error(`no ${words} in ${open.cells[cell]!.text()}`);
  return at;
}

/** Types `insert` after `anchor` in a cell, asks for completion `back` characters before its end, and takes it out again. */
async function complete(scene: Scene, sort: number, anchor: string, insert: string, back: number): Promise<number> {
  const { client, open } = scene;
  const cell = someCell(scene, sort);
  const from = findIn(scene, cell, anchor) + anchor.length;
  open.edit(cell, from, from, insert);
  const start = performance.now();
  const answer = await client.connection.sendRequest<readonly unknown[] | { readonly items: readonly unknown[] } | null>(
    "textDocument/completion",
    open.at(cell, from + insert.length - back),
  );
  const time = performance.now() - start;
  const count = answer === null ? 0 : "items" in answer ? answer.items.length : answer.length;
  if (count === 0) throw new Error("nothing was suggested");
  open.edit(cell, from, from + insert.length, "");
  return time;
}

async function completions(scene: Scene): Promise<readonly Measured[]> {
  return [
    await measure("completion after a dot, text just changed", 50, 40, () => complete(scene, 1, "d.ball_speed > 60", " && d.", 0)),
    await measure("completion within quotes, text just changed", 50, 40, () => complete(scene, 0, '"stock"', ' && d.head === ""', 1)),
    await measure("completion of an option, text just changed", 50, 40, () => complete(scene, 5, 'by: "head"', ", ", 0)),
  ];
}

/** Completion in the notebook after each edit of one of its sessions, whose export is read anew. */
async function besideSession(scene: Scene, files: Readonly<Record<string, string>>): Promise<Measured> {
  const { connection, uriOf } = scene.client;
  const [name, start] = Object.entries(files).find(([path]) => path.endsWith(".session.yaml"))!;
  const uri = uriOf(name);
  let version = 1;
  await connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "yaml", version, text: start } });
  const measured = await measure("completion, a session just changed", 50, 20, async () => {
    const text = `${start}# ${version}\n`;
    await connection.sendNotification("textDocument/didChange", { textDocument: { uri, version: ++version }, contentChanges: [{ text }] });
    return complete(scene, 1, "d.ball_speed > 60", " && d.", 0);
  });
  await connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
  await quiet(scene.client, 1000);
  return measured;
}

async function requests(scene: Scene): Promise<readonly Measured[]> {
  const { client, open } = scene;
  const ask = async (method: string, sort: number, words: string): Promise<number> => {
    const cell = someCell(scene, sort);
    const start = performance.now();
    const answer = await client.connection.sendRequest(method, open.at(cell, findIn(scene, cell, words) + words.length - 1));
    if (answer === null) throw new Error("nothing was found");
    return performance.now() - start;
  };
  return [
    await measure("hover over a column", 50, 40, () => ask("textDocument/hover", 1, "d.ball_speed")),
    await measure("definition of a cell's name", 50, 40, () => ask("textDocument/definition", 3, "_means.")),
  ];
}

/** Misspells a column and waits until that is said, then mends it and waits until it is not said any more; less the pause. */
async function editAndBack(scene: Scene): Promise<readonly [number, number]> {
  const { client, open } = scene;
  const cell = someCell(scene, 1);
  const { uri } = open.cells[cell]!;
  const from = findIn(scene, cell, "d.carry *") + "d.".length;
  const wrong = client.nextPublished((each) => each.uri === uri && each.diagnostics.some(({ code }) => code === "query.unknown-column"));
  const misspelt = open.edit(cell, from, from + "carry".length, "cary");
  const said = (await wrong).at - misspelt - pause;
  const right = client.nextPublished((each) => each.uri === uri && each.diagnostics.length === 0);
  const mended = open.edit(cell, from, from + "cary".length, "carry");
  return [said, (await right).at - mended - pause];
}

async function diagnostics(scene: Scene): Promise<readonly Measured[]> {
  const { client, open } = scene;
  const back: number[] = [];
  const said = await measure("problems, less the pause of 150 ms", 100, 30, async () => {
    const [wrong, right] = await editAndBack(scene);
    back.push(right);
    return wrong;
  });
  const mended: Measured = { ...said, words: "problems taken back, less the pause", times: back.slice(1) };
  const parse = await measure("parse errors, at once", 100, 30, async () => {
    const cell = someCell(scene, 1);
    const { uri } = open.cells[cell]!;
    const from = findIn(scene, cell, "d.carry *");
    const found = client.nextPublished((each) => each.uri === uri && each.diagnostics.length > 0);
    const start = open.edit(cell, from, from, "(");
    const { at } = await found;
    const gone = client.nextPublished((each) => each.uri === uri && each.diagnostics.length === 0);
    open.edit(cell, from, from + 1, "");
    await gone;
    return at - start;
  });
  return [said, mended, parse];
}

/** L-01: 200 edits within a second in cells at random, completion asked for all the while, and what was said afterwards. */
async function burst(scene: Scene): Promise<readonly Measured[]> {
  const { client, open, random } = scene;
  await quiet(client, 500);
  const before = client.published.length;
  const asked: Promise<number | null>[] = [];
  const latest = new Map<number, string>();
  const start = performance.now();
  for (let i = 0; i < 200; i++) {
    const cell = someCell(scene, 1);
    // Each version has a mistake of its own, by which what is said of it can be told.
    const name = latest.get(cell) ?? "ball_speed";
    const at = findIn(scene, cell, `d.${name} /`) + "d.".length;
    latest.set(cell, `speed_${i}`);
    open.edit(cell, at, at + name.length, `speed_${i}`);
    if (i % 10 === 9) {
      const sent = performance.now();
      const place = open.at(cell, at);
      asked.push(
        client.connection.sendRequest("textDocument/completion", place).then(
          () => performance.now() - sent,
          (fault: unknown) => {
            if (isOutdated(fault)) return null;
            throw fault;
          },
        ),
      );
    }
    const wait = start + (i + 1) * 5 - performance.now() - random();
    if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
  }
  const took = performance.now() - start;
  const settled = await Promise.allSettled(asked);
  const times = settled.flatMap((each) => (each.status === "fulfilled" && each.value !== null ? [each.value] : []));
  const refused = settled.find((each) => each.status === "rejected");
  const outdated = settled.filter((each) => each.status === "fulfilled" && each.value === null).length;
  await quiet(client, 1000);
  // What stands on a cell with a mistake is not checked: every other ten starts from the ten before.
  const finals = new Set([...latest].filter(([cell]) => (cell - 2) % 20 === 0 || !latest.has(cell - 10)).map(([, name]) => name));
  const said = client.published.slice(before).flatMap(({ diagnostics: found }) => found.flatMap(({ message }) => /speed_\d+/u.exec(JSON.stringify(message))?.[0] ?? []));
  const late = said.filter((name) => !finals.has(name)).length;
  const found = new Set(said).size;
  console.log(`  200 edits in ${took.toFixed(0)} ms: ${late === 0 ? "only what the last versions left was said" : `${late} problems of older versions were said`}, ${found} of ${finals.size} mistakes found; ${outdated} of ${asked.length} requests came too late for their text`);
  for (const [cell, name] of latest) {
    const at = findIn(scene, cell, `d.${name} /`) + "d.".length;
    open.edit(cell, at, at + name.length, "ball_speed");
  }
  const fault = refused !== undefined ? String(refused.reason) : late > 0 || found < finals.size ? "wrong versions" : times.length === 0 ? "no request was answered" : null;
  return [{ words: "completion during 200 edits in a second", times, goal: 100, fault }];
}
