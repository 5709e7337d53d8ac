import type { ModelledFlight, WithoutFlight } from "../flight/modelled-flight";
import type { ColumnSchema } from "../table/schema";
import { shotColumns } from "../table/shot-columns";
import type { ShotColumn } from "../table/shot-columns";
import type { Column } from "../table/table";
import { numberColumn, textColumn } from "../table/table";
import type { Unit, UnitSystem } from "../units";
import { convert, isConvertible, unitFor } from "../units";
import type { TurfName } from "./flight-surroundings";

/** A shot as it was modelled: its flight, or why it has none; `isAimKnown` is false where its side was only assumed. */
export interface ModelledShot {
  readonly modelled: ModelledFlight | WithoutFlight;
  readonly isAimKnown: boolean;
}

/** A number that is modelled: its column, the shot column it stands beside, and its value in an SI unit. */
interface ModelledColumn {
  readonly name: string;
  readonly beside: ShotColumn;
  readonly coherent: Unit;
  readonly value: (modelled: ModelledFlight, isAimKnown: boolean) => number;
}

const modelledColumns: readonly ModelledColumn[] = [
  { name: "model_carry", beside: "carry", coherent: "m", value: ({ flight }) => flight.carry },
  { name: "model_carry_spread", beside: "carry", coherent: "m", value: ({ carrySpread }) => carrySpread },
  { name: "model_offline", beside: "offline", coherent: "m", value: ({ flight }, isAimKnown) => (isAimKnown ? flight.offline : Number.NaN) },
  { name: "model_peak_height", beside: "peak_height", coherent: "m", value: ({ flight }) => flight.peakHeight },
  { name: "model_descent_angle", beside: "descent_angle", coherent: "rad", value: ({ flight }) => flight.descentAngle },
  { name: "model_flight_time", beside: "flight_time", coherent: "s", value: ({ flight }) => flight.flightTime },
  { name: "model_landing_speed", beside: "landing_speed", coherent: "m/s", value: ({ flight }) => flight.landingSpeed },
];

/** Never there without the column that names its turf. */
const totalColumn: ModelledColumn = { name: "model_total", beside: "total", coherent: "m", value: ({ flight, run }) => flight.carry + run };

/** The column that says on which turf `model_total` holds. */
const turfName = "model_turf";

const names: ReadonlySet<string> = new Set([...modelledColumns, totalColumn].map(({ name }) => name).concat(turfName));

/** True for the name of a column that the verb gives. */
export function isModelName(name: string): boolean {
  return names.has(name);
}

/** Columns that have the name of a modelled one and were not computed: nothing is written over them. */
export function takenNames(columns: readonly Pick<ColumnSchema, "name" | "origin">[], turf: TurfName | null): readonly string[] {
  const added = new Set([...toAdd(turf).map(({ name }) => name), ...(turf === null ? [] : [turfName])]);
  return columns.filter(({ name, origin }) => added.has(name) && origin !== "computed").map(({ name }) => name);
}

/** What is known of the table after the verb: each modelled column behind the recorded one, those of an earlier flight gone. */
export function schemaWithModel(before: readonly ColumnSchema[], turf: TurfName | null, units: UnitSystem): readonly ColumnSchema[] {
  const added = toAdd(turf).map((column): [ShotColumn, ColumnSchema] => [column.beside, { name: column.name, kind: "number", unit: unitOf(column, before, units), origin: "computed" }]);
  return placed(before, turf === null ? added : [...added, ["total", { name: turfName, kind: "text", unit: null, origin: "computed" }]]);
}

/** The columns after the verb. */
export function columnsWithModel(before: readonly Column[], shots: readonly ModelledShot[], turf: TurfName | null, units: UnitSystem): readonly Column[] {
  const schemas = before.map((column): ColumnSchema => ({ name: column.name, kind: column.kind, unit: column.kind === "number" ? column.unit : null, origin: column.origin }));
  const added = toAdd(turf).map((column): [ShotColumn, Column] => {
    const unit = unitOf(column, schemas, units);
    const values = shots.map(({ modelled, isAimKnown }) => (typeof modelled === "string" ? Number.NaN : convert(column.value(modelled, isAimKnown), column.coherent, unit)));
    return [column.beside, numberColumn(column.name, values, unit)];
  });
  const onTurf = textColumn(turfName, shots.map(({ modelled }) => (typeof modelled === "string" ? null : turf)));
  return placed(before, turf === null ? added : [...added, ["total", onTurf]]);
}

function toAdd(turf: TurfName | null): readonly ModelledColumn[] {
  return turf === null ? modelledColumns : [...modelledColumns, totalColumn];
}

/** The unit of the recorded column where there is one of its kind, else the notebook's. */
function unitOf({ beside, coherent }: ModelledColumn, before: readonly ColumnSchema[], units: UnitSystem): Unit {
  const unit = before.find((column) => column.name === beside)?.unit ?? null;
  return unit !== null && isConvertible(unit, coherent) ? unit : unitFor(shotColumns[beside].quantity!, units);
}

function placed<C extends { readonly name: string; readonly origin: string }>(before: readonly C[], added: readonly (readonly [beside: ShotColumn, column: C])[]): readonly C[] {
  const kept = before.filter((column) => !(names.has(column.name) && column.origin === "computed"));
  const isHere = (name: string): boolean => kept.some((column) => column.name === name);
  return [
    ...kept.flatMap((column) => [column, ...added.filter(([beside]) => beside === column.name).map(([, each]) => each)]),
    ...added.filter(([beside]) => !isHere(beside)).map(([, each]) => each),
  ];
}
