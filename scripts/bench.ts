import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import path from "node:path";
import { desc, fromCSV, op, table, type ColumnTable } from "arquero";
import type { FilePort } from "../core/file-port";
import { defaultLimits } from "../core/limits";
import { parseNotebook } from "../core/notebook/parse-notebook";
import { printNotebook } from "../core/notebook/print-notebook";
import { presentOutcome } from "../core/present/present-outcome";
import { checkQuery } from "../core/query/check-query";
import { runQuery } from "../core/query/run-query";
import { createEngine } from "../core/run-notebook";
import { loadShots } from "../core/session/load-shots";
import { readSession } from "../core/session/read-session";
import { schemaOf } from "../core/table/schema";
import { findColumn, type Table } from "../core/table/table";
import { vocabulary } from "../core/vocabulary";
import { benchCalibration } from "./bench-calibration";
import { benchEditor } from "./bench-editor";
import { benchFlight } from "./bench-flight";
import { benchMisreads } from "./bench-misreads";
import { benchStatistics } from "./bench-statistics";
import { benchTablePages } from "./bench-tables";
import { inventExport, inventSession, stream } from "./invented-session";
import { race, report } from "./race";
import { quietContext } from "./quiet-context";

/**
 * Measures what a person waits for, beside plain Arquero and a loop over typed arrays in the same run. The ratios
 * carry over to other machines; the milliseconds do not.
 *
 *   npm run bench              10 thousand, 100 thousand and 1 million rows
 *   npm run bench -- 10000     these rows only
 *   npm run bench -- statistics
 *                              the verbs of the trade only, beside R where it is installed
 *   npm run bench -- pages     paging through a finished table of a million rows only
 *   npm run bench -- flight    100 thousand simulated flights only, beside SciPy where it is installed
 *   npm run bench -- editor    what somebody waits for who types: completion, problems, memory
 *   npm run bench -- misreads  which planted misreads are found, on synthetic sessions
 *   npm run bench -- calibration 1000
 *                              how often compare is right, on so many synthetic sessions of each truth
 */
async function main(): Promise<void> {
  const words = process.argv.slice(2);
  const asked = words.map(Number).filter((number) => number > 0);
  if (words.includes("calibration")) {
    process.exitCode = benchCalibration(asked[0] ?? 1000) ? 0 : 1;
    return;
  }
  if (words.includes("editor")) {
    process.exitCode = (await benchEditor()) ? 0 : 1;
    return;
  }
  if (words.includes("statistics")) return benchStatistics();
  if (words.includes("pages")) return benchTablePages(asked[0]);
  if (words.includes("flight")) return benchFlight(asked[0]);
  if (words.includes("misreads")) return benchMisreads(asked[0]);
  for (const rows of asked.length > 0 ? asked : [10_000, 100_000, 1_000_000]) benchTables(rows);
  benchTablePages();
  benchNotebook(500);
  await benchCells(1000);
  benchStatistics();
  benchFlight();
  benchProcess();
}

const heads = ["Wren", "Heron", "Plover", "Dunlin", "Curlew", "Knot", "Ruff", "Teal"];

const sessionText = inventSession("bench", heads);

function exportBytes(rows: number): Uint8Array {
  return new TextEncoder().encode(inventExport(rows, heads, stream(7)));
}

const context = quietContext(1);

function benchTables(rows: number): void {
  const bytes = exportBytes(rows);
  const text = new TextDecoder().decode(bytes);
  const session = readSession(sessionText).value;
  if (session === null) throw new Error("the session of the benchmark cannot be read");
  const files = new Map([["bench.csv", bytes]]);
  const loaded: Table[] = [];
  const load = race(rows > 500_000 ? 2 : 4, {
    "Fairstrike: check, type, derive": () => {
      const { value } = loadShots(session, files, defaultLimits);
      if (value === null) throw new Error("the export of the benchmark cannot be loaded");
      loaded[0] = value;
    },
    "Arquero: fromCSV": () => fromCSV(text).numRows(),
  });
  report(`Loading ${rows} rows, 12 columns, ${(bytes.length / 1e6).toFixed(1)} MB`, load, "Arquero: fromCSV");
  benchQuery(rows, loaded[0]!);
}

/** The same columns as an Arquero table: numbers as typed arrays, heads as strings. */
function asArquero(source: Table): ColumnTable {
  const numbers = (name: string): Float64Array => {
    const column = findColumn(source, name);
    if (column?.kind !== "number") throw new Error(`there is no number column ${name}`);
    return column.values;
  };
  const head = findColumn(source, "head");
  if (head?.kind !== "text") throw new Error("there is no column head");
  return table({ Club: Array.from(head.codes, (code) => head.labels[code]), Ball: numbers("ball_speed"), Carry: numbers("carry") });
}

function benchQuery(rows: number, shots: Table): void {
  const other = asArquero(shots);
  const body =
    'shots.filter(d => d.ball_speed > 114).groupby("head").rollup({ mean: op.mean("carry"), sd: op.sd("carry"), shots: op.count() })';
  const around = {
    vocabulary,
    tables: new Map([["shots", schemaOf(shots)]]),
    cells: new Set(["shots"]),
    tableNames: () => ["shots"],
    sessions: () => null,
    units: "yd-mph" as const,
    limits: defaultLimits,
  };
  const tables = new Map([["shots", shots]]);
  const checked = checkQuery(body, 0, around).value;
  if (checked === null) throw new Error("the query of the benchmark cannot be read");
  const medians = race(rows > 500_000 ? 5 : 15, {
    "Fairstrike: checked cell": () => runQuery(checked, tables, context, vocabulary),
    "Arquero: its own expressions": () =>
      other
        .filter((d: { Ball: number }) => d.Ball > 114)
        .groupby("Club")
        .rollup({ mean: op.mean("Carry"), sd: op.stdev("Carry"), shots: op.count() })
        .orderby(desc("mean"))
        .objects(),
    "typed-array loop": () => typedLoop(shots),
  });
  report(`Filter, group, mean and SD of ${rows} rows`, medians, "Arquero: its own expressions");
}

/** The same answer by the shortest loop that gives it: what no general query can beat. */
function typedLoop(shots: Table): Float64Array {
  const head = findColumn(shots, "head");
  const ball = findColumn(shots, "ball_speed");
  const carry = findColumn(shots, "carry");
  if (head?.kind !== "text" || ball?.kind !== "number" || carry?.kind !== "number") throw new Error("a column is not there");
  const sums = new Float64Array(head.labels.length * 3);
  for (let row = 0; row < shots.rowCount; row++) {
    if (!(ball.values[row]! > 114)) continue;
    const at = head.codes[row]! * 3;
    sums[at]! += 1;
    sums[at + 1]! += carry.values[row]!;
  }
  for (let row = 0; row < shots.rowCount; row++) {
    if (!(ball.values[row]! > 114)) continue;
    const at = head.codes[row]! * 3;
    sums[at + 2]! += (carry.values[row]! - sums[at + 1]! / sums[at]!) ** 2;
  }
  return sums;
}

/** What opening a notebook costs the editor's host: text to cells, and back when it is saved. */
function benchNotebook(cells: number): void {
  const text = `---\nfairstrike: 1\nshots: s.session.yaml\n---\n\n${Array.from(
    { length: cells / 2 },
    (_, i) => `Prose ${i} with *some* words.\n\n\`\`\`js query=cell_${i}\nshots.filter(d => d.carry > ${i})\n\`\`\`\n`,
  ).join("\n")}`;
  const medians = race(10, {
    "open: read as cells": () => parseNotebook(text),
    "save: read and print": () => printNotebook(parseNotebook(text).value),
  });
  report(`A notebook of ${cells} cells (goal: open below 300 ms)`, medians, "open: read as cells");
}

/** What one cell costs on a session of ordinary size, everything loaded, with its check and its presentation. */
async function benchCells(rows: number): Promise<void> {
  const bytes = exportBytes(rows);
  const files: FilePort = {
    read: (file) => {
      const found = file === "bench.csv" ? bytes : file === "s.session.yaml" ? new TextEncoder().encode(sessionText) : null;
      return Promise.resolve(found === null ? { ok: false, reason: "missing" } : { ok: true, bytes: found, digest: file });
    },
    list: () => Promise.resolve([]),
  };
  const bodies = {
    "filter, group, mean and SD": 'shots.filter(d => d.ball_speed > 114).groupby("head").rollup({ mean: op.mean("carry"), sd: op.sd("carry") })',
    "describe eight heads": 'shots.describe({ of: "carry" })',
    "compare three heads": 'shots.filter(d => op.any_of(d.head, "Wren", "Heron", "Plover")).compare({ of: "carry" })',
    "compare eight heads": 'shots.compare({ of: "carry" })',
    "chart.landing": "chart.landing(shots)",
  };
  const medians: Record<string, number> = {};
  for (const [name, body] of Object.entries(bodies)) {
    const times: number[] = [];
    const engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: () => 0 });
    for (let round = 0; round < 12; round++) {
      // A comment makes each round's text new, so that no result is kept.
      const text = `---\nfairstrike: 1\nshots: s.session.yaml\n---\n\n\`\`\`js query=a\n${body} // ${round}\n\`\`\`\n`;
      const { value } = parseNotebook(text);
      const start = performance.now();
      const { cells } = await engine.run(value, "n.shots.md");
      for (const cell of cells) presentOutcome(cell, defaultLimits);
      if (cells[0]?.status !== "ok") throw new Error(`${name}: ${cells[0]?.problems.map((found) => found.message).join("; ")}`);
      if (round > 1) times.push(performance.now() - start);
    }
    medians[name] = times.sort((x, y) => x - y)[times.length >> 1]!;
  }
  report(`One cell on ${rows} shots (goal: below 50 ms)`, medians, "filter, group, mean and SD");
}

/** What a person waits for at a terminal: a process from its start to its end. */
function benchProcess(): void {
  const cli = path.join(import.meta.dirname, "../dist/cli.mjs");
  if (!existsSync(cli)) return console.log("\nThe command line is not built: npm run build.");
  const samples = path.join(import.meta.dirname, "../sample-notebooks");
  const medians = race(5, {
    "node alone": () => spawnSync(process.execPath, ["-e", "0"]),
    "fairstrike run three-irons": () => spawnSync(process.execPath, [cli, "run", "three-irons.shots.md"], { cwd: samples }),
  });
  report("The sample headless, as a process (goal: below 1.5 s)", medians, "node alone");
}

await main();
