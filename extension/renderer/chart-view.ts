import { compileToFit, makeView } from "../../core/chart/draw-chart";
import type { OutputPlace } from "../../core/present/output-place";
import type { ChartPayload } from "../../core/present/payload";
import { inert } from "../../core/present/show-value";
import type { Figures } from "./ask-figure";
import { makeTooltip } from "./chart-tooltip";
import { copyText } from "./copy-text";
import { makeFigureForm, type FigureForm } from "./figure-form";
import { makeButton, makeElement } from "./make-element";
import { pageTheme, watchTheme } from "./page-theme";
import type { SetAside } from "./set-aside-form";
import type { AskTable } from "./table-store";
import { makeTableView } from "./table-view";

type View = ReturnType<typeof makeView>;

const narrowest = 240;
const widest = 900;
/** A change of width below this redraws nothing. */
const leastChange = 8;

/** A chart on the page, and how to take it away: views, observers and listeners go with it. */
export interface ChartView {
  readonly element: HTMLElement;
  readonly dispose: () => void;
}

/** What of a chart reaches the extension: setting aside and more rows in its table, and saving it; `null` where it cannot be reached. */
interface ChartTies {
  readonly setAside: SetAside | null;
  readonly askTable: AskTable | null;
  readonly figures: Figures | null;
}

/**
 * Draws a chart that follows the editor's theme and the width that it has, with its table one press away.
 *
 * Nothing in it is evaluated or loaded. Where it cannot be drawn, its table is shown with the reason.
 */
export function makeChartView(payload: ChartPayload, { setAside, askTable, figures }: ChartTies, place: OutputPlace): ChartView {
  const chart = makeElement("div", "fairstrike-chart", { attributes: { role: "img", "aria-label": payload.description } });
  const table = makeElement("div", "", { attributes: { hidden: "" } });
  const status = makeElement("span", "", { attributes: { role: "status" } });
  let view: View | null = null;
  let drawnWidth = 0;
  let latest = 0;
  let isGone = false;

  async function draw(): Promise<void> {
    const width = Math.min(widest, Math.max(narrowest, Math.floor(element.clientWidth)));
    if (isGone || element.clientWidth === 0) return;
    const turn = ++latest;
    drawnWidth = width;
    const place = document.createElement("div");
    let made: View | null = null;
    try {
      made = makeView(await compileToFit(payload.spec, pageTheme(), width), "svg");
      made.tooltip(makeTooltip(chart) as never).initialize(place).hover();
      await made.runAsync();
    } catch (error) {
      made?.finalize();
      if (turn === latest && !isGone) showFault(error);
      return;
    }
    // A later drawing, or the end of the output, has overtaken this one.
    if (turn !== latest || isGone) {
      made.finalize();
      return;
    }
    view?.finalize();
    view = made;
    chart.replaceChildren(place);
  }

  function showFault(error: unknown): void {
    const reason = inert(error instanceof Error ? error.message : "unknown reason");
    chart.removeAttribute("role");
    chart.replaceChildren(makeElement("p", "fairstrike-notice", {}, `The chart cannot be drawn: ${reason}. Its table is below.`));
    if (table.hasAttribute("hidden")) showTable();
  }

  function showTable(): void {
    const isShown = !table.toggleAttribute("hidden");
    if (isShown && table.childElementCount === 0)
      table.append(makeElement("p", "", {}, inert(payload.description)), makeTableView(payload.table, setAside, askTable));
    toggle.setAttribute("aria-pressed", String(isShown));
  }

  async function copySvg(): Promise<void> {
    const text = view === null ? null : await withBackground(view, (shown) => shown.toSVG());
    const done = text !== null && (await copyText(text));
    status.textContent = done ? "Copied as SVG." : "The chart cannot be copied here.";
  }

  async function copyPng(): Promise<void> {
    status.textContent = "Drawing the picture …";
    try {
      if (view === null) throw new Error("there is no chart yet");
      const canvas = await withBackground(view, (shown) => shown.toCanvas(2));
      const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
      if (blob === null) throw new Error("there is no picture");
      await navigator.clipboard.write([new ClipboardItem({ "image/png": blob })]);
      status.textContent = "Copied as PNG.";
    } catch {
      status.textContent = "A picture cannot be copied here; copy it as SVG.";
    }
  }

  function offerSaving(by: Figures): { readonly form: FigureForm; readonly button: HTMLButtonElement; readonly unwatch: () => void } {
    const button = makeButton("Save figure…", "fairstrike-link", () => form.toggle());
    button.setAttribute("aria-expanded", "false");
    const form = makeFigureForm(payload, place.cell === "" ? "Chart" : place.cell, by.saver(place.output), {
      shownWidth: () => drawnWidth,
      say: (text) => (status.textContent = text),
      whenToggled: (isOpen) => {
        button.setAttribute("aria-expanded", String(isOpen));
        if (!isOpen) button.focus();
      },
    });
    return { form, button, unwatch: by.whenAsked(place.output, form.open) };
  }

  const toggle = makeButton("Table", "fairstrike-link", showTable);
  toggle.setAttribute("aria-pressed", "false");
  const saving = figures === null ? null : offerSaving(figures);
  const bar = makeElement(
    "div", "fairstrike-bar", {},
    toggle,
    makeButton("Copy as SVG", "fairstrike-link", () => void copySvg()),
    makeButton("Copy as PNG", "fairstrike-link", () => void copyPng()),
    ...(saving === null ? [] : [saving.button]),
    status,
  );
  // Opened below the buttons, the form could lie under the edge of the window; in their place it is where the person looks.
  const element = makeElement("div", "", {}, chart, ...(saving === null ? [] : [saving.form.element]), bar, table);

  let frame = 0;
  const resized = new ResizeObserver(() => {
    cancelAnimationFrame(frame);
    frame = requestAnimationFrame(() => {
      const width = Math.min(widest, Math.max(narrowest, Math.floor(element.clientWidth)));
      if (Math.abs(width - drawnWidth) >= leastChange) void draw();
    });
  });
  resized.observe(element);
  const unwatch = watchTheme(() => void draw());
  return {
    element,
    dispose: () => {
      isGone = true;
      unwatch();
      saving?.unwatch();
      resized.disconnect();
      cancelAnimationFrame(frame);
      view?.finalize();
      view = null;
    },
  };
}

/** What `make` gives of a view while it has the editor's background: a copy must be readable where it is put. */
async function withBackground<T>(view: View, make: (view: View) => Promise<T>): Promise<T> {
  const before = view.background();
  view.background(pageTheme().background);
  try {
    return await make(view);
  } finally {
    view.background(before);
  }
}
