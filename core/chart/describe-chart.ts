import { panelChannels } from "./check-encoding";
import type { UnitFacts } from "./check-view";

const plural: Readonly<Record<string, string>> = {
  arc: "Sectors", area: "Areas", bar: "Bars", boxplot: "Box plots", circle: "Points", errorband: "Bands", errorbar: "Error bars",
  line: "Lines", point: "Points", rect: "Fields", rule: "Lines", square: "Points", text: "Texts", tick: "Ticks", trail: "Lines",
};

/** A sentence that says what a chart draws, from its marks and columns: `Points of carry (yd) against offline (yd), by head.` */
export function describeUnits(units: readonly UnitFacts[]): string {
  const sentences = units.map(describeUnit);
  return sentences.length === 0 ? "A chart." : [...new Set(sentences)].slice(0, 4).join(" ");
}

/** A description as it can stand between double quotes in the first line of a cell. */
export function inFirstLine(description: string): string {
  return description.replaceAll('"', "'").replaceAll("\\", "/");
}

function describeUnit(unit: UnitFacts): string {
  const titleOf = (...channels: readonly string[]): string | undefined => unit.channels.find((each) => channels.includes(each.channel))?.title;
  const [x, y] = [titleOf("x", "theta"), titleOf("y", "radius")];
  const what = plural[unit.mark] ?? "Marks";
  const of = y === undefined && x === undefined ? "" : y === undefined ? ` of ${x}` : x === undefined ? ` of ${y}` : ` of ${y} against ${x}`;
  const by = [titleOf("color", "fill", "stroke", "shape"), titleOf(...panelChannels)].filter((title) => title !== undefined);
  return `${what}${of}${by.length === 0 ? "" : `, by ${[...new Set(by)].join(" and ")}`}.`;
}
