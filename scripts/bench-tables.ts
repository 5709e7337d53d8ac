import { keptTable, type KeptTable } from "../core/results/kept-table";
import { createTableStore } from "../core/results/table-store";
import { makeTable, numberColumn, textColumn } from "../core/table/table";
import { stream } from "./invented-session";

/**
 * Measures paging through a finished table: the copy that goes to the store, the first sort by a number and by a text, a
 * page of the sorted table, the summaries, and the store's memory.
 */
export function benchTablePages(rows = 1_000_000): void {
  const random = stream(11);
  const heads = ["Wren", "Heron", "Plover"];
  const numbers = Array.from({ length: 11 }, (_, at) => numberColumn(`n${at}`, Float64Array.from({ length: rows }, () => random())));
  const head = textColumn("head", Array.from({ length: rows }, () => heads[Math.floor(random() * heads.length)]!));
  const table = keptTable(makeTable([...numbers, head], rows));
  const store = createTableStore();
  const time = (name: string, run: () => unknown): void => {
    const start = performance.now();
    run();
    console.log(`  ${name.padEnd(34)}${(performance.now() - start).toFixed(1).padStart(10)} ms`);
  };
  console.log(`\nPaging through ${rows} rows, 12 columns`);
  let copy: KeptTable = table;
  time("copy to the store", () => (copy = structuredClone(table)));
  store.keep("n", "h", copy);
  time("first sort by a number", () => store.page("n", "h", { order: { column: 0, direction: "descending" }, from: 0, count: 100 }));
  time("first sort by a text", () => store.page("n", "h", { order: { column: 11, direction: "ascending" }, from: 0, count: 100 }));
  time("100 rows of a sorted table", () => store.page("n", "h", { order: { column: 0, direction: "descending" }, from: rows >> 1, count: 100 }));
  time("2000 rows of a sorted table", () => store.page("n", "h", { order: { column: 0, direction: "descending" }, from: 0, count: 2000 }));
  time("summaries", () => store.summary("n", "h"));
  console.log(`  ${"bytes kept".padEnd(34)}${(store.bytes() / 1e6).toFixed(1).padStart(10)} MB`);
}
