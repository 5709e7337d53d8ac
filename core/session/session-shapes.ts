import { countedColumns, settableColumns } from "../table/settable-columns";
import { shotColumnNames, shotColumns, type ShotColumn } from "../table/shot-columns";
import type { Quantity } from "../units";
import { headKinds } from "./head-defaults";
import type { ShotOrder } from "./session";
import type { CarryIs, HeadKind } from "./session-facts";
import type { SessionKey, SessionMap } from "./session-keys";

/** Shot columns that an export may have; `shot` is read for the order alone. */
export const mappableColumns: readonly ShotColumn[] = shotColumnNames.filter((name) => name === "shot" || !countedColumns.includes(name));

/** Number columns of shots: what margins and limits can be stated for. */
export const numberColumns: readonly ShotColumn[] = shotColumnNames.filter((name) => shotColumns[name].kind === "number");

/** Shot columns that a monitor reads: what it may calculate instead, and what its readings may be off by. */
export const monitorColumns: readonly ShotColumn[] = settableColumns.filter((name) => shotColumns[name].group !== "ratings");

/** What an entry of `set_aside` can name: a reading or a rating, or all of a shot's. */
export const columnsToSetAside: readonly (ShotColumn | "all")[] = ["all", ...settableColumns];

/** Shot columns that a correction can name; besides these, any header of the exports. */
export const correctableColumns: readonly ShotColumn[] = shotColumnNames.filter((name) => !countedColumns.includes(name));

/** Shot columns that can be the keys of a map. */
export type ColumnKeys = "mappable columns" | "number columns" | "monitor columns";

/** The shot columns that can be the keys of a map, by what the map is for. */
export const columnsThatAre: Readonly<Record<ColumnKeys, readonly ShotColumn[]>> = {
  "mappable columns": mappableColumns,
  "number columns": numberColumns,
  "monitor columns": monitorColumns,
};

/**
 * What may stand behind a key.
 *
 * A list is written as a list or, for one item, as the item alone. `of the column` is a measure in a unit of the shot
 * column that is the key: with a share of it allowed, or as a pair of limits.
 */
export type Shape =
  | { readonly kind: "text"; readonly typical?: readonly string[] }
  | { readonly kind: "name"; readonly of: "export" | "head" | "header" | "column or header" | "unit" | "sides" | "positive" | "value" }
  | { readonly kind: "date" }
  | { readonly kind: "whole"; readonly least: number; readonly most: number }
  | { readonly kind: "truth" }
  | { readonly kind: "choice"; readonly choices: readonly string[] }
  | { readonly kind: "measure"; readonly quantity: Quantity; readonly typical: string }
  | { readonly kind: "of the column"; readonly as: "measure" | "measure or share" | "limits" }
  | { readonly kind: "shots" }
  | { readonly kind: "list"; readonly item: Shape }
  | { readonly kind: "map"; readonly map: SessionMap; readonly only?: readonly string[]; readonly needed: readonly string[] }
  | { readonly kind: "entries"; readonly keys: "heads" | ColumnKeys; readonly value: Shape }
  | { readonly kind: "either"; readonly shapes: readonly Shape[] };

const text = { kind: "text" } as const;
const shots = { kind: "shots" } as const;
const truth = { kind: "truth" } as const;

/** Missing-value texts, other names of a head: a list of texts, or one. */
const texts = { kind: "list", item: text } as const;

function like(...typical: readonly string[]): { readonly kind: "text"; readonly typical: readonly string[] } {
  return { kind: "text", typical };
}

function choice<const C extends readonly string[]>(choices: C): { readonly kind: "choice"; readonly choices: C } {
  return { kind: "choice", choices };
}

function named<const N extends (Shape & { kind: "name" })["of"]>(of: N): { readonly kind: "name"; readonly of: N } {
  return { kind: "name", of };
}

function measure(quantity: Quantity, typical: string): { readonly kind: "measure"; readonly quantity: Quantity; readonly typical: string } {
  return { kind: "measure", quantity, typical };
}

function mapOf<M extends SessionMap>(map: M, needed: readonly SessionKey<M>[] = [], only?: readonly SessionKey<M>[]): Shape {
  return { kind: "map", map, needed, ...(only === undefined ? {} : { only }) };
}

function list<const I extends Shape>(item: I): { readonly kind: "list"; readonly item: I } {
  return { kind: "list", item };
}

function either(...shapes: readonly Shape[]): { readonly kind: "either"; readonly shapes: readonly Shape[] } {
  return { kind: "either", shapes };
}

function byColumn(as: "measure" | "measure or share" | "limits", keys: ColumnKeys = "number columns"): Shape {
  return { kind: "entries", keys, value: { kind: "of the column", as } };
}

const zone = mapOf("zones", [], ["width", "height"]);
const miss = mapOf("misses", [], ["x", "y"]);

/**
 * What may stand behind each key of `sessionKeyHelp`: reading takes its choices from here, the published schema,
 * completion and hover the rest. Typical values are common practice, no source.
 */
export const sessionShapes = {
  session: {
    session: text,
    date: { kind: "date" },
    data: choice(["recorded", "synthetic"]),
    sources: list(either(named("export"), mapOf("source", ["file"]))),
    player: either(text, mapOf("player")),
    monitor: mapOf("monitor"),
    calculated: list(choice(monitorColumns)),
    carry_is: choice<readonly CarryIs[]>(["as played", "in standard air", "unknown"]),
    columns: { kind: "entries", keys: "mappable columns", value: either(named("header"), mapOf("column", ["from"])) },
    missing: texts,
    air: mapOf("air"),
    turf: text,
    ball: either(text, mapOf("ball")),
    heads: { kind: "entries", keys: "heads", value: mapOf("head", ["kind"]) },
    shots: list(mapOf("shots", ["shots"])),
    breaks: shots,
    corrections: list(mapOf("correction", ["shots", "column", "value", "because"])),
    set_aside: list(mapOf("set-aside entry", ["shots", "column", "because"])),
    reading_error: byColumn("measure or share", "monitor columns"),
    zones: mapOf("zones"),
    misses: mapOf("misses"),
    margin: byColumn("measure"),
    plausible: byColumn("limits"),
    note: text,
  },
  source: {
    file: named("export"),
    head: named("head"),
    order: choice<readonly ShotOrder[]>(["shot", "time", "file", "session shot"]),
    delimiter: choice(["comma", "semicolon", "tab", "bar", ",", ";", "|"]),
    decimal: choice([".", ","]),
    skip_lines: { kind: "whole", least: 0, most: 1000 },
    short_rows: choice(["missing"]),
    duplicate_headers: choice(["number"]),
    units_row: truth,
  },
  player: { name: text, hand: choice(["right", "left"]), mirror: truth },
  monitor: { kind: like("camera", "radar"), place: choice(["indoor", "outdoor"]) },
  column: { from: named("header"), unit: named("unit"), sides: named("sides"), positive: named("positive"), missing: texts },
  air: {
    temperature: measure("temperature", "21 degC"),
    pressure: measure("pressure", "1009 hPa"),
    humidity: measure("share", "45 %"),
    altitude: measure("distance", "300 m"),
  },
  ball: { model: text, count: { kind: "whole", least: 1, most: 100_000 }, wear: like("new", "used") },
  head: {
    kind: choice<readonly HeadKind[]>(headKinds),
    design: like("blade", "cavity", "hollow"),
    set: text,
    club: like("7"),
    loft: measure("angle", "34 deg"),
    lie: measure("angle", "62 deg"),
    length: measure("club length", "37 in"),
    shaft: text,
    strike_reference: mapOf("strike_reference"),
    called: texts,
  },
  strike_reference: { x: measure("face distance", "0 mm"), y: measure("face distance", "-9 mm") },
  zones: { width: measure("face distance", "14 mm"), height: measure("face distance", "5 mm"), iron: zone, wedge: zone, wood: zone },
  misses: { x: measure("face distance", "12 mm"), y: measure("face distance", "8 mm"), iron: miss, wedge: miss, wood: miss },
  shots: { shots, shot: shots, intent: like("stock", "warm-up"), note: text },
  correction: { shots, shot: shots, column: named("column or header"), value: named("value"), because: text },
  "set-aside entry": { shots, shot: shots, column: list(choice(columnsToSetAside)), because: text },
} as const satisfies { readonly [M in SessionMap]: { readonly [K in SessionKey<M>]: Shape } };

/** The shape of what stands behind a key of a map; `undefined` where the map has no such key. */
export function shapeOf(map: SessionMap, key: string): Shape | undefined {
  const shapes: Readonly<Record<string, Shape>> = sessionShapes[map];
  return Object.hasOwn(shapes, key) ? shapes[key] : undefined;
}
