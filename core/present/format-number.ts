import type { NumberColumn } from "../table/table";
import type { Quantity, Unit } from "../units";
import { units } from "../units";

/** What stands where a value is missing: an en dash, so that it is never taken for a number or for empty text. */
export const missingMark = "–";

/** The sign of a negative number, as wide as a plus sign (U+2212). */
const minus = "\u2212";

/** Decimals beyond which nothing here is shown. */
const mostDigits = 12;

/** Decimals that readings of each quantity are commonly given with. Common practice, no source. */
const commonDigits: Record<Quantity, number> = {
  speed: 1,
  distance: 1,
  height: 1,
  angle: 1,
  spin: 0,
  "face distance": 1,
  time: 2,
  temperature: 1,
  pressure: 0,
  share: 1,
  "club length": 2,
  mass: 1,
  "sound level": 1,
};

const labels: Partial<Record<Unit, string>> = { deg: "°", degC: "°C", degF: "°F" };

/**
 * The number with a fixed count of decimals, for a reader.
 *
 * The minus is U+2212; a number that rounds to 0 has no sign. `null` and `NaN` give the missing mark.
 *
 * @param digits decimals, 0 to 12.
 * @example formatNumber(-1.94, 1) // "−1.9"
 */
export function formatNumber(value: number | null, digits: number): string {
  if (value === null || Number.isNaN(value)) return missingMark;
  if (!Number.isFinite(value)) return value > 0 ? "∞" : `${minus}∞`;
  const text = Math.abs(value).toFixed(Math.max(0, Math.min(digits, mostDigits)));
  return value < 0 && /[1-9]/.test(text) ? minus + text : text;
}

/** The unit as it is written after a number or in a heading: `yd`, `°`, `°C`. */
export function unitLabel(unit: Unit): string {
  return labels[unit] ?? unit;
}

/**
 * The number with its unit, for a reader: `1.9 yd`, `4.5°`, `45 %`. Missing gives the missing mark alone.
 */
export function formatMeasure(value: number | null, digits: number, unit: Unit | null): string {
  const text = formatNumber(value, digits);
  if (unit === null || text === missingMark) return text;
  return unit === "deg" ? `${text}°` : `${text} ${unitLabel(unit)}`;
}

/**
 * Decimals for an estimate: down to a tenth of the place of its standard error's first digit, never below 0.
 *
 * A standard error that is not a positive number gives 1.
 * Source: JCGM 100:2008 (GUM), 7.2.6: at most two digits of an uncertainty.
 * @example digitsFor(1.3) // 1
 */
export function digitsFor(standardError: number): number {
  if (!(standardError > 0) || !Number.isFinite(standardError)) return 1;
  // The exponent is read from the text, since a logarithm may miss by one at powers of ten.
  const place = Number(standardError.toExponential().split("e")[1]);
  return Math.max(0, Math.min(1 - place, mostDigits));
}

/** Below this a number is noise of binary arithmetic. */
const noise = 1e-12;

/**
 * Decimals that a number needs as it was stated, at most four digits in all but never fewer than two decimals; a number
 * that needs more has two decimals, or two digits where it is small. Noise of binary arithmetic needs none.
 *
 * @example digitsAsStated(0.1 + 0.2) // 1
 * @example digitsAsStated(0.001) // 3
 */
export function digitsAsStated(value: number): number {
  const size = Math.abs(value);
  if (size < noise || !Number.isFinite(size)) return 0;
  const place = Number(size.toExponential().split("e")[1]);
  const most = Math.max(2, Math.min(3 - place, mostDigits));
  for (let digits = 0; digits <= most; digits++) if (Math.abs(size - Number(size.toFixed(digits))) < Math.min(1e-9, 1e-6 * size)) return digits;
  return Math.max(2, Math.min(1 - place, mostDigits));
}

/** A share as a percentage with the decimals it needs: `95 %`. */
export function formatShare(share: number): string {
  const value = share * 100;
  return `${formatNumber(value, digitsAsStated(value))} %`;
}

/**
 * One count of decimals for all numbers of a column, so that they can be compared at a glance.
 *
 * Starts from what is common for the unit (three digits of the median for a pure number), adds decimals until the
 * median of the non-zero values has two digits, and never has more than the values themselves need.
 */
export function digitsForColumn(column: NumberColumn): number {
  const sizes = column.values.filter((value) => Number.isFinite(value) && value !== 0).map(Math.abs);
  if (sizes.length === 0) return 0;
  const median = sizes.sort()[sizes.length >> 1]!;
  const place = Number(median.toExponential().split("e")[1]);
  const common = column.unit === null ? Math.min(2 - place, mostDigits) : commonDigits[units[column.unit].quantity];
  const wanted = Math.max(0, Math.min(Math.max(common, 1 - place), 6));
  for (let digits = 0; digits < wanted; digits++) {
    if (sizes.every((size) => isShownIn(size, digits))) return digits;
  }
  return wanted;
}

/** True when no digit of `size` is lost with so many decimals, but for noise of binary arithmetic. */
function isShownIn(size: number, digits: number): boolean {
  const scaled = size * 10 ** digits;
  return Math.abs(scaled - Math.round(scaled)) <= 1e-9 * Math.max(1, scaled);
}

/** Decimals for estimates with bounds, from the median width of their intervals; `null` when no row has one. */
export function digitsOfInterval(from: NumberColumn, to: NumberColumn): number | null {
  const errors = from.values.map((low, row) => (to.values[row]! - low) / 4).filter((error) => error > 0);
  return errors.length === 0 ? null : digitsFor(errors.sort()[errors.length >> 1]!);
}

/**
 * Decimals for estimates with bounds that stand among readings: one fewer than their intervals bear, as long as that is
 * no fewer than is common for the unit. `null` when no row has an interval.
 */
export function digitsAmongReadings(from: NumberColumn, to: NumberColumn, unit: Unit | null): number | null {
  const borne = digitsOfInterval(from, to);
  const common = unit === null ? 0 : commonDigits[units[unit].quantity];
  return borne === null ? null : Math.min(borne, Math.max(borne - 1, common));
}
