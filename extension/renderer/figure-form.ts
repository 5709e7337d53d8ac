import { darkTheme, lightTheme, type ChartTheme } from "../../core/chart/themes";
import type { FigureMessage } from "../../core/present/figure-message";
import type { ChartPayload } from "../../core/present/payload";
import { inert } from "../../core/present/show-value";
import { drawFigure, type FigureBackground } from "../../core/report/figure";
import { makeButton, makeElement } from "./make-element";
import { pageTheme } from "./page-theme";

/** Hands a figure to the extension and gives what it says of it. */
export type SaveFigure = (figure: Pick<FigureMessage, "form" | "width" | "height" | "content">) => Promise<string>;

/** Looks of a figure; those for film are readable on light and on dark footage, having an edge of the other shade. */
const looks: Readonly<Record<string, () => ChartTheme>> = {
  "as shown": () => ({ ...pageTheme(), font: lightTheme.font }),
  "dark words": () => ({ ...lightTheme, foreground: "#000000" }),
  "light words": () => ({ ...darkTheme, foreground: "#ffffff", background: "#000000" }),
};

/** Sizes of a figure in pixels; without one it is as large as it is shown. */
const sizes: Readonly<Record<string, { readonly width: number; readonly height: number } | null>> = {
  "as shown": null,
  "1920 × 1080": { width: 1920, height: 1080 },
};

const backgrounds: Readonly<Record<string, FigureBackground>> = { solid: "solid", "none, for film": "transparent" };

/** Pixels of a picture for one pixel of the page, where its size is that shown. */
const density = 2;

/** The form between a chart and its buttons that saves it as a figure, and what opens and closes it. */
export interface FigureForm {
  readonly element: HTMLElement;
  /** Opens the form and puts the focus into it, or closes it. */
  readonly toggle: () => void;
  readonly open: () => void;
}

/**
 * Makes the form that saves a chart, closed at first.
 *
 * @param parts.shownWidth pixels of the chart as it is shown.
 * @param parts.say is told what happens, for the person.
 * @param parts.whenToggled is told when it opens and closes.
 */
export function makeFigureForm(payload: ChartPayload, title: string, save: SaveFigure, parts: { readonly shownWidth: () => number; readonly say: (text: string) => void; readonly whenToggled: (isOpen: boolean) => void }): FigureForm {
  const file = makeChoice("File", ["PNG", "SVG"]);
  const size = makeChoice("Size", Object.keys(sizes));
  const look = makeChoice("Colours", Object.keys(looks));
  const background = makeChoice("Background", Object.keys(backgrounds));
  const press = makeButton("Save…", "fairstrike-button", () => void saveNow());
  const element = makeElement(
    "div", "fairstrike-bar fairstrike-form",
    { attributes: { hidden: "", role: "group", "aria-label": "Save the figure" }, on: { keydown: (event) => closeOnEscape(event) } },
    file.label, size.label, look.label, background.label, press, makeButton("Cancel", "fairstrike-link", toggle),
  );

  function toggle(): void {
    const isOpen = !element.toggleAttribute("hidden");
    parts.whenToggled(isOpen);
    if (isOpen) file.select.focus();
  }

  function closeOnEscape(event: Event): void {
    if (!(event instanceof KeyboardEvent) || event.key !== "Escape") return;
    event.stopPropagation();
    toggle();
  }

  async function saveNow(): Promise<void> {
    press.disabled = true;
    parts.say("Drawing the figure …");
    try {
      const fixed = sizes[size.select.value] ?? null;
      const { svg, warning } = await drawFigure(payload, title, {
        theme: looks[look.select.value]!(),
        background: backgrounds[background.select.value]!,
        ...(fixed ?? { width: parts.shownWidth() }),
      });
      const [, width, height] = /^<svg\b[^>]* width="(\d+)" height="(\d+)"/u.exec(svg)!.map(Number);
      const figure = file.select.value === "SVG" ? { form: "svg" as const, width: width!, height: height!, content: svg } : await pngOf(svg, width!, height!, fixed === null ? density : 1);
      parts.say("Choose where the figure goes.");
      parts.say(`${await save(figure)}${warning === null ? "" : ` But ${warning}.`}`);
    } catch (error) {
      parts.say(`The figure cannot be saved: ${inert(error instanceof Error ? error.message : "it cannot be drawn")}.`);
    } finally {
      press.disabled = false;
    }
  }

  return { element, toggle, open: () => (element.hasAttribute("hidden") ? toggle() : file.select.focus()) };
}

function makeChoice(name: string, choices: readonly string[]): { readonly label: HTMLElement; readonly select: HTMLSelectElement } {
  const select = makeElement("select", "fairstrike-field", {}, ...choices.map((each) => makeElement("option", "", { attributes: { value: each } }, each)));
  return { label: makeElement("label", "", {}, `${name} `, select), select };
}

/** An SVG document as a picture of exactly `width × density` by `height × density` pixels; what it leaves free is transparent. */
async function pngOf(svg: string, width: number, height: number, density: number): Promise<Parameters<SaveFigure>[0]> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = width * density;
  canvas.height = height * density;
  const context = canvas.getContext("2d");
  if (context === null) throw new Error("pictures cannot be made here");
  context.drawImage(image, 0, 0, canvas.width, canvas.height);
  const content = canvas.toDataURL("image/png").replace(/^data:image\/png;base64,/u, "");
  return { form: "png", width: canvas.width, height: canvas.height, content };
}
