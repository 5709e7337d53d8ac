import { defaultLimits } from "../../core/limits";
import type { Problem } from "../../core/problem";
import { applyEdits } from "../../core/session/apply-edits";
import type { LoadedSession } from "../../core/session-loader";
import { createSessionLoader } from "../../core/session-loader";
import { isShotColumn, shotColumns } from "../../core/table/shot-columns";
import type { ShotColumn } from "../../core/table/shot-columns";
import type { Table } from "../../core/table/table";
import { findColumn, valueAt } from "../../core/table/table";
import type { Unit } from "../../core/units";
import { convert } from "../../core/units";
import type { ReadingsPlan } from "../../scripts/misreads/invent-readings";
import { inventReadings } from "../../scripts/misreads/invent-readings";
import { memoryFiles } from "./memory-files";

/** How an invented session is written: whatever is left out is written as it is. */
export interface ExportPlan extends Omit<ReadingsPlan, "seed"> {
  readonly seed?: number;
  /** Columns whose signs are turned in the export while the session says nothing of it. */
  readonly turned?: readonly ShotColumn[];
  /** Units in which the export has a column while the session states its usual one. */
  readonly written?: Partial<Record<ShotColumn, Unit>>;
  /** Entries of `columns` to stand in the place of the usual ones, `null` for none; headers are column names in capitals. */
  readonly entries?: Partial<Record<ShotColumn, string | null>>;
  /** A row of units under the header. */
  readonly unitsRow?: boolean;
}

/** An invented session as two texts. */
export interface InventedFiles {
  readonly session: string;
  readonly csv: string;
}

/** An invented session as a session file and its export. */
export function inventedFiles(plan: ExportPlan): InventedFiles {
  const { turned = [], written = {}, entries = {}, unitsRow = false } = plan;
  const { table } = inventReadings({ ...plan, seed: plan.seed ?? 3, shots: plan.shots ?? 48 });
  const columns = table.columns.filter(({ name, kind }) => kind === "number" && isShotColumn(name) && shotColumns[name].group !== "identity").map(({ name }) => name as ShotColumn);
  const header = ["No", "Club", ...columns.map(headerOf)];
  const units = ["", "", ...columns.map((name) => unitOf(table, name))];
  const rows = Array.from({ length: table.rowCount }, (_, row) => [row + 1, valueAt(findColumn(table, "head")!, row), ...columns.map((name) => valueOf(table, name, row, { turned, written }))]);
  const csv = [header, ...(unitsRow ? [units] : []), ...rows].map((fields) => `${fields.join(",")}\n`).join("");
  const maps = columns.flatMap((name) => {
    const positive = shotColumns[name].direction === null ? "" : `, positive: ${shotColumns[name].direction[0]}`;
    const entry = entries[name] === undefined ? `{ from: ${headerOf(name)}, unit: ${unitOf(table, name)}${positive} }` : entries[name];
    return entry === null ? [] : [`  ${name}: ${entry}`];
  });
  const heads = table.sessions[0]!.heads.map(({ name, kind }) => `  ${name}: { kind: ${kind}, strike_reference: { x: 0 mm, y: 0 mm } }`);
  const session = ["session: invented", "data: synthetic", "sources: [{ file: a.csv, order: shot }]", `player: { name: P1, hand: ${plan.hand ?? "right"} }`, "columns:", '  shot: "No"', "  head: Club", ...maps, "heads:", ...heads, ""].join("\n");
  return { session, csv };
}

function headerOf(name: ShotColumn): string {
  return name.toUpperCase();
}

function unitOf(table: Table, name: ShotColumn): Unit {
  const column = findColumn(table, name);
  return (column?.kind === "number" ? column.unit : null) ?? "m";
}

function valueOf(table: Table, name: ShotColumn, row: number, { turned, written }: { readonly turned: readonly ShotColumn[]; readonly written: Partial<Record<ShotColumn, Unit>> }): string {
  const value = valueAt(findColumn(table, name)!, row) as number;
  const signed = turned.includes(name) ? -value : value;
  return String(Number(convert(signed, unitOf(table, name), written[name] ?? unitOf(table, name)).toFixed(3)));
}

/** The session loaded as the editor and the command line load it. */
export function loadInvented({ session, csv }: InventedFiles): Promise<LoadedSession> {
  return createSessionLoader(memoryFiles({ "i.session.yaml": session, "a.csv": csv }), defaultLimits).load("i.session.yaml");
}

/** What is said of units and signs, and errors; single values that a wrong unit makes implausible are left out. */
export async function conventionsOf(files: InventedFiles): Promise<readonly Problem[]> {
  const { problems } = await loadInvented(files);
  return problems.filter(({ severity, code }) => severity !== "info" && code !== "value.out-of-range");
}

/** The files with every fix of the problems made in the session. */
export function withFixes(files: InventedFiles, problems: readonly Problem[]): InventedFiles {
  return { ...files, session: applyEdits(files.session, problems.flatMap(({ fix }) => fix?.edits ?? [])) };
}
