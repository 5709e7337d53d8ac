import { usualReadingErrors } from "../../core/quality/reading-errors";
import { headDefaults } from "../../core/session/head-defaults";
import { unitsOf } from "../../core/session/node-reader";
import type { SessionMap } from "../../core/session/session-keys";
import { shapeOf, type Shape } from "../../core/session/session-shapes";
import { usualUnitOf } from "../../core/session/usual-units";
import { usualLimits } from "../../core/session/check-ranges";
import { shotColumns, type ShotColumn } from "../../core/table/shot-columns";
import type { Unit } from "../../core/units";

/** The keys that are usually written when a map is begun, in their usual order. */
const usualKeys: Readonly<Record<SessionMap, readonly string[]>> = {
  session: ["session", "date", "sources"],
  source: ["file", "order"],
  player: ["name", "hand"],
  monitor: ["kind", "place"],
  column: ["from", "unit"],
  air: ["temperature", "pressure", "humidity"],
  ball: ["model", "count", "wear"],
  head: ["kind", "loft"],
  strike_reference: ["x", "y"],
  zones: ["width", "height"],
  misses: ["x", "y"],
  shots: ["shots", "intent"],
  correction: ["shots", "column", "value", "because"],
  "set-aside entry": ["shot", "column", "because"],
};

/** Values that are usual where the shape alone does not say one. Common practice, no source. */
const usualValues: Readonly<Record<string, string>> = {
  "player.name": "P1",
  "ball.model": "B1",
  "ball.count": "6",
  "correction.shots": "31-33",
  "correction.column": "head",
  "set-aside entry.shot": "41",
  "set-aside entry.column": "carry",
  "shots.shots": "1-6",
  "shots.intent": "warm-up",
};

/** The keys with which a map is usually begun. */
export function usualKeysOf(map: SessionMap): readonly string[] {
  return usualKeys[map];
}

/** Counts the places of a snippet that a person goes through. */
export type Counter = { next: number };

/** A map between braces as a snippet, its usual keys with usual values; a reason is left to the person. */
export function mapSnippet(map: SessionMap, given: Readonly<Record<string, string>> = {}, counter: Counter = { next: 1 }): string {
  const entries = usualKeys[map].map((key) => `${key}: ${placeholder(given[key] ?? typicalIn(map, key), counter)}`);
  return `{ ${entries.join(", ")} }`;
}

/** A place of a snippet with a value in it; of a measure the number is the place. */
export function placeholder(value: string, counter: Counter): string {
  const measure = /^([-+]?\d+(?:\.\d+)?)( .+)$/u.exec(value);
  const n = counter.next++;
  if (measure !== null) return `\${${n}:${measure[1]!}}${inSnippet(measure[2]!)}`;
  return value === "" ? `$${n}` : `\${${n}:${inSnippet(value)}}`;
}

/** Text as it stands in a snippet. */
export function inSnippet(text: string): string {
  return text.replace(/[\\$}]/gu, "\\$&");
}

/** A usual value of a key; "" where there is none. */
export function typicalIn(map: SessionMap, key: string): string {
  const usual = usualValues[`${map}.${key}`];
  const shape = shapeOf(map, key);
  return usual ?? (shape === undefined ? "" : typicalOf(shape));
}

function typicalOf(shape: Shape): string {
  switch (shape.kind) {
    case "measure":
      return shape.typical;
    case "text":
      return shape.typical?.[0] ?? "";
    case "choice":
      return shape.choices[0] ?? "";
    default:
      return "";
  }
}

/** A usual value of what can be stated of a column, as `3 yd`; `null` where there is none. */
export function typicalOfColumn(as: "measure" | "measure or share" | "limits", column: ShotColumn): string | null {
  const { margins } = headDefaults.iron;
  const measure = as === "measure or share" ? usualReadingErrors[column] : Object.hasOwn(margins, column) ? margins[column] : undefined;
  return as === "limits" || measure === undefined ? null : `${measure.value} ${measure.unit}`;
}

/** The usual limits of a column as a snippet, `[${1:50} yd, ${2:250} yd]`; `null` where any value will do. */
export function limitsSnippet(column: ShotColumn): string | null {
  const unit = unitsForColumn(column)[0] ?? null;
  const limits = usualLimits(column, unit);
  if (limits === null) return null;
  const counter: Counter = { next: 1 };
  const places = limits.map((limit) => placeholder(`${Number(limit.toPrecision(3))}${unit === null ? "" : ` ${unit}`}`, counter));
  return `[${places.join(", ")}]`;
}

/** The units that a column can be in, the usual one first; none for text and pure numbers. */
export function unitsForColumn(column: ShotColumn): readonly Unit[] {
  const { quantity } = shotColumns[column];
  if (quantity === null) return [];
  const usual = usualUnitOf(column);
  return [...new Set([...(usual === undefined ? [] : [usual]), ...unitsOf(quantity)])];
}
