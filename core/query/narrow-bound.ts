import { formatMeasure, unitLabel } from "../present/format-number";
import type { Unit } from "../units";
import type { Bound } from "./narrow-allowed";

/** Which end of a range a bound is. */
export type RangeEnd = "low" | "high";

/** A bound as a person wrote it: `value` is `null` where nothing was written, which is no bound; or in words what would be accepted. */
export type ReadBound = { readonly ok: true; readonly value: Bound | null } | { readonly ok: false; readonly because: string };

const signs: Record<RangeEnd, string> = { low: ">", high: "<" };

/**
 * The bound that a text says: a number with a decimal point, its unit behind it or not, and `>` (at the low end) or `<`
 * before it where the number itself is out of the range.
 *
 * @example readBound("120 yd", "low", "yd") // { ok: true, value: { value: 120 } }
 */
export function readBound(text: string, end: RangeEnd, unit: Unit | null): ReadBound {
  const written = text.trim();
  if (written === "") return { ok: true, value: null };
  const [, sign = "", digits = "", behind = ""] = /^([<>]=?)?\s*([-+\u2212]?(?:\d+\.?\d*|\.\d+))\s*(.*)$/u.exec(written) ?? [];
  const value = Number(digits.replace("\u2212", "-"));
  const isUnit = behind === "" || (unit !== null && (behind === unit || behind === unitLabel(unit)));
  const isSign = sign === "" || sign.startsWith(signs[end]);
  if (digits === "" || !isUnit || !isSign || !Number.isFinite(value)) {
    const inUnit = unit === null ? "" : ` in ${unitLabel(unit)}`;
    return { ok: false, because: `Write a number${inUnit} with a decimal point, such as 120.5, or ${signs[end]} 120.5 to leave out the number itself` };
  }
  return { ok: true, value: sign.length === 1 ? { value: value + 0, strict: true } : { value: value + 0 } };
}

/** A bound as `readBound` reads it; empty for none. */
export function boundText(bound: Bound | null, end: RangeEnd): string {
  return bound === null ? "" : `${bound.strict === true ? `${signs[end]} ` : ""}${bound.value}`;
}

/** Numbers that were found, for a reader: rounded outwards, so that nothing lies beyond what is shown. */
export function foundText({ low, high }: { readonly low: number; readonly high: number }, unit: Unit | null): string {
  const digits = Number.isInteger(low) && Number.isInteger(high) ? 0 : high - low < 1 ? 3 : 1;
  const scale = 10 ** digits;
  return `${formatMeasure(Math.floor(low * scale) / scale, digits, null)} to ${formatMeasure(Math.ceil(high * scale) / scale, digits, unit)}`;
}
