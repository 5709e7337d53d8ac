import { keysOf, sessionKeyHelp, type SessionMap } from "../../core/session/session-keys";
import { wordsOfDirection } from "../../core/session/directions";
import { columnsThatAre, shapeOf, type ColumnKeys, type Shape } from "../../core/session/session-shapes";
import { shotColumns, type ShotColumn } from "../../core/table/shot-columns";
import { yamlScalar } from "../../core/yaml-scalar";
import type { SuggestionKind } from "./answers";
import { acceptedBy, columnInWords } from "./session-key-words";
import { columnOf, shapesAt, type SessionPlace } from "./session-place";
import { inSnippet, limitsSnippet, mapSnippet, placeholder, typicalOfColumn, unitsForColumn } from "./session-typical";
import { headNames } from "./session-values";
import type { SessionView } from "./session-view";

/** A key that can stand at a place. */
export interface KeyChoice {
  readonly name: string;
  readonly kind: SuggestionKind;
  readonly detail: string;
  readonly documentation: string;
  /** What comes behind the colon, as a snippet; "" where that is for the person to say. */
  readonly value: string;
  /** The whole of it as a snippet, where the name is the person's to choose. */
  readonly snippet?: string;
  readonly label?: string;
}

/** How values are written at a place: between brackets, or in lines. */
export type Style = "flow" | "block";

/** The keys that the map at the end of a path can have besides those it has. */
export function keysFor(view: SessionView, path: readonly (string | null)[], taken: ReadonlySet<string>, style: Style): readonly KeyChoice[] {
  return shapesAt(path).flatMap((shape) => {
    if (shape.kind === "map") return mapKeys(shape.map, shape.only, path, taken, style);
    if (shape.kind === "entries") return shape.keys === "heads" ? headKeys(view, taken) : columnKeys(shape.keys, shape.value, taken);
    return shape.kind === "name" && shape.of === "sides" ? sideKeys(path, taken) : [];
  });
}

/** The texts of the keys beside a place in its map. */
export function keysBeside({ around, entry }: SessionPlace): ReadonlySet<string> {
  const map = around.at(-1);
  return new Set(map?.kind === "map" ? map.entries.filter((each) => each !== entry).map(({ key }) => key.text) : []);
}

function mapKeys(map: SessionMap, only: readonly string[] | undefined, path: readonly (string | null)[], taken: ReadonlySet<string>, style: Style): readonly KeyChoice[] {
  const help: Readonly<Record<string, string>> = sessionKeyHelp[map];
  const hasShots = taken.has("shots") || taken.has("shot");
  const fits = (key: string): boolean => !taken.has(key) && only?.includes(key) !== false && !(hasShots && (key === "shots" || key === "shot"));
  const column = columnOf(path);
  return keysOf(map)
    .filter((key) => fits(key) && isSaidOf(column, map, key))
    .map((key) => {
      const shape = shapeOf(map, key)!;
      return { name: key, kind: "key", detail: help[key] ?? "", documentation: acceptedBy(shape), value: valueSnippet(shape, style) };
    });
}

/** False for a key of a column that means nothing for it: a unit of text, a side of a speed. */
function isSaidOf(column: ShotColumn | null, map: SessionMap, key: string): boolean {
  if (column === null || map !== "column") return true;
  if (key === "unit") return shotColumns[column].quantity !== null;
  return (key !== "sides" && key !== "positive") || shotColumns[column].direction !== null;
}

function valueSnippet(shape: Shape, style: Style): string {
  switch (shape.kind) {
    case "measure":
      return placeholder(shape.typical, { next: 1 });
    case "map":
      return mapSnippet(shape.map);
    case "entries":
      return style === "block" ? "\n  $0" : "{ $0 }";
    case "list":
      return shape.item.kind === "map" ? (style === "block" ? `\n  - ${mapSnippet(shape.item.map)}` : `[${mapSnippet(shape.item.map)}]`) : "";
    default:
      return "";
  }
}

function headKeys(view: SessionView, taken: ReadonlySet<string>): readonly KeyChoice[] {
  const { described, hit } = headNames(view);
  const key = (name: string): KeyChoice => ({
    name,
    kind: "value",
    detail: "hit in the exports, and not described yet",
    documentation: "",
    value: mapSnippet("head"),
  });
  const unused = ["Wren", "Heron", "Plover"].find((name) => !taken.has(name) && !described.includes(name)) ?? "Name";
  const snippet = `${placeholder(unused, { next: 1 })}: ${mapSnippet("head", {}, { next: 2 })}`;
  return [
    ...hit.filter((name) => !taken.has(name)).map(key),
    { ...key(unused), kind: "snippet", label: "a new head", detail: "its name, kind and loft", snippet },
  ];
}

function columnKeys(keys: ColumnKeys, value: Shape, taken: ReadonlySet<string>): readonly KeyChoice[] {
  return columnsThatAre[keys]
    .filter((name) => !taken.has(name) && !(value.kind === "of the column" && value.as === "measure" && shotColumns[name].quantity === null))
    .map((name) => ({ name, kind: "column", detail: columnInWords(name), documentation: "", value: columnValue(name, value) }));
}

function columnValue(column: ShotColumn, shape: Shape): string {
  if (shape.kind === "of the column") {
    if (shape.as === "limits") return limitsSnippet(column) ?? "";
    const typical = typicalOfColumn(shape.as, column);
    return typical === null ? "" : placeholder(typical, { next: 1 });
  }
  const unit = unitsForColumn(column)[0];
  return unit === undefined ? "" : `{ from: $1, unit: ${placeholder(unit, { next: 2 })} }`;
}

function sideKeys(path: readonly (string | null)[], taken: ReadonlySet<string>): readonly KeyChoice[] {
  const column = columnOf(path);
  const direction = column === null ? null : shotColumns[column].direction;
  const words = direction === null ? [] : wordsOfDirection(direction).flat();
  return words.filter((word) => !taken.has(word)).map((name) => ({ name, kind: "key", detail: `the word that stands for ${name}`, documentation: "", value: "" }));
}

/** A key as it is written, its colon and value behind it where there is no colon yet. */
export function writtenKey({ name, value, snippet }: KeyChoice, hasColon: boolean, style: Style): { readonly insert: string; readonly isSnippet: boolean } {
  const key = yamlScalar(name, style);
  if (hasColon) return { insert: key, isSnippet: false };
  if (snippet !== undefined) return { insert: snippet, isSnippet: true };
  const isBelow = value.startsWith("\n");
  return value === "" ? { insert: `${key}: `, isSnippet: false } : { insert: `${inSnippet(key)}:${isBelow ? "" : " "}${value}`, isSnippet: true };
}
