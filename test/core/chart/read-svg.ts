import { textWidth } from "../../../core/chart/text-width";

/** An element of an SVG document with the place that its ancestors' translations give it. */
export interface SvgElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly x: number;
  readonly y: number;
  readonly isUpright: boolean;
  /** Classes of the groups around it. */
  readonly within: string;
  text: string;
}

const token = /<(\/?)([A-Za-z]+)((?:\s+[A-Za-z][A-Za-z0-9:-]*="[^"<]*")*)\s*(\/?)>|([^<]+)/gy;

/** The elements of a document that has nothing in it but elements, attributes in quotes and text; throws otherwise. */
export function readSvg(svg: string): SvgElement[] {
  const found: SvgElement[] = [];
  const open: SvgElement[] = [];
  let end = 0;
  for (const match of svg.matchAll(token)) {
    if (match.index !== end) break;
    end += match[0].length;
    const [, closing, name, attributes, selfClosing, text] = match;
    if (text !== undefined) {
      const last = open.at(-1);
      if (last) last.text += text;
    } else if (closing) open.pop();
    else {
      const made = makeElement(name!, attributes ?? "", open.at(-1), found.at(-1));
      found.push(made);
      if (!selfClosing) open.push(made);
    }
  }
  if (end !== svg.length || open.length > 0) throw new Error(`not well-formed at ${end}: ${svg.slice(end, end + 60)}`);
  return found;
}

function makeElement(name: string, text: string, parent: SvgElement | undefined, before: SvgElement | undefined): SvgElement {
  // A line of a text is set as the text is.
  const inherited = name === "tspan" ? parent?.attributes : {};
  const own = Object.fromEntries([...text.matchAll(/([A-Za-z][A-Za-z0-9:-]*)="([^"]*)"/g)].map((m) => [m[1]!, m[2]!]));
  const attributes = { ...inherited, ...own };
  const transform = own["transform"] ?? "";
  const move = /translate\(([-\d.e]+),([-\d.e]+)\)/.exec(transform);
  return {
    name,
    attributes,
    x: (parent?.x ?? 0) + Number(move?.[1] ?? 0),
    // A further line of a text is set down from the line before it.
    y: ((name === "tspan" && before?.name === "tspan" ? before.y : parent?.y) ?? 0) + Number(move?.[2] ?? 0) + Number(own["dy"] ?? 0),
    isUpright: !(attributes["transform"] ?? "").includes("rotate"),
    within: `${parent?.within ?? ""} ${parent?.attributes["class"] ?? ""}`,
    text: "",
  };
}

/** How many marks are drawn in the groups whose class has `role`, such as `mark-symbol role-mark layer_2`. */
export function countMarks(elements: readonly SvgElement[], role: string): number {
  return elements.filter((element) => element.name === "path" && element.within.includes(role)).length;
}

/** Texts that stick out of the picture, with where they end. */
export function cutTexts(elements: readonly SvgElement[]): string[] {
  const [, , width, height] = elements[0]!.attributes["viewBox"]!.split(" ").map(Number) as [number, number, number, number];
  return elements
    .filter((element) => (element.name === "text" || element.name === "tspan") && element.text !== "")
    .flatMap((element) => {
      const isBold = element.attributes["font-weight"] === "600" || element.attributes["font-weight"] === "bold";
      const size = Number(/\d+/.exec(element.attributes["font-size"] ?? "11")![0]);
      // Without the reserve for wide type, which the layout keeps on purpose.
      const length = textWidth(element.text, size, isBold) / 1.1;
      const anchor = element.attributes["text-anchor"];
      const from = anchor === "end" ? -length : anchor === "middle" ? -length / 2 : 0;
      const [low, high] = element.isUpright ? [element.x + from, element.x + from + length] : [element.y - from - length, element.y - from];
      return low < -2 || high > (element.isUpright ? width : height) + 2 ? [`${element.text} ${low}..${high}`] : [];
    });
}

/** Pairs of level texts whose letters lie over each other; the edge of a text, which is the same text below it, is none. */
export function overlappingTexts(elements: readonly SvgElement[]): string[] {
  const boxes = elements
    .filter((element) => (element.name === "text" || element.name === "tspan") && element.text.trim() !== "" && element.isUpright)
    .map((element) => {
      const size = Number(/\d+/.exec(element.attributes["font-size"] ?? "11")![0]);
      const length = textWidth(element.text, size) / 1.1;
      const anchor = element.attributes["text-anchor"];
      const left = element.x + (anchor === "end" ? -length : anchor === "middle" ? -length / 2 : 0);
      return { text: element.text, left, right: left + length, bottom: element.y, top: element.y - size * 0.7 };
    });
  return boxes.flatMap((a, i) =>
    boxes.slice(i + 1).flatMap((b) => (!(a.text === b.text && a.left === b.left && a.top === b.top) && a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1 ? [`${a.text} / ${b.text}`] : [])),
  );
}
