/** Cells between two corners, both ends included, by their places on the page. */
export interface Selection {
  readonly rows: readonly [from: number, to: number];
  readonly columns: readonly [from: number, to: number];
}

/** What a grid of cells tells. */
export interface GridListener {
  /** The selection is another; `null` where no more than the cell in focus is selected. */
  readonly onSelect: (selection: Selection | null) => void;
  readonly onCopy: (selection: Selection) => void;
  /** The cell in focus is in another row, or in this one at first. */
  readonly onRow: (row: number) => void;
  /** Enter was pressed in a row. */
  readonly onOpen: (row: number) => void;
  /** The next page, or the previous one, is asked for. */
  readonly onPage: (step: 1 | -1) => void;
}

/**
 * Makes cells a grid: one of them is reached by Tab, arrows go on from there, Shift extends, and Tab leaves.
 * Source: WAI-ARIA Authoring Practices, grid pattern.
 *
 * @param cells rows of cells as shown, each with equally many.
 */
export function makeGrid(table: HTMLElement, cells: readonly (readonly HTMLElement[])[], listener: GridListener): void {
  const width = cells[0]?.length ?? 0;
  if (width === 0) return;
  const places = new Map(cells.flatMap((row, y) => row.map((cell, x) => [cell, { x, y }] as const)));
  let anchor = { x: 0, y: 0 };
  let active = { x: 0, y: 0 };
  table.setAttribute("role", "grid");
  table.setAttribute("aria-multiselectable", "true");
  for (const row of cells) for (const cell of row) cell.tabIndex = -1;
  cells[0]![0]!.tabIndex = 0;

  const chosen = (): Selection => ({
    rows: [Math.min(anchor.y, active.y), Math.max(anchor.y, active.y)],
    columns: [Math.min(anchor.x, active.x), Math.max(anchor.x, active.x)],
  });

  function mark(): void {
    const { rows, columns } = chosen();
    const isRange = rows[0] !== rows[1] || columns[0] !== columns[1];
    for (const [cell, { x, y }] of places) {
      const isIn = isRange && y >= rows[0] && y <= rows[1] && x >= columns[0] && x <= columns[1];
      if (isIn) cell.setAttribute("aria-selected", "true");
      else cell.removeAttribute("aria-selected");
    }
    listener.onSelect(isRange ? chosen() : null);
  }

  function move(x: number, y: number, extends_: boolean): void {
    cells[active.y]![active.x]!.tabIndex = -1;
    active = { x: Math.max(0, Math.min(width - 1, x)), y: Math.max(0, Math.min(cells.length - 1, y)) };
    if (!extends_) anchor = active;
    const cell = cells[active.y]![active.x]!;
    cell.tabIndex = 0;
    cell.focus();
    listener.onRow(active.y);
    mark();
  }

  function press(event: KeyboardEvent): boolean {
    const { x, y } = active;
    const { shiftKey: extending } = event;
    const isWide = event.ctrlKey || event.metaKey;
    switch (event.key) {
      case "ArrowRight":
        return (move(x + 1, y, extending), true);
      case "ArrowLeft":
        return (move(x - 1, y, extending), true);
      case "ArrowDown":
        return (move(x, y + 1, extending), true);
      case "ArrowUp":
        return (move(x, y - 1, extending), true);
      case "Home":
        return (move(0, isWide ? 0 : y, extending), true);
      case "End":
        return (move(width - 1, isWide ? cells.length - 1 : y, extending), true);
      case "Enter":
        return (listener.onOpen(y), true);
      case "PageDown":
        return (listener.onPage(1), true);
      case "PageUp":
        return (listener.onPage(-1), true);
      case "Escape":
        if (anchor === active) return false;
        return (move(x, y, false), true);
      case "a":
        if (!isWide) return false;
        anchor = { x: 0, y: 0 };
        return (move(width - 1, cells.length - 1, true), true);
      case "c":
        if (!isWide) return false;
        return (listener.onCopy(chosen()), true);
      case " ":
        if (!extending) return false;
        anchor = { x: 0, y: anchor.y };
        return (move(width - 1, y, true), true);
      default:
        return false;
    }
  }

  const cellOf = (event: Event): { readonly x: number; readonly y: number } | undefined => {
    const cell = event.target instanceof Element ? event.target.closest("td, th") : null;
    return cell instanceof HTMLElement ? places.get(cell) : undefined;
  };

  table.addEventListener("keydown", (event) => {
    // Only from a cell itself: a box or a button in the table has keys of its own.
    if (!(event.target instanceof HTMLElement) || !places.has(event.target) || !press(event)) return;
    event.preventDefault();
    event.stopPropagation();
  });
  table.addEventListener("mousedown", (event) => {
    const place = cellOf(event);
    if (place === undefined || event.button !== 0) return;
    if (event.shiftKey) event.preventDefault();
    move(place.x, place.y, event.shiftKey);
  });
  table.addEventListener("mouseover", (event) => {
    const place = cellOf(event);
    if (place === undefined || event.buttons !== 1 || (place.x === active.x && place.y === active.y)) return;
    // Cells are selected now and not the words in them.
    getSelection()?.removeAllRanges();
    move(place.x, place.y, true);
  });
}
