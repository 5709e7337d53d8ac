import { constantColumns, constantInWords } from "../../core/present/constant-columns";
import type { PayloadColumn, PayloadValue, TablePayload } from "../../core/present/payload";
import { unitLabel } from "../../core/present/format-number";
import { rowsInWords } from "../../core/present/plain-text";
import { cut, inert, showValue } from "../../core/present/show-value";
import type { RowOrder } from "../../core/present/sort-rows";
import { nextOrder, sortRows } from "../../core/present/sort-rows";
import { tableCsv, tableTsv } from "../../core/present/table-delimited";
import { tableMarkdown } from "../../core/present/table-markdown";
import { copyText } from "./copy-text";
import { makeButton, makeElement } from "./make-element";
import { makeSetAsideForm, type SetAside } from "./set-aside-form";

/** Characters of one value that a cell shows; a copy has all of them. */
const longestShown = 300;

/** Columns beyond which those that have one value in all rows are told below the table instead. */
const mostColumns = 8;

/** Characters beyond which a value may take several lines. */
const longestLine = 24;

const formats: readonly (readonly [name: string, write: (table: TablePayload) => string])[] = [
  ["CSV", tableCsv],
  ["TSV", tableTsv],
  ["Markdown", tableMarkdown],
];

/**
 * Returns a table for reading, sorting and copying, with what it says below it.
 *
 * @param setAside sends what a person sets aside; `null` where nobody listens.
 */
export function makeTableView(table: TablePayload, setAside: SetAside | null): HTMLElement {
  let order: RowOrder = null;
  let showsAll = false;
  const canSort = table.rows.length === table.row_count && table.row_count > 1;
  const scroll = makeElement("div", "fairstrike-scroll", { attributes: { role: "region", tabindex: "0", "aria-label": "Table" } });
  const status = makeElement("span", "", { attributes: { role: "status" } });
  const told = toldBelow(table);
  const isFolded = (column: PayloadColumn, index: number): boolean => column.hidden || told.includes(index);
  const folded = table.columns.filter(isFolded).length;
  const below = constantInWords(table, told);
  const aside = setAside === null ? null : makeSetAsideForm(table, setAside, () => show());
  const same = makeElement("p", "fairstrike-small", {}, below === "" ? "" : `${below.charAt(0).toUpperCase()}${below.slice(1)}.`);

  function show(focused: number | null = null): void {
    const rows = sortRows(table.rows, table.columns, order);
    const kept = table.columns.map((column, index) => ({ column, index })).filter(({ column, index }) => showsAll || !isFolded(column, index));
    const hasUnits = kept.some(({ column }) => column.unit !== null);
    const heads = kept.map(({ column, index }) =>
      makeHead(column, { hasUnits, canSort, direction: order?.column === index ? order.direction : null }, () => {
        order = nextOrder(order, index);
        show(index);
      }),
    );
    const box = aside?.head(rows) ?? null;
    const body = rows.map((row) =>
      makeElement("tr", "", {}, ...asList(aside?.cell(row)), ...kept.map(({ column, index }, place) => makeCell(row[index] ?? null, column, row, place === 0))),
    );
    scroll.replaceChildren(
      makeElement(
        "table", "", {},
        makeElement("caption", "fairstrike-unseen", {}, [rowsInWords(table), ...table.notes].join(". ")),
        makeElement("thead", "", {}, makeElement("tr", "", {}, ...asList(box), ...heads)),
        makeElement("tbody", "", {}, ...body),
      ),
    );
    same.hidden = showsAll;
    if (focused !== null) heads[kept.findIndex(({ index }) => index === focused)]?.querySelector("button")?.focus();
  }

  async function copy(name: string, write: (shown: TablePayload) => string): Promise<void> {
    const columns = showsAll ? table.columns.map((column) => ({ ...column, hidden: false })) : table.columns;
    const done = await copyText(write({ ...table, columns, rows: sortRows(table.rows, table.columns, order) }));
    const part = table.rows.length < table.row_count ? `the first ${table.rows.length} of ${table.row_count} rows` : rowsInWords(table);
    status.textContent = done ? `Copied ${part} as ${name}.` : "The clipboard cannot be written here.";
  }

  const more = makeButton("More columns", "fairstrike-link", () => {
    showsAll = !showsAll;
    more.setAttribute("aria-pressed", String(showsAll));
    show();
  });
  more.setAttribute("aria-pressed", "false");
  show();
  return makeElement(
    "div", "", {},
    ...(table.columns.length === 0 ? [] : [scroll]),
    makeElement(
      "div", "fairstrike-bar", {},
      makeElement("span", "", {}, rowsInWords(table)),
      ...(folded === 0 ? [] : [more]),
      ...asList(aside?.button),
      ...formats.map(([name, write]) => makeButton(`Copy as ${name}`, "fairstrike-link", () => void copy(name, write))),
      status,
    ),
    ...asList(aside?.form),
    ...(told.length === 0 ? [] : [same]),
    ...makeSentences(table),
    ...table.notes.map((note) => makeElement("p", "fairstrike-small", {}, inert(note))),
    ...(table.method === null ? [] : [makeElement("p", "fairstrike-small", {}, `Method: ${inert(table.method)}`)]),
  );
}

function asList(element: HTMLElement | null | undefined): readonly HTMLElement[] {
  return element === null || element === undefined ? [] : [element];
}

/** The columns of a wide result that have one value in all rows, so that what differs can be read without scrolling. */
function toldBelow(table: TablePayload): readonly number[] {
  const shown = table.columns.flatMap((column, index) => (column.hidden ? [] : [index]));
  const isWhole = table.rows.length === table.row_count;
  return table.method === null || !isWhole || shown.length <= mostColumns ? [] : constantColumns(table, shown);
}

/** The sentences of the answer, and the others folded away under them until they are asked for by pointer or key. */
function makeSentences({ sentences, answer = sentences.length }: TablePayload): readonly HTMLElement[] {
  const shown = sentences.slice(0, answer).map((sentence) => makeElement("p", "", {}, inert(sentence)));
  const details = sentences.slice(answer);
  if (details.length === 0) return shown;
  const summary = makeElement("summary", "fairstrike-link", {}, `Details (${details.length} ${details.length === 1 ? "sentence" : "sentences"})`);
  return [...shown, makeElement("details", "fairstrike-small", {}, summary, ...details.map((sentence) => makeElement("p", "", {}, inert(sentence))))];
}

/** How the heads of a table are made: with a second line where units need one, as buttons where rows can be sorted. */
interface HeadStyle {
  readonly hasUnits: boolean;
  readonly canSort: boolean;
  readonly direction: "ascending" | "descending" | null;
}

function makeHead(column: PayloadColumn, { hasUnits, canSort, direction }: HeadStyle, sort: () => void): HTMLElement {
  const isNumber = column.kind === "number";
  const name = makeElement("span", "", {}, column.name === "" ? '""' : cut(inert(column.name), 60));
  const arrow = direction === null ? "" : direction === "ascending" ? "▲" : "▼";
  const mark = makeElement("span", "fairstrike-sort", { attributes: { "aria-hidden": "true" } }, arrow);
  const unit = column.unit === null ? "" : unitLabel(column.unit);
  const withMark = (text: Node | string): readonly (Node | string)[] => (isNumber ? [mark, text] : [text, mark]);
  const parts = hasUnits ? [name, makeElement("span", "fairstrike-unit", {}, ...withMark(unit))] : withMark(name);
  const attributes: Record<string, string> = { scope: "col", ...(direction === null ? {} : { "aria-sort": direction }) };
  const content = canSort
    ? makeElement("button", "fairstrike-head", { attributes: { type: "button", title: "Sort" }, on: { click: sort } }, ...parts)
    : makeElement("span", "fairstrike-head", {}, ...parts);
  return makeElement("th", isNumber ? "fairstrike-number" : "", { attributes }, content);
}

function makeCell(value: PayloadValue, column: PayloadColumn, row: readonly PayloadValue[], isFirst: boolean): HTMLElement {
  const classes = column.kind === "number" ? "fairstrike-number" : "";
  if (value === null) {
    const mark = makeElement("span", "fairstrike-missing", { attributes: { role: "img", "aria-label": "missing" } }, showValue(null, column, row));
    return makeElement("td", classes, {}, mark);
  }
  const text = showValue(value, column, row);
  const shape = text.length > longestLine ? "fairstrike-long" : classes;
  // The text that names a row is its heading.
  if (isFirst && column.kind === "text") return makeElement("th", shape, { attributes: { scope: "row" } }, cut(text, longestShown));
  return makeElement("td", shape, {}, cut(text, longestShown));
}
