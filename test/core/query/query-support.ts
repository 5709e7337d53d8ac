import { defaultLimits, type Limits } from "../../../core/limits";
import type { Problem } from "../../../core/problem";
import { checkQuery, type CheckedQuery } from "../../../core/query/check-query";
import { runQuery, type QueryOutcome } from "../../../core/query/run-query";
import type { RunContext, Vocabulary } from "../../../core/query/vocabulary";
import { schemaOf, type Schema } from "../../../core/table/schema";
import { valueAt, type Table } from "../../../core/table/table";
import { lineTable } from "../../../core/text-position";
import { vocabulary } from "../../../core/vocabulary";
import { headTable, shotTable } from "./sample-shots";

/** The header line that stands above every cell of these tests; bodies begin on line 2. */
export const header = "query=result\n";

/** Tables that the cells of these tests can name. */
export const sampleTables: ReadonlyMap<string, Table> = new Map([
  ["shots", shotTable()],
  ["stock", shotTable()],
  ["heads", headTable()],
]);

const nowhere = { start: { line: 1, column: 1 }, end: { line: 1, column: 1 } };

/** What a test may change. */
export interface Setting {
  readonly tables?: ReadonlyMap<string, Table>;
  readonly cells?: readonly string[];
  readonly limits?: Partial<Limits>;
  readonly checkpoint?: () => void;
  readonly seed?: number;
  readonly vocabulary?: Vocabulary;
}

/** A cell with the given body, checked. */
export function check(body: string, setting: Setting = {}): { readonly value: CheckedQuery | null; readonly problems: readonly Problem[] } {
  const tables = setting.tables ?? sampleTables;
  const schemas = new Map<string, Schema>([...tables].map(([name, table]) => [name, schemaOf(table)]));
  return checkQuery(header + body, header.length, {
    vocabulary: setting.vocabulary ?? vocabulary,
    tables: schemas,
    cells: new Set(setting.cells ?? schemas.keys()),
    tableNames: () => [...(setting.cells ?? schemas.keys())],
    sessions: (path) => (path === "spring.session.yaml" ? schemaOf(shotTable()) : null),
    units: "yd-mph",
    choices: [{ kind: "values", name: "head", nameRange: nowhere, column: "head", columnRange: nowhere, values: null }],
    limits: { ...defaultLimits, ...setting.limits },
  });
}

/** A cell with the given body, checked and run; it must have no errors before it runs. */
export function run(body: string, setting: Setting = {}): QueryOutcome {
  const checked = check(body, setting);
  const error = checked.problems.find((found) => found.severity === "error");
  if (error !== undefined) throw new Error(`${body}: ${error.message}`);
  const context: RunContext = {
    limits: { ...defaultLimits, ...setting.limits },
    units: "yd-mph",
    margins: {},
    seed: setting.seed ?? 7,
    warn: () => {
      throw new Error("warnings are placed by the runner");
    },
    checkpoint: setting.checkpoint ?? ((): void => {}),
  };
  return runQuery(checked.value!, setting.tables ?? sampleTables, context, setting.vocabulary ?? vocabulary);
}

/** The table that a cell with the given body gives. */
export function runTable(body: string, setting: Setting = {}): Table {
  const { value, problems } = run(body, setting);
  if (value?.type !== "table") throw new Error(`no table: ${problems.map((found) => found.message).join("; ")}`);
  return value;
}

/** A table as an object of lists, in the order of its columns. */
export function listsOf(table: Table): Record<string, (number | string | boolean | null)[]> {
  return Object.fromEntries(
    table.columns.map((column) => [column.name, Array.from({ length: table.rowCount }, (_, row) => valueAt(column, row))]),
  );
}

/** Codes of problems, each with the text it is placed on: `query.unknown-column carri`. */
export function placed(body: string, problems: readonly Problem[]): string[] {
  const text = header + body;
  const lines = lineTable(text);
  return problems.map((found) => `${found.code} ${text.slice(lines.offsetAt(found.range.start), lines.offsetAt(found.range.end))}`);
}

/** The body after the first fix that its problems offer. */
export function fixed(body: string): string {
  const text = header + body;
  const lines = lineTable(text);
  const fix = check(body).problems.find((found) => found.fix !== undefined)?.fix;
  if (fix === undefined) throw new Error("no problem has a fix");
  const edits = [...fix.edits].sort((a, b) => lines.offsetAt(b.range.start) - lines.offsetAt(a.range.start));
  return edits
    .reduce((changed, { range, text: by }) => changed.slice(0, lines.offsetAt(range.start)) + by + changed.slice(lines.offsetAt(range.end)), text)
    .slice(header.length);
}
