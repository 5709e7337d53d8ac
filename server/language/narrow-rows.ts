import { contentKey } from "../../core/content-key";
import type { FilePort } from "../../core/file-port";
import { defaultLimits, type Limits } from "../../core/limits";
import type { CheckedQuery } from "../../core/query/check-query";
import type { TableExpression } from "../../core/query/table-expression";
import { createEngine, type Engine } from "../../core/run-notebook";
import type { Table } from "../../core/table/table";
import { vocabulary } from "../../core/vocabulary";
import { uriOf, type FilesAround } from "./diagnoser";
import type { PlacedNotebook } from "./placed-notebook";

/** Bytes of an export whose shots are counted here, 4 MB: some 20 000 shots, read in a fraction of a second. */
const mostBytes = 4 * 1024 * 1024;

/** What counting may cost: it holds up every other answer. */
const limits: Limits = { ...defaultLimits, rows: 100_000, values: 5_000_000, steps: 20_000_000, cellTime: 1_000 };

/** Time after the last count for which rows are held: a person who narrows asks again and again. */
const heldMilliseconds = 60_000;

/** Gives the rows that are counted for a person who narrows a table. */
export interface NarrowRows {
  /**
   * The table that a cell would give if this were its text. `null` where it cannot be had, or not at once: shots are too
   * many, or a verb before it is more than looking rows through.
   *
   * @param document the notebook, for which files are read: no cell of it.
   */
  readonly tableOf: (placed: PlacedNotebook, cell: number, text: string, document: string) => Promise<Table | null>;
}

/** What is read of the notebook that was asked about last. */
interface Held {
  readonly root: string;
  readonly engine: Engine;
  document: string;
}

/** Returns what counts rows; it holds those of the notebook that was asked about last, for a minute. */
export function createNarrowRows(around: FilesAround): NarrowRows {
  let held: Held | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;

  function heldAt(root: string, document: string): Held {
    clearTimeout(timer);
    timer = setTimeout(() => (held = null), heldMilliseconds);
    if (held?.root === root) {
      held.document = document;
      return held;
    }
    const textOf = (path: string): string | null => around.openText(uriOf(root, path));
    const files: FilePort = {
      read: async (path) => {
        const text = textOf(path);
        if (text !== null) return { ok: true, bytes: new TextEncoder().encode(text), digest: contentKey(text) };
        const read = await around.read(made.document, path, mostBytes + 1);
        return read.ok && (read.size ?? read.bytes.length) > mostBytes ? { ok: false, reason: "too large" } : read;
      },
      list: (folder) => around.list(made.document, folder),
      isCurrent: async (path, digest) => {
        const text = textOf(path);
        return text === null ? around.isCurrent(made.document, path, digest) : contentKey(text) === digest;
      },
    };
    const made: Held = { root, document, engine: createEngine({ files, vocabulary, limits, clock: () => performance.now() }) };
    held = made;
    return made;
  }

  return {
    tableOf: async (placed, cell, text, document) => {
      const { view, root } = placed;
      if (!neededBy(placed, cell).every(isQuick)) return null;
      const cells = view.cells.map(({ kind, text: own }, index) => (index === cell ? { kind: "query" as const, text, form: {} } : { kind, text: own, form: {} }));
      const { engine } = heldAt(root, document);
      const { cells: outcomes } = await engine.run({ cells, lineEnd: "\n", mark: false }, view.path, { only: [cell] });
      const value = outcomes.find(({ index }) => index === cell)?.value;
      return value?.type === "table" ? value : null;
    },
  };
}

/** The queries of the cells that a cell needs, directly or not. */
function neededBy({ view }: PlacedNotebook, cell: number): readonly CheckedQuery[] {
  const seen = new Set<number>();
  const waiting = [...view.cells[cell]!.checked.needs];
  for (let index = waiting.pop(); index !== undefined; index = waiting.pop()) {
    if (seen.has(index)) continue;
    seen.add(index);
    waiting.push(...view.cells[index]!.checked.needs);
  }
  return [...seen].flatMap((index) => view.cells[index]!.checked.query ?? []);
}

/** True for a query of table verbs alone. */
function isQuick({ tables, expression }: CheckedQuery): boolean {
  const isQuickTable = ({ source, steps }: TableExpression): boolean =>
    source.kind !== "made" && steps.every(({ verb, given }) => verb.family === "table" && given.every(({ table }) => table === undefined || isQuickTable(table)));
  return [...tables.values()].every(isQuickTable) && (expression.kind !== "table" || isQuickTable(expression.table));
}
