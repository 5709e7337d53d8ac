import type { PayloadValue } from "../present/payload";
import type { RowOrder } from "../present/sort-rows";
import { valueAt } from "../table/table";
import { bytesOf, type KeptTable } from "./kept-table";
import { orderRows } from "./order-rows";
import { summariseColumn, type ColumnSummary } from "./summarise-column";

/** Bytes of all finished tables together, with their orders, that are kept for paging. */
export const keptBytes = 512 * 1024 * 1024;

/** Orders of one table that are kept: the one shown, and the one before it. */
const mostOrders = 2;

/** Finished tables by handle, so that their rows can be paged through when what computed them is gone. */
export interface TableStore {
  /** Keeps a table; those not asked for the longest go when there is no room. One larger than all the room is not kept. */
  readonly keep: (owner: string, handle: string, table: KeptTable) => void;
  /** Rows `from` to `from + count` of the whole table in the given order; `null` when the owner has no such table. */
  readonly page: (owner: string, handle: string, wanted: PageWanted) => Page | null;
  /** What is told of each column; `null` when the owner has no such table. */
  readonly summary: (owner: string, handle: string) => readonly ColumnSummary[] | null;
  /** Lets go of all tables of an owner. */
  readonly drop: (owner: string) => void;
  /** Bytes in use. */
  readonly bytes: () => number;
}

/** Rows that are asked for. */
export interface PageWanted {
  readonly order: RowOrder;
  /** The first row, counted from 0 in the shown order. */
  readonly from: number;
  readonly count: number;
}

/** Rows of a table, in the order asked for; fewer than asked for at its end. */
export interface Page {
  readonly rows: readonly (readonly PayloadValue[])[];
  readonly columns: KeptTable["columns"];
}

interface Entry {
  readonly owner: string;
  readonly table: KeptTable;
  readonly bytes: number;
  readonly orders: Map<string, Uint32Array>;
  summary: readonly ColumnSummary[] | null;
}

/** Returns an empty store with room for `most` bytes. */
export function createTableStore(most = keptBytes): TableStore {
  const entries = new Map<string, Entry>();
  const keyOf = (owner: string, handle: string): string => JSON.stringify([owner, handle]);
  const sizeOf = (entry: Entry): number => entry.bytes + entry.orders.size * entry.table.rowCount * 4;
  const bytes = (): number => [...entries.values()].reduce((sum, entry) => sum + sizeOf(entry), 0);

  /** The entry asked for, which is now the last one asked for. */
  function touch(owner: string, handle: string): Entry | null {
    const key = keyOf(owner, handle);
    const entry = entries.get(key);
    if (entry === undefined) return null;
    entries.delete(key);
    entries.set(key, entry);
    return entry;
  }

  /** Makes room; the entry used last is kept, for it is the one in hand. */
  function makeRoom(): void {
    let used = bytes();
    for (const [key, entry] of entries) {
      if (used <= most || entries.size === 1) return;
      entries.delete(key);
      used -= sizeOf(entry);
    }
  }

  function rowsInOrder(entry: Entry, order: RowOrder): Uint32Array | null {
    if (order === null) return null;
    const key = `${order.column} ${order.direction}`;
    const known = entry.orders.get(key);
    if (known !== undefined) return known;
    const made = orderRows(entry.table, order);
    if (made === null) return null;
    for (const oldest of entry.orders.keys()) if (entry.orders.size >= mostOrders) entry.orders.delete(oldest);
    entry.orders.set(key, made);
    makeRoom();
    return made;
  }

  return {
    keep: (owner, handle, table) => {
      const entry: Entry = { owner, table, bytes: bytesOf(table), orders: new Map(), summary: null };
      entries.delete(keyOf(owner, handle));
      if (entry.bytes > most) return;
      entries.set(keyOf(owner, handle), entry);
      makeRoom();
    },
    page: (owner, handle, { order, from, count }) => {
      const entry = touch(owner, handle);
      if (entry === null) return null;
      const { columns, rowCount } = entry.table;
      const rows = rowsInOrder(entry, order);
      const length = Math.max(0, Math.min(count, rowCount - from));
      const one = (at: number): PayloadValue[] => columns.map((column) => valueAt(column, rows === null ? from + at : rows[from + at]!));
      return { rows: Array.from({ length }, (_, at) => one(at)), columns };
    },
    summary: (owner, handle) => {
      const entry = touch(owner, handle);
      if (entry === null) return null;
      return (entry.summary ??= entry.table.columns.map(summariseColumn));
    },
    drop: (owner) => {
      for (const [key, entry] of entries) if (entry.owner === owner) entries.delete(key);
    },
    bytes,
  };
}
