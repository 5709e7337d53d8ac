import type { TablePayload } from "../../core/present/payload";
import { tableCsv } from "../../core/present/table-delimited";
import type { TableReply } from "../../core/present/table-messages";
import type { KeptTable } from "../../core/results/kept-table";
import { createTableStore, type TableStore } from "../../core/results/table-store";
import type { FinishedTable, FromStore, StoreWish, ToStore } from "./messages";

/** What the store of finished tables needs from where it runs. */
export interface StoreHost {
  readonly post: (message: FromStore) => void;
  readonly listen: (receive: (message: ToStore) => void) => void;
}

/**
 * Starts the store of finished tables. It has a worker of its own: kernels send it their tables without the editor's host
 * between, its rows are there when a kernel has ended, and while one computes.
 */
export function serveResults(host: StoreHost, store: TableStore = createTableStore()): void {
  host.listen((message) => {
    switch (message.type) {
      case "connect": {
        const { owner, port } = message;
        port.onmessage = ({ data }) => {
          const { handle, table } = data as FinishedTable;
          store.keep(owner, handle, table);
        };
        return;
      }
      case "drop":
        store.drop(message.owner);
        return;
      case "ask":
        host.post({ type: "answer", request: message.request, reply: replyTo(store, message.owner, message.handle, message.wish) });
    }
  });
}

function replyTo(store: TableStore, owner: string, handle: string, wish: StoreWish): TableReply {
  if (wish.kind === "summary") {
    const columns = store.summary(owner, handle);
    return columns === null ? { kind: "expired" } : { kind: "summary", columns };
  }
  const page = store.page(owner, handle, wish);
  if (page === null) return { kind: "expired" };
  if (wish.kind === "page") return { kind: "rows", rows: page.rows };
  const table = { ...bare(page.columns), rows: page.rows };
  const text = tableCsv(table);
  return { kind: "said", text: wish.from === 0 ? text : text.slice(tableCsv({ ...table, rows: [] }).length) };
}

/** A payload of a table's columns alone. */
function bare(columns: KeptTable["columns"]): TablePayload {
  const shown = columns.map((column) => ({
    name: column.name,
    kind: column.kind,
    unit: column.kind === "number" ? column.unit : null,
    origin: column.origin,
    digits: null,
    hidden: false,
  }));
  return { type: "table", columns: shown, rows: [], row_count: 0, method: null, sentences: [], notes: [] };
}
