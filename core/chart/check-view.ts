import { closestName } from "../closest-name";
import { viewProperties } from "./accepted-spec";
import type { ChannelFacts } from "./check-encoding";
import { finishChannel, isRecord, panelChannels } from "./check-encoding";
import type { ChartWalk, Place } from "./check-shape";
import { checkObject, checkValue, report, whereOf } from "./check-shape";
import { checkTransforms } from "./check-transforms";
import type { JsonNode } from "./json-tree";
import type { RowGrowth } from "./row-growth";
import { object } from "./shape";

/** One plot of a chart: its mark and what its channels draw, those of the views around it included. */
export interface UnitFacts {
  readonly mark: string;
  readonly channels: readonly ChannelFacts[];
  /** How its transforms, and those of the views around it, change the number of rows. */
  readonly growth: readonly RowGrowth[];
}

/** A node that is an object. */
export type ObjectNode = JsonNode & { readonly kind: "object" };

/** A checked view and the plots in it. */
export interface CheckedView {
  readonly spec: Record<string, unknown>;
  readonly units: readonly UnitFacts[];
}

/** Keys that say what a view is; it has one of them. */
export const viewKeys = ["mark", "layer", "concat", "hconcat", "vconcat", "spec"];

/** Channels that do not tell one series from another. */
const ungroupingChannels = ["x", "y", "x2", "y2", "xError", "yError", "xError2", "yError2", "text", "tooltip", "order"];

/**
 * Checks one view and all views in it.
 *
 * Its transforms come first, since they decide which columns the rest can name; then its encoding, since the views
 * inside inherit it; then these.
 *
 * @param inherited what the encodings of the views around it draw.
 */
export function checkView(node: JsonNode, place: Place, walk: ChartWalk, inherited: readonly ChannelFacts[] = []): CheckedView {
  if (node.kind !== "object") {
    checkValue(node, object({}), place, walk);
    return { spec: {}, units: [] };
  }
  const inside = (key: string): Place => ({ ...place, path: place.path === "" ? key : `${place.path}.${key}` });
  const part = (key: string): JsonNode | undefined => node.entries.find((entry) => entry.key === key)?.value;
  requireMark(node, place, walk);

  const transform = part("transform");
  let { scope } = place;
  if (transform !== undefined) {
    const checked = checkTransforms(transform, inside("transform"), walk);
    walk.done.set(transform, checked.value);
    scope = checked.scope;
  }
  const own: ChannelFacts[] = [];
  for (const key of ["encoding", "facet"]) {
    const holder = part(key);
    if (holder?.kind === "object") own.push(...checkChannels(key, holder, { ...inside(key), scope }, walk));
  }
  const channels = [...inherited.filter((each) => !own.some((mine) => mine.channel === each.channel)), ...own];
  checkPanels(own, { ...place, scope }, node, walk);

  const units: UnitFacts[] = [];
  for (const key of viewKeys.slice(1)) {
    const views = part(key);
    if (views !== undefined) units.push(...checkViews(key, views, { ...inside(key), scope }, walk, channels));
  }
  const spec = checkObject(node, viewProperties(walk.limits), { ...place, scope }, walk)?.value as Record<string, unknown>;
  const mark = finishMark(spec, part("mark"), place, walk);
  return { spec, units: mark === null ? units : [...units, { mark, channels, growth: [...scope.growth, ...filledGaps(channels)] }] };
}

/** What channels that fill the gaps of a series do to the number of rows: every group gets each value of the other axis. */
function filledGaps(channels: readonly ChannelFacts[]): RowGrowth[] {
  const grouping = (each: ChannelFacts) => (each.isOwn ? each.column : null);
  const groups = channels.filter((each) => each.column !== null && !each.isAggregate && !ungroupingChannels.includes(each.channel));
  return channels
    .filter((each) => each.isImputed)
    .map((each) => {
      const key = channels.find((other) => other.channel === (each.channel === "x" ? "y" : "x"));
      return { kind: "each key", fills: each.column ?? "", key: key === undefined ? null : grouping(key), groupby: groups.map(grouping), written: 0 };
    });
}

/** Reports a view that is nothing; a key that is misspelled is reported as that. */
function requireMark(node: ObjectNode, place: Place, walk: ChartWalk): void {
  const isThere = node.entries.some(({ key }) => viewKeys.includes(key) || closestName(key, viewKeys) !== null);
  if (!isThere) report(walk, "chart.no-mark", { where: whereOf(place) }, { from: node.from, to: node.from + 1 });
}

/** Gives a mark tooltips unless told otherwise; returns its name, or `null` when there is none. */
function finishMark(spec: Record<string, unknown>, node: JsonNode | undefined, place: Place, walk: ChartWalk): string | null {
  const { mark } = spec;
  if (node === undefined) return null;
  if (typeof mark === "string") {
    spec["mark"] = { type: mark, tooltip: true };
    return mark;
  }
  if (!isRecord(mark)) return null;
  mark["tooltip"] ??= true;
  if (typeof mark["type"] === "string") return mark["type"];
  if (node.kind === "object" && !node.entries.some((entry) => entry.key === "type")) report(walk, "chart.no-mark", { where: `the mark of ${whereOf(place)}` }, node);
  return null;
}

function checkViews(key: string, node: JsonNode, place: Place, walk: ChartWalk, channels: readonly ChannelFacts[]): readonly UnitFacts[] {
  if (key === "spec") {
    const view = checkView(node, place, walk, channels);
    walk.done.set(node, view.spec);
    return view.units;
  }
  const most = walk.limits.panels;
  if (node.kind !== "list" || node.items.length > most) return [];
  const views = node.items.map((item, index) => checkView(item, { ...place, path: `${place.path}[${index}]` }, walk, channels));
  walk.done.set(node, views.map((view) => view.spec));
  return views.flatMap((view) => view.units);
}

/** Checks an encoding, or the channel or channels that make the panels of a facet; what goes into the chart is kept in `walk.done`. */
function checkChannels(key: string, node: ObjectNode, place: Place, walk: ChartWalk): ChannelFacts[] {
  const accepted = viewProperties(walk.limits)[key]!;
  const made = checkValue(node, accepted, place, walk)?.value;
  if (!isRecord(made)) return [];
  walk.done.set(node, made);
  const isOne = key === "facet" && !node.entries.some((entry) => entry.key === "row" || entry.key === "column");
  if (isOne) return found(finishChannel("facet", node, made, place, walk));
  return node.entries.flatMap((entry) => {
    const values = [made[entry.key]].flat();
    const nodes = entry.value.kind === "list" ? entry.value.items : [entry.value];
    const at = { ...place, path: `${place.path}.${entry.key}` };
    return nodes.flatMap((each, index) => {
      const value = values[index];
      return isRecord(value) ? found(finishChannel(entry.key, each, value, at, walk)) : [];
    });
  });
}

function found(facts: ChannelFacts | null): ChannelFacts[] {
  return facts === null ? [] : [facts];
}

/** Reports panels whose number the schema already tells to be too great. */
function checkPanels(channels: readonly ChannelFacts[], place: Place, node: ObjectNode, walk: ChartWalk): void {
  const panels = channels.filter((each) => panelChannels.includes(each.channel));
  const count = panels.reduce((product, each) => product * Math.max(1, place.scope.columns.get(each.column ?? "")?.values?.length ?? 1), 1);
  const holder = node.entries.find((entry) => entry.key === "facet" || entry.key === "encoding");
  if (count > walk.limits.panels && holder !== undefined) report(walk, "chart.too-many-panels", { count, most: walk.limits.panels }, holder.keySpan);
}
