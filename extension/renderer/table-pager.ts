import { makeButton, makeElement } from "./make-element";

/** Rows on one page. */
export const pageRows = 100;

/** Where a reader is in a long table, and the ways to other rows. */
export interface Pager {
  readonly element: HTMLElement;
  /** Shows that the page beginning with row `from`, counted from 0, is there. */
  readonly tell: (from: number) => void;
}

/** A count for a reader, its thousands apart: `1 000 000`. */
export function countInWords(count: number): string {
  return String(count).replaceAll(/\B(?=(\d{3})+$)/gu, "\u00a0");
}

/** Returns the pager of a table of `rowCount` rows; `go` is asked for the page that begins with a row. */
export function makePager(rowCount: number, go: (from: number) => void): Pager {
  const lastPage = Math.floor((rowCount - 1) / pageRows) * pageRows;
  let at = 0;
  const place = makeElement("span", "", { attributes: { role: "status" } });
  const link = (label: string, to: () => number): HTMLButtonElement => makeButton(label, "fairstrike-link", () => turn(to()));
  const back = [link("First rows", () => 0), link("Previous", () => at - pageRows)];
  const on = [link("Next", () => at + pageRows), link("Last rows", () => lastPage)];
  const field = makeElement("input", "fairstrike-field fairstrike-row", {
    attributes: { type: "text", inputmode: "numeric", "aria-label": `Go to row, 1 to ${rowCount}`, placeholder: "row" },
    on: {
      keydown: (event) => {
        if (event instanceof KeyboardEvent && event.key === "Enter") goToRow();
      },
    },
  });

  function turn(from: number): void {
    if (from >= 0 && from <= lastPage && from !== at) go(from);
  }

  function goToRow(): void {
    const row = Number(field.value.replaceAll(/\s/gu, ""));
    const isRow = Number.isInteger(row) && row >= 1 && row <= rowCount;
    field.setAttribute("aria-invalid", String(!isRow));
    if (isRow) go(Math.floor((row - 1) / pageRows) * pageRows);
    else place.textContent = `Rows go from 1 to ${countInWords(rowCount)}`;
  }

  return {
    element: makeElement("div", "fairstrike-bar", { attributes: { role: "group", "aria-label": "Pages" } }, place, ...back, ...on, field, makeButton("Go to row", "fairstrike-link", goToRow)),
    tell: (from) => {
      at = from;
      place.textContent = `Rows ${countInWords(from + 1)} to ${countInWords(Math.min(rowCount, from + pageRows))} of ${countInWords(rowCount)}`;
      // Not disabled: a button that is would lose the focus to nowhere.
      for (const button of back) button.setAttribute("aria-disabled", String(from === 0));
      for (const button of on) button.setAttribute("aria-disabled", String(from >= lastPage));
    },
  };
}
