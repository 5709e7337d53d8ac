import type { UnitSystem, Unit } from "../units";
import { convert, parseUnit, unitFor, units } from "../units";
import { shotColumnFacts } from "./shot-columns";
import type { NumberColumn, Table } from "./table";

/**
 * The table with every number column in the units that a notebook of the given system shows.
 *
 * A shot column goes by what it measures (a peak height in yards becomes feet), any other by its unit. A column that
 * has its unit in its name, as in `Height (m)`, stays as it is.
 */
export function inUnits(table: Table, system: UnitSystem): Table {
  let changed = false;
  const columns = table.columns.map((column) => {
    if (column.kind !== "number" || column.unit === null) return column;
    const to = shownUnit(column, column.unit, system);
    if (to === column.unit) return column;
    changed = true;
    return { ...column, unit: to, values: converted(column.values, column.unit, to) };
  });
  return changed ? { ...table, columns } : table;
}

function shownUnit(column: NumberColumn, unit: Unit, system: UnitSystem): Unit {
  const facts = shotColumnFacts(column.name);
  if (facts === undefined) return unitInName(column.name) === null ? unitFor(units[unit].quantity, system) : unit;
  return facts.quantity === null ? unit : unitFor(facts.quantity, system);
}

function converted(values: Float64Array, from: Unit, to: Unit): Float64Array {
  if ("offset" in units[from] || "offset" in units[to]) return values.map((value) => convert(value, from, to));
  // The same arithmetic as `convert`, without looking the units up once a value.
  const { factor } = units[from];
  const divisor = units[to].factor;
  return values.map((value) => (value * factor) / divisor);
}

/** The unit in brackets at the end of a column's name: `mph` of `Ball speed (mph)`; `null` when there is none. */
export function unitInName(name: string): Unit | null {
  const inside = /[([]([^()[\]]{1,20})[)\]]\s*$/u.exec(name)?.[1];
  return inside === undefined ? null : (parseUnit(inside) ?? null);
}
