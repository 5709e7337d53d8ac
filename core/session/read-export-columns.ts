import type { Problem } from "../problem";
import { problem } from "../problem";
import { oneOf, shown } from "../problem-kind";
import { unitInName } from "../table/convert-units";
import type { DelimitedText } from "../table/delimited-text";
import { fieldRange, fieldText } from "../table/delimited-text";
import type { ProblemList } from "../table/problem-list";
import type { NumberCells, TextCells } from "../table/read-columns";
import { readNumbers, readPlainNumbers, readTexts } from "../table/read-columns";
import type { NumberForm } from "../table/read-number";
import { readNumber } from "../table/read-number";
import type { ShotColumn, ShotColumnFacts } from "../table/shot-columns";
import { shotColumns } from "../table/shot-columns";
import type { Quantity, Unit } from "../units";
import { units } from "../units";
import type { ExportColumn } from "./export-shots";
import { unitsOf } from "./node-reader";
import { statingUnit } from "./read-columns-map";
import type { ColumnMap } from "./session";

/** Units that are so usual for a quantity that they are assumed, and said, where nothing tells. Common practice. */
const usualUnits: Partial<Record<Quantity, Unit>> = { angle: "deg", spin: "rpm", time: "s" };

/** True for a column that has no unit, or one so usual that it is assumed where nothing tells. */
export function isReadWithoutUnit(column: ShotColumn): boolean {
  const { quantity }: ShotColumnFacts = shotColumns[column];
  return quantity === null || usualUnits[quantity] !== undefined;
}

interface Reading {
  readonly text: DelimitedText;
  readonly rows: Int32Array;
  readonly index: number;
  /** The unit that the row of units states for this column. */
  readonly unitOfRow: Unit | null;
  /** Texts that mean missing everywhere in the session. */
  readonly missing: ReadonlySet<string>;
  readonly inExport: ProblemList;
}

interface MappedReading extends Reading {
  readonly map: ColumnMap;
  readonly inSession: Problem[];
}

/**
 * Reads a shot column of numbers; `null` when nothing tells its unit, so that no number of it means anything.
 *
 * Where the export states another unit than the session, all of it is missing.
 */
export function readMappedNumbers(reading: MappedReading): ExportColumn | null {
  const { text, rows, index, map, inSession } = reading;
  const { quantity }: ShotColumnFacts = shotColumns[map.column];
  const stated = statedUnit(reading);
  const { unit } = stated;
  const form: NumberForm = { ...plainForm(text, new Set([...reading.missing, ...map.missing])), unit, sides: map.sides };
  const cells = stated.contradicted ? noNumbers(rows.length, unit) : readNumbers(text, index, rows, form);
  let found = quantity === null ? null : cells.unit;
  if (quantity !== null && found === null) {
    const usual = usualUnits[quantity];
    if (usual === undefined) {
      if (map.unitRefused !== true) inSession.push(problem("session.no-unit", { column: map.column, header: map.header, units: unitsOf(quantity) }, map.headerRange, statingUnit(map, map.unitPlace?.likely)));
      return null;
    }
    if (map.unitRefused !== true) inSession.push(problem("session.unit-assumed", { column: map.column, unit: usual }, map.headerRange, statingUnit(map, usual)));
    found = usual;
  }
  const values = map.flipped ? cells.values.map((value) => (value === 0 ? 0 : -value)) : cells.values;
  return {
    column: { kind: "number", name: map.column, unit: found, origin: "measured", values },
    index,
    form: { ...form, unit: cells.unit },
    wrong: cells.wrong,
  };
}

function noNumbers(count: number, unit: Unit | null): NumberCells {
  return { values: new Float64Array(count).fill(Number.NaN), unit, wrong: [] };
}

/**
 * The unit that the session, the header or the row of units states, the first of them that does; `contradicted` when
 * another says otherwise, or names a unit that the column cannot have. That is reported, once.
 */
function statedUnit({ text, index, map, unitOfRow, inExport }: MappedReading): { readonly unit: Unit | null; readonly contradicted: boolean } {
  const header = text.header[index]!;
  const { quantity }: ShotColumnFacts = shotColumns[map.column];
  const accepted: readonly Unit[] = quantity === null ? [] : unitsOf(quantity);
  const inExportStated = [
    { unit: unitInName(header.name), where: `the header ${shown(header.name)}`, range: header.range },
    { unit: unitOfRow, where: "the row of units", range: text.rowCount > 0 ? fieldRange(text, 0, index) : header.range },
  ];
  let unit = map.unit;
  for (const { unit: found, where, range } of inExportStated) {
    if (found === null || found === unit || !isUnitOfReading(found)) continue;
    if (unit === null && accepted.includes(found)) unit = found;
    else {
      const expected = unit ?? (quantity === null ? "" : oneOf(accepted));
      inExport.add("schema.unit", () => problem("schema.unit", { column: map.column, found, expected, where, whole: true }, range));
      return { unit, contradicted: true };
    }
  }
  return { unit, contradicted: false };
}

/** False for units of what no reading of a shot is in: a `(C)` or a `(%)` behind a header is more likely some other mark. */
function isUnitOfReading(unit: Unit): boolean {
  return readingQuantities.has(units[unit].quantity);
}

const readingQuantities: ReadonlySet<Quantity> = new Set(["speed", "distance", "height", "angle", "spin", "face distance", "club length", "time"]);

/** Reads a shot column of text, white space off the ends of its values. */
export function readMappedText({ text, rows, index, map, missing }: MappedReading): ExportColumn {
  const cells = readTexts(text, index, rows, new Set([...missing, ...map.missing]), true);
  return { column: { kind: "text", name: map.column, origin: "measured", ...cells }, index, form: plainForm(text, missing), wrong: [] };
}

/** Reads a column that is no shot column: as numbers when all of it are plain numbers, as text otherwise. */
export function readKeptColumn(reading: Reading & { readonly name: string }): ExportColumn {
  const { text, rows, index, name, unitOfRow, missing } = reading;
  const form = plainForm(text, missing);
  const numbers = readPlainNumbers(text, index, rows, form);
  if (numbers.values !== null && numbers.count > 0) {
    const unit = unitOfRow ?? unitInName(name);
    return { column: { kind: "number", name, unit, origin: "measured", values: numbers.values }, index, form, wrong: [] };
  }
  const cells = readTexts(text, index, rows, missing, false);
  if (numbers.values === null) remarkOnText(reading, form, cells);
  return { column: { kind: "text", name, origin: "measured", ...cells }, index, form, wrong: [] };
}

/** Says so when a column is text only because of a few values, or because its numbers are too long to be numbers. */
function remarkOnText({ text, rows, index, name, inExport }: Reading & { readonly name: string }, form: NumberForm, cells: TextCells): void {
  const readings = cells.labels.map((label) => readNumber(label, form));
  const counts = new Int32Array(cells.labels.length);
  for (const code of cells.codes) if (code >= 0) counts[code]!++;
  const count = (kinds: (i: number) => boolean): number => counts.reduce((sum, n, i) => (kinds(i) ? sum + n : sum), 0);
  const rangeOf = (label: number): Problem["range"] => fieldRange(text, rows[cells.codes.indexOf(label)]!, index);
  const precise = readings.findIndex((reading) => reading.kind === "wrong" && reading.wrong === "precision");
  if (precise >= 0) {
    const facts = { text: fieldText(text, rows[cells.codes.indexOf(precise)]!, index) ?? "", column: name, kept: true };
    inExport.add("value.precision-loss", () => problem("value.precision-loss", facts, rangeOf(precise)));
  }
  const other = readings.findIndex((reading) => reading.kind === "wrong" && reading.wrong !== "precision");
  const numbers = count((i) => readings[i]!.kind === "number");
  const total = count(() => true);
  if (other < 0 || numbers * 2 < total) return;
  const facts = { column: name, numbers, total, text: cells.labels[other]! };
  inExport.add("value.kept-as-text", () => problem("value.kept-as-text", facts, rangeOf(other)));
}

function plainForm(text: DelimitedText, missing: ReadonlySet<string>): NumberForm {
  // With commas between the values nobody writes a decimal comma, so a point there is a decimal point.
  const markMayGroup = !text.decimalKnown && text.delimiter !== ",";
  return { decimal: text.decimal, decimalKnown: text.decimalKnown, markMayGroup, unit: null, sides: null, missing };
}
