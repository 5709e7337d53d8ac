import type { TableReply, TableWish } from "../../core/present/table-messages";
import type { KeptTable } from "../../core/results/kept-table";
import type { PageWanted } from "../../core/results/table-store";

/** One end of a channel between two workers, as every platform has it. */
export interface Port {
  readonly postMessage: (message: unknown) => void;
  onmessage: ((event: { readonly data: unknown }) => void) | null;
}

/** A wish of a shown table, or rows as CSV, of which the first part has the heading. */
export type StoreWish = Exclude<TableWish, { readonly kind: "save" | "line" }> | ({ readonly kind: "csv" } & PageWanted);

/** What the editor's host says to the store of finished tables. */
export type ToStore =
  /** Tables that come through the port are the owner's from now on. */
  | { readonly type: "connect"; readonly owner: string; readonly port: Port }
  | { readonly type: "ask"; readonly request: number; readonly owner: string; readonly handle: string; readonly wish: StoreWish }
  | { readonly type: "drop"; readonly owner: string };

/** What the store says to the editor's host. */
export interface FromStore {
  readonly type: "answer";
  readonly request: number;
  readonly reply: TableReply;
}

/** What a kernel sends through its port: a finished table, under a handle that it has given to nothing else. */
export interface FinishedTable {
  readonly handle: string;
  readonly table: KeptTable;
}

/** What tells a worker of the bundle that it is to keep finished tables, and not to be a kernel. */
export function isStoreData(data: unknown): boolean {
  return typeof data === "object" && data !== null && "role" in data && data.role === "results";
}
