import type { ColumnSchema } from "../table/schema";
import { isShotColumn, shotColumnNames } from "../table/shot-columns";
import { missingCount, valueAt, type Column, type Table } from "../table/table";
import type { Unit } from "../units";
import { allows, anything, both, type Allowed, type Bound, type Choice } from "./narrow-allowed";
import { allowedIn, type NarrowPlace } from "./narrow-place";
import { isEngineName } from "./names";

/** A value that rows can be narrowed to. */
export interface FacetValue {
  readonly value: Choice;
  /** Rows that have it, before any filter; `null` where they were not counted. */
  readonly count: number | null;
  readonly isTicked: boolean;
}

/** Rows without a value in a column; `null` for their count where they were not counted. */
export interface FacetMissing {
  readonly count: number | null;
  readonly isTicked: boolean;
}

/** A column of few values. */
export interface ChoiceFacet {
  readonly kind: "choice";
  readonly column: string;
  readonly values: readonly FacetValue[];
  /** `null` where every row has a value. */
  readonly missing: FacetMissing | null;
}

/** A column of numbers, in its unit. */
export interface RangeFacet {
  readonly kind: "range";
  readonly column: string;
  readonly unit: Unit | null;
  /** The least and the greatest number that was found; `null` where that is not known. */
  readonly found: { readonly low: number; readonly high: number } | null;
  readonly low: Bound | null;
  readonly high: Bound | null;
  readonly missing: FacetMissing | null;
}

/** What a column can be narrowed to, and what it is narrowed to at present. */
export type Facet = ChoiceFacet | RangeFacet;

/** Values of a column beyond which they are not ticked one by one. Common practice, no source. */
const mostTicked = 40;

/** Numbers that say which shots belong together, and are ticked as texts are. */
const counted: ReadonlySet<string> = new Set(["stint", "pass"]);

/** What is asked for most often comes first. */
const firstColumns = ["head", "zone", "session", "intent", "stint", "pass"];

/**
 * What the table at a place can be narrowed to: columns of few values first, then ranges of numbers. Left out is a column
 * in which all rows are alike, unless it is narrowed.
 *
 * @param table the rows there, before the filters; values are not counted where it is `null`.
 */
export function facetsOf(place: NarrowPlace, table: Table | null): readonly Facet[] {
  const facets = place.before.columns.flatMap((schema): Facet[] => {
    if (isEngineName(schema.name)) return [];
    const rows = table?.columns.find(({ name, kind }) => name === schema.name && kind === schema.kind) ?? null;
    const own = allowedIn(place, schema.name);
    const facet = choiceOf(schema, rows, joined(own)) ?? rangeOf(schema, rows, joined(own.filter((each) => isShownBy("range", each))));
    return facet === null ? [] : [facet];
  });
  const rank = ({ kind, column }: Facet): number => {
    const first = firstColumns.indexOf(column);
    if (kind === "choice") return first >= 0 ? first : firstColumns.length;
    return 100 + (isShotColumn(column) ? shotColumnNames.indexOf(column) : 1000);
  };
  return facets.map((facet, index) => ({ facet, index })).sort((a, b) => rank(a.facet) - rank(b.facet) || a.index - b.index).map(({ facet }) => facet);
}

/** True for a condition that such a facet can show and change. */
export function isShownBy(kind: Facet["kind"], { only, not }: Allowed): boolean {
  return kind === "choice" || (not.size === 0 && (only === null || (only.size === 1 && [...only].every((value) => typeof value === "number"))));
}

function joined([first, ...others]: readonly Allowed[]): Allowed | null {
  return first === undefined ? null : others.reduce(both, first);
}

function choiceOf(schema: ColumnSchema, rows: Column | null, own: Allowed | null): ChoiceFacet | null {
  const { name, kind } = schema;
  if (kind === "number" && !counted.has(name)) return null;
  const known = valuesOf(schema, rows);
  if (known === null || known.size > mostTicked) return null;
  const missing = missingOf(schema, rows, own);
  if (own === null && known.size + (missing === null ? 0 : 1) < 2) return null;
  const pass = own ?? anything(name);
  const values: FacetValue[] = [...known].map(([value, count]) => ({ value, count, isTicked: allows(pass, value) }));
  for (const value of own?.only ?? []) if (!known.has(value) && typeof value === (kind === "truth" ? "boolean" : kind === "text" ? "string" : "number")) values.push({ value, count: rows === null ? null : 0, isTicked: true });
  return { kind: "choice", column: name, values, missing };
}

/** The values with their rows, texts as they are listed and numbers by size; `null` where they are not known. */
function valuesOf({ kind, values }: ColumnSchema, rows: Column | null): ReadonlyMap<Choice, number | null> | null {
  if (rows === null) {
    if (kind === "truth") return new Map([[true, null], [false, null]]);
    return values === undefined ? null : new Map(values.map((value) => [value, null]));
  }
  const counts = new Map<Choice, number>();
  const length = rows.kind === "text" ? rows.codes.length : rows.values.length;
  for (let row = 0; row < length; row++) {
    const value = valueAt(rows, row);
    if (value === null) continue;
    counts.set(value, (counts.get(value) ?? 0) + 1);
    if (counts.size > mostTicked) return null;
  }
  const order = (a: Choice, b: Choice): number => (typeof a === "number" && typeof b === "number" ? a - b : a === b ? 0 : a < b ? -1 : 1);
  return new Map([...counts].sort(([a], [b]) => order(a, b)));
}

function missingOf(schema: ColumnSchema, rows: Column | null, own: Allowed | null): FacetMissing | null {
  const count = rows === null ? (schema.missing ?? null) : missingCount(rows);
  return count === 0 ? null : { count, isTicked: own?.missing ?? true };
}

function rangeOf(schema: ColumnSchema, rows: Column | null, own: Allowed | null): RangeFacet | null {
  if (schema.kind !== "number") return null;
  const found = rows?.kind === "number" ? rangeFound(rows.values) : (schema.range ?? null);
  if (own === null && (rows !== null || schema.range !== undefined) && (found === null || found.low === found.high)) return null;
  const facet = { kind: "range", column: schema.name, unit: schema.unit, found, missing: missingOf(schema, rows, own) } as const;
  const [same] = own?.only ?? [];
  if (typeof same === "number") return { ...facet, low: { value: same }, high: { value: same } };
  return { ...facet, low: own?.low ?? null, high: own?.high ?? null };
}

function rangeFound(values: Float64Array): RangeFacet["found"] {
  let [low, high] = [Infinity, -Infinity];
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return low > high ? null : { low: low + 0, high: high + 0 };
}
