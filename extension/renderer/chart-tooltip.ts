import { cut, inert } from "../../core/present/show-value";
import { makeElement } from "./make-element";

/** Returns what Vega calls while the pointer is over a mark: it shows the mark's values beside the pointer, as text. */
export function makeTooltip(chart: HTMLElement): (handler: unknown, event: MouseEvent, item: unknown, value: unknown) => void {
  const tip = makeElement("div", "fairstrike-tip", { attributes: { "aria-hidden": "true" } });
  return (_handler, event, _item, value) => {
    if (value === null || value === undefined || value === "") {
      tip.remove();
      return;
    }
    tip.replaceChildren(...linesOf(value));
    chart.append(tip);
    const around = chart.getBoundingClientRect();
    const [x, y] = [event.clientX - around.left + chart.scrollLeft, event.clientY - around.top];
    const isRight = x + tip.offsetWidth + 16 > chart.clientWidth + chart.scrollLeft;
    tip.style.left = `${Math.max(0, isRight ? x - tip.offsetWidth - 10 : x + 12)}px`;
    tip.style.top = `${Math.max(0, Math.min(y + 12, chart.clientHeight - tip.offsetHeight))}px`;
  };
}

function linesOf(value: unknown): Node[] {
  if (typeof value !== "object" || value === null) return [document.createTextNode(shownText(value))];
  const rows = Object.entries(value).map(([name, each]) =>
    makeElement("tr", "", {}, makeElement("td", "", {}, shownText(name)), makeElement("td", "", {}, shownText(each))),
  );
  return [makeElement("table", "", {}, ...rows)];
}

function shownText(value: unknown): string {
  return cut(inert(typeof value === "string" || typeof value === "number" || typeof value === "boolean" ? String(value) : "–"), 80);
}
