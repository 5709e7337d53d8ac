import { shotOfRow } from "../../core/present/pick-shots";
import { constantColumns, constantInWords } from "../../core/present/constant-columns";
import type { PayloadColumn, PayloadValue, TablePayload } from "../../core/present/payload";
import { unitLabel } from "../../core/present/format-number";
import { rowsInWords } from "../../core/present/plain-text";
import { cut, inert, showValue } from "../../core/present/show-value";
import type { RowOrder } from "../../core/present/sort-rows";
import { nextOrder, sortRows } from "../../core/present/sort-rows";
import { tableCsv, tableTsv } from "../../core/present/table-delimited";
import { tableMarkdown } from "../../core/present/table-markdown";
import type { ColumnSummary } from "../../core/results/summarise-column";
import { mostPageRows } from "../../core/present/table-messages";
import { copyText } from "./copy-text";
import { makeButton, makeElement } from "./make-element";
import { makeSetAsideForm, type SetAside } from "./set-aside-form";
import { makeGrid, type Selection } from "./table-grid";
import { countInWords, makePager, pageRows } from "./table-pager";
import type { AskTable } from "./table-store";
import { makeSummaryCell, summariesHere } from "./table-summary";

/** Characters of one value that a cell shows; a copy has all of them. */
const longestShown = 300;

/** Columns beyond which those that have one value in all rows are told below the table instead. */
const mostColumns = 8;

/** Rows that a copy has at most; a file has all of them. */
const mostCopied = 50_000;

/** What a reader is told when the rows that are not shown are gone. */
const expired = "The other rows of this table are not kept any more. Run the cell again.";

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
 * @param ask asks for rows that are not here; `null` where nobody listens.
 */
export function makeTableView(table: TablePayload, setAside: SetAside | null, ask: AskTable | null = null): HTMLElement {
  let order: RowOrder = null;
  let showsAll = false;
  let selection: Selection | null = null;
  let summaries: readonly ColumnSummary[] | null = null;
  let asked = 0;
  let activeRow = 0;
  const shotOf = ask === null ? null : shotOfRow(table);
  const isWhole = table.rows.length === table.row_count;
  const handle = isWhole || ask === null ? undefined : table.handle;
  const isPaged = handle !== undefined;
  const page = { from: 0, rows: isPaged ? table.rows.slice(0, pageRows) : table.rows };
  const canSort = (isWhole || isPaged) && table.row_count > 1;
  const pager = isPaged ? makePager(table.row_count, (from) => void fetchPage(from, order)) : null;
  const scroll = makeElement("div", "fairstrike-scroll", { attributes: { role: "group", tabindex: "0", "aria-label": "Table" } });
  const status = makeElement("span", "", { attributes: { role: "status" } });
  const told = toldBelow(table);
  const isFolded = (column: PayloadColumn, index: number): boolean => column.hidden || told.includes(index);
  const folded = table.columns.filter(isFolded).length;
  const below = constantInWords(table, told);
  const aside = setAside === null ? null : makeSetAsideForm(table, setAside, () => show());
  const same = makeElement("p", "fairstrike-small", {}, below === "" ? "" : `${below.charAt(0).toUpperCase()}${below.slice(1)}.`);

  function rowsShown(): readonly (readonly PayloadValue[])[] {
    return isPaged ? page.rows : sortRows(table.rows, table.columns, order);
  }

  function keptColumns(): readonly { readonly column: PayloadColumn; readonly index: number }[] {
    return table.columns.map((column, index) => ({ column, index })).filter(({ column, index }) => showsAll || !isFolded(column, index));
  }

  /** Rows of the whole table in the order `wanted`; `null`, and said, when they are not to be had. */
  async function fetchRows(from: number, count: number, wanted: RowOrder): Promise<readonly (readonly PayloadValue[])[] | null> {
    if (!isPaged || ask === null) return null;
    const reply = await ask(handle, { kind: "page", order: wanted, from, count });
    const fits = reply.kind === "rows" && reply.rows.every((row) => row.length === table.columns.length);
    if (fits) return reply.rows;
    status.textContent = expired;
    return null;
  }

  async function fetchPage(from: number, wanted: RowOrder, focused: number | "cell" | null = null): Promise<void> {
    const question = ++asked;
    scroll.setAttribute("aria-busy", "true");
    const rows = await fetchRows(from, pageRows, wanted);
    // Another page was asked for meanwhile: that one is shown.
    if (question !== asked) return;
    scroll.setAttribute("aria-busy", "false");
    if (rows === null) return;
    order = wanted;
    page.from = from;
    page.rows = rows;
    if (status.textContent === expired) status.textContent = "";
    show(focused);
    scroll.scrollTop = 0;
  }

  function show(focused: number | "cell" | null = null): void {
    const rows = rowsShown();
    const kept = keptColumns();
    const hasUnits = kept.some(({ column }) => column.unit !== null);
    const heads = kept.map(({ column, index }, place) =>
      makeHead(column, { hasUnits, canSort, direction: order?.column === index ? order.direction : null }, () => {
        const next = nextOrder(order, index);
        if (isPaged) return void fetchPage(0, next, index);
        order = next;
        show(index);
      }, place === 0),
    );
    const box = aside?.head(rows) ?? null;
    const cells = rows.map((row) => kept.map(({ column, index }, place) => makeCell(row[index] ?? null, column, row, place === 0)));
    const body = rows.map((row, at) =>
      makeElement("tr", "", { attributes: { "aria-rowindex": String(page.from + at + 2) } }, ...asList(aside?.cell(row)), ...cells[at]!),
    );
    const told = summaries;
    const summaryRow = told === null ? [] : [makeElement("tr", "", {}, ...(box === null ? [] : [makeElement("td", "", {})]), ...kept.map(({ column, index }, place) => makeSummaryCell(told[index]!, column, place === 0)))];
    const grid = makeElement(
      "table", "", { attributes: { "aria-rowcount": String(table.row_count + 1) } },
      makeElement("caption", "fairstrike-unseen", {}, [isPaged ? `${countInWords(table.row_count)} rows` : rowsInWords(table), ...table.notes].join(". ")),
      makeElement("thead", "", {}, makeElement("tr", "", { attributes: { "aria-rowindex": "1" } }, ...asList(box), ...heads), ...summaryRow),
      makeElement("tbody", "", {}, ...body),
    );
    selection = null;
    activeRow = 0;
    makeGrid(grid, cells, {
      onSelect: (chosen) => {
        selection = chosen;
        if (chosen !== null) status.textContent = `Selected ${selectionInWords(chosen)}. Copying takes these.`;
        else if (status.textContent.startsWith("Selected")) status.textContent = "";
      },
      onRow: (row) => (activeRow = row),
      onOpen: (row) => void openLine(row),
      onCopy: (chosen) => void copyRows("TSV", tableTsv, chosen),
      onPage: (step) => {
        const from = page.from + step * pageRows;
        if (isPaged && from >= 0 && from < table.row_count) void fetchPage(from, order, "cell");
      },
    });
    scroll.replaceChildren(grid);
    pager?.tell(page.from);
    same.hidden = showsAll;
    if (focused === "cell") cells[0]?.[0]?.focus();
    else if (focused !== null) heads[kept.findIndex(({ index }) => index === focused)]?.querySelector("button")?.focus();
  }

  async function copyRows(name: string, write: (shown: TablePayload) => string, { rows: [top, bottom], columns: [left, right] }: Selection): Promise<void> {
    const part = keptColumns().slice(left, right + 1);
    const columns = part.map(({ column: { name: own, kind, unit, origin, digits } }) => ({ name: own, kind, unit, origin, digits, hidden: false }));
    const rows = rowsShown().slice(top, bottom + 1).map((row) => part.map(({ index }) => row[index] ?? null));
    const done = await copyText(write({ ...table, columns, rows, row_count: rows.length }));
    status.textContent = done ? `Copied ${selectionInWords({ rows: [top, bottom], columns: [left, right] })} as ${name}.` : noClipboard;
  }

  /** All rows in the shown order, as many as a copy may have; those that are here where the others are not to be had. */
  async function rowsToCopy(): Promise<readonly (readonly PayloadValue[])[] | null> {
    if (!isPaged) return sortRows(table.rows, table.columns, order);
    const all: (readonly PayloadValue[])[] = [];
    const end = Math.min(mostCopied, table.row_count);
    while (all.length < end) {
      const more = await fetchRows(all.length, Math.min(mostPageRows, end - all.length), order);
      if (more === null || more.length === 0) return null;
      all.push(...more);
    }
    return all;
  }

  async function copy(name: string, write: (shown: TablePayload) => string): Promise<void> {
    if (selection !== null) return copyRows(name, write, selection);
    const columns = showsAll ? table.columns.map((column) => ({ ...column, hidden: false })) : table.columns;
    const rows = await rowsToCopy();
    if (rows === null) return;
    const done = await copyText(write({ ...table, columns, rows }));
    const rest = isPaged ? " A file can have all of them: Save as CSV." : "";
    const copied = `Copied the first ${countInWords(rows.length)} of ${countInWords(table.row_count)} rows as ${name}.${rest}`;
    if (!done) status.textContent = noClipboard;
    else status.textContent = rows.length < table.row_count ? copied : `Copied ${rowsInWords(table)} as ${name}.`;
  }

  /** Opens the export at the line of a row that is a shot. */
  async function openLine(at: number): Promise<void> {
    const row = rowsShown()[at];
    const shot = row === undefined ? null : (shotOf?.(row) ?? null);
    if (shot === null || ask === null) return;
    const reply = await ask(handle ?? "", { kind: "line", ...shot });
    status.textContent = reply.kind === "said" ? reply.text : "Nothing was opened: the extension did not answer.";
  }

  async function save(): Promise<void> {
    if (!isPaged || ask === null) return;
    const reply = await ask(handle, { kind: "save", order });
    status.textContent = reply.kind === "said" ? reply.text : expired;
  }

  async function summarise(): Promise<void> {
    if (summaries !== null) summaries = null;
    else if (!isPaged) summaries = summariesHere(table);
    else {
      const reply = await ask!(handle, { kind: "summary" });
      if (reply.kind === "summary" && reply.columns.length === table.columns.length) summaries = reply.columns;
      else status.textContent = expired;
    }
    summary.setAttribute("aria-pressed", String(summaries !== null));
    show();
  }

  const summary = makeButton("Summaries", "fairstrike-link", () => void summarise());
  summary.setAttribute("aria-pressed", "false");

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
    ...asList(pager?.element),
    makeElement(
      "div", "fairstrike-bar", {},
      // The pager tells which rows are shown.
      ...(isPaged ? [] : [makeElement("span", "", {}, rowsInWords(table))]),
      ...(folded === 0 ? [] : [more]),
      ...(canSort ? [summary] : []),
      ...(table.row_count === 0 ? [] : asList(aside?.button)),
      ...(table.row_count === 0 ? [] : formats).map(([name, write]) => makeButton(`Copy as ${name}`, "fairstrike-link", () => void copy(name, write))),
      ...(shotOf === null || table.row_count === 0 ? [] : [makeButton("Show the row in its export", "fairstrike-link", () => void openLine(activeRow))]),
      ...(isPaged ? [makeButton("Save as CSV…", "fairstrike-link", () => void save())] : []),
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

const noClipboard = "The clipboard cannot be written here.";

function selectionInWords({ rows, columns }: Selection): string {
  const of = (count: number, one: string): string => `${count} ${one}${count === 1 ? "" : "s"}`;
  return `${of(rows[1] - rows[0] + 1, "row")} of ${of(columns[1] - columns[0] + 1, "column")}`;
}

/** The classes of a cell, with that of the first column, which stays in view when the others are scrolled. */
function withFirst(classes: string, isFirst: boolean): string {
  return isFirst ? `${classes} fairstrike-first`.trim() : classes;
}

/** How the heads of a table are made: with a second line where units need one, as buttons where rows can be sorted. */
interface HeadStyle {
  readonly hasUnits: boolean;
  readonly canSort: boolean;
  readonly direction: "ascending" | "descending" | null;
}

function makeHead(column: PayloadColumn, { hasUnits, canSort, direction }: HeadStyle, sort: () => void, isFirst: boolean): HTMLElement {
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
  return makeElement("th", withFirst(isNumber ? "fairstrike-number" : "", isFirst), { attributes }, content);
}

function makeCell(value: PayloadValue, column: PayloadColumn, row: readonly PayloadValue[], isFirst: boolean): HTMLElement {
  const classes = withFirst(column.kind === "number" ? "fairstrike-number" : "", isFirst);
  if (value === null) {
    const mark = makeElement("span", "fairstrike-missing", { attributes: { role: "img", "aria-label": "missing" } }, showValue(null, column, row));
    return makeElement("td", classes, {}, mark);
  }
  const text = showValue(value, column, row);
  const shape = text.length > longestLine ? withFirst("fairstrike-long", isFirst) : classes;
  // The text that names a row is its heading.
  if (isFirst && column.kind === "text") return makeElement("th", shape, { attributes: { scope: "row" } }, cut(text, longestShown));
  return makeElement("td", shape, {}, cut(text, longestShown));
}
