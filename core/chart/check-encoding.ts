import type { Fix } from "../problem";
import { aggregateInWords, keepsUnit, takesAnyKind } from "./aggregates";
import type { ChartWalk, Place } from "./check-shape";
import { replacing, report, whereOf } from "./check-shape";
import { columnTitle } from "./chart-parts";
import type { ColumnScope, KnownColumn } from "./column-scope";
import { findName } from "./column-scope";
import type { JsonNode } from "./json-tree";

/** What a channel draws, as far as checks of the data and a description need it. */
export interface ChannelFacts {
  readonly channel: string;
  /** The column as the table names it; `null` for a count or a fixed value. */
  readonly column: string | null;
  readonly title: string;
  readonly isAggregate: boolean;
  readonly isBinned: boolean;
  /** The width that its bins are told to have; `null` when they are not. */
  readonly binStep: number | null;
  readonly isLog: boolean;
  readonly type: string;
  /** False when a scale or an axis of bars may start elsewhere than at 0. */
  readonly startsAtZero: boolean;
  /** True where gaps of the series are filled. */
  readonly isImputed: boolean;
  /** True while the column is the table's own. */
  readonly isOwn: boolean;
  /** True while the column is the table's own and its rows are the table's. */
  readonly isPlain: boolean;
}

/** Channels that make panels. */
export const panelChannels: readonly string[] = ["facet", "row", "column"];

const titledChannels = new Set([...panelChannels, "x", "y", "xOffset", "yOffset", "theta", "radius", "color", "fill", "stroke", "opacity", "fillOpacity", "strokeOpacity", "strokeWidth", "strokeDash", "size", "angle", "shape", "text", "tooltip", "detail"]);
const typelessChannels = new Set(["x2", "y2", "xError", "yError", "xError2", "yError2", "theta2", "radius2"]);

/**
 * Completes a checked channel: its type from the column's kind, and its title with the unit, where neither is given.
 *
 * @param made the channel as it goes into the chart; completed in place.
 * @returns what the channel draws; `null` for a fixed value.
 */
export function finishChannel(channel: string, node: JsonNode, made: Record<string, unknown>, place: Place, walk: ChartWalk): ChannelFacts | null {
  if (node.kind !== "object") return null;
  const conditions = made["condition"];
  const conditionNode = entryOf(node, "condition");
  for (const [index, condition] of [conditions].flat().entries()) {
    const at = conditionNode?.kind === "list" ? conditionNode.items[index] : conditionNode;
    if (at !== undefined && isRecord(condition)) finishChannel(channel, at, condition, place, walk);
  }
  const written = textOf(entryOf(node, "field"));
  const aggregate = textOf(entryOf(node, "aggregate"));
  if (written === undefined && aggregate === undefined) {
    if (made["datum"] !== undefined && made["type"] === undefined) made["type"] = typeof made["datum"] === "number" ? "quantitative" : "nominal";
    return null;
  }
  const name = written === undefined ? null : findName(place.scope, written);
  if (written !== undefined && name === null) return null;
  const known = name === null ? undefined : place.scope.columns.get(name);
  const isBinned = made["bin"] !== undefined && made["bin"] !== null && made["bin"] !== false;
  checkKind(node, name, known, aggregate, isBinned, place, walk);
  const type = typeof made["type"] === "string" ? made["type"] : typeFor(known, aggregate, isBinned);
  if (!typelessChannels.has(channel)) made["type"] = type;
  const title = titleOf(name, known, aggregate, place.scope);
  if (made["title"] === undefined && titledChannels.has(channel) && !hasGuideTitle(made)) made["title"] = title;
  const scale = isRecord(made["scale"]) ? made["scale"] : {};
  return {
    channel,
    column: name,
    title,
    isAggregate: aggregate !== undefined,
    isBinned,
    binStep: isRecord(made["bin"]) && typeof made["bin"]["step"] === "number" ? made["bin"]["step"] : null,
    isLog: scale["type"] === "log",
    type,
    startsAtZero: scale["zero"] !== false && !startsAbove(scale["domain"]) && !startsAbove([scale["domainMin"]]),
    isImputed: isRecord(made["impute"]),
    isOwn: known?.isMade !== true,
    isPlain: place.scope.isPlain && known?.isMade !== true,
  };
}

function checkKind(node: JsonNode & { kind: "object" }, name: string | null, known: KnownColumn | undefined, aggregate: string | undefined, isBinned: boolean, place: Place, walk: ChartWalk): void {
  if (name === null || known === undefined || known.kind === null || known.kind === "number") return;
  const kind = known.kind === "text" ? "text" : "truth values";
  const type = entryOf(node, "type");
  const use = (phrase: string, at: JsonNode | undefined, fix?: Fix): void => {
    if (at !== undefined) report(walk, "chart.wrong-type", { name, kind, use: phrase }, at, fix);
  };
  if (aggregate !== undefined && !takesAnyKind(aggregate)) use(`taken the ${aggregate} of in ${whereOf(place)}`, entryOf(node, "aggregate"));
  else if (isBinned) use(`put into bins in ${whereOf(place)}`, entryOf(node, "bin"));
  else if (aggregate === undefined && textOf(type) === "quantitative" && type !== undefined)
    use(`quantitative in ${whereOf(place)}`, type, replacing(walk, type, '"nominal"', 'Change to "nominal"'));
}

function typeFor(known: KnownColumn | undefined, aggregate: string | undefined, isBinned: boolean): string {
  if (aggregate !== undefined || isBinned) return "quantitative";
  return known?.kind === "number" ? "quantitative" : "nominal";
}

function titleOf(name: string | null, known: KnownColumn | undefined, aggregate: string | undefined, scope: ColumnScope): string {
  if (aggregate === "count" || name === null) return scope.isPlain ? "count" : "count of rows";
  const column = { name, unit: aggregate === undefined || keepsUnit(aggregate) ? (known?.unit ?? null) : null };
  const plain = columnTitle(column);
  return aggregate === undefined ? plain : `${aggregateInWords(aggregate)} ${plain}`;
}

function hasGuideTitle(made: Readonly<Record<string, unknown>>): boolean {
  return ["axis", "legend", "header"].some((guide) => isRecord(made[guide]) && made[guide]["title"] !== undefined);
}

function startsAbove(domain: unknown): boolean {
  const [first] = Array.isArray(domain) ? (domain as unknown[]) : [];
  return typeof first === "number" && first > 0;
}

function entryOf(node: JsonNode & { kind: "object" }, key: string): JsonNode | undefined {
  return node.entries.find((entry) => entry.key === key)?.value;
}

function textOf(node: JsonNode | undefined): string | undefined {
  return node?.kind === "text" ? node.value : undefined;
}

/** True for an object that is not a list. */
export function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
