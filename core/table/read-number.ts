import type { Unit } from "../units";
import { parseUnit } from "../units";
import type { DecimalMark } from "./delimited-text";

/** The words that stand for the two directions after a number: `12.3 L`. Compared without regard to case. */
export interface Sides {
  readonly positive: string;
  readonly negative: string;
}

/** How the numbers of one column are written. */
export interface NumberForm {
  readonly decimal: DecimalMark;
  /** False when the decimal mark is only assumed: then `1,234` is not taken for a number. */
  readonly decimalKnown: boolean;
  /** True when the mark that is assumed may group thousands: then `1.150` is not taken for a number either. */
  readonly markMayGroup?: boolean;
  /** The unit that may stand after a number; `null` when any may, the same for the whole column. */
  readonly unit: Unit | null;
  readonly sides: Sides | null;
  /** Texts that say that a value is missing, besides none at all. */
  readonly missing: ReadonlySet<string>;
}

/**
 * What a field's text says as a number. `wrong` says why it says none; `instead` is what it would be as a plain
 * number, where there is one obvious answer.
 */
export type NumberReading =
  | { readonly kind: "number"; readonly value: number; readonly unit: Unit | null }
  | { readonly kind: "missing" }
  | {
      readonly kind: "wrong";
      readonly wrong: "not a number" | "thousands" | "precision" | "unit" | "no side" | "sign and side";
      readonly instead?: string;
      readonly unit?: Unit;
    };

/** No number of a monitor is longer; what is longer is not looked at. */
const longest = 60;

const numberText =
  /^([-+\u2212]?)(\d[\d.,]*(?:[ \u00a0\u2009\u202f]\d{3}(?!\d))*(?:[.,]\d+)?|[.,]\d+)(?:[eE]([-+\u2212]?\d{1,3})(?!\d))?\s*(\D*)$/u;

/**
 * Reads one number strictly: sign, digits, one decimal mark, exponent, as in XML Schema's `double` without its words.
 *
 * A minus may be U+2212. Thousands may be grouped, by the other mark where that cannot be taken for a decimal mark,
 * or by spaces. After the number a unit may stand; where the column has sides, a side at either end. Never
 * `0x10`, `1_000`, full-width digits, `NaN` or `Infinity`; `-0` is 0.
 *
 * Source of the grammar: W3C XML Schema 1.1 part 2 (2012), 3.3.5, lexical mappings of decimal and double.
 * @example readNumber("12.3 L", { …form, sides: { positive: "R", negative: "L" } }) // −12.3
 */
export function readNumber(text: string, form: NumberForm): NumberReading {
  const trimmed = text.trim();
  if (trimmed === "" || form.missing.has(trimmed) || form.missing.has(text)) return { kind: "missing" };
  const inFront = form.sides === null ? null : sideInFront(trimmed, form.sides);
  if (inFront !== null) return withSideInFront(inFront.direction, readNumber(inFront.after, { ...form, sides: null }), /^[-+\u2212]/.test(inFront.after));
  const match = trimmed.length > longest ? null : numberText.exec(trimmed);
  if (match === null) return notANumber(trimmed, form);
  const [, sign = "", body = "", exponent, rest = ""] = match;
  const digits = plainDigits(body, form);
  if (digits === null) return notANumber(trimmed, form);
  if (digits === "ambiguous") return { kind: "wrong", wrong: "thousands", instead: sign + body.replace(/[.,]/, "") };
  const negative = sign === "-" || sign === "\u2212";
  const size = Number(exponent === undefined ? digits : `${digits}e${exponent.replace("\u2212", "-")}`);
  if (!Number.isFinite(size)) return { kind: "wrong", wrong: "not a number" };
  if (exponent === undefined && /^\d+$/.test(digits) && !Number.isSafeInteger(size) && BigInt(digits) !== BigInt(size))
    return { kind: "wrong", wrong: "precision" };
  return withSuffix(size, sign !== "" ? (negative ? -1 : 1) : null, rest.trim(), `${negative ? "-" : ""}${digits}`, form);
}

/** The number with what stands behind it: a unit, a side, or both in this order. */
function withSuffix(size: number, sign: -1 | 1 | null, rest: string, plain: string, form: NumberForm): NumberReading {
  let unitText = rest;
  let direction: number = sign ?? 1;
  if (form.sides !== null) {
    const side = sideAtEnd(rest, form.sides);
    if (side === null && size !== 0) return { kind: "wrong", wrong: "no side" };
    if (side !== null && sign !== null && size !== 0) return { kind: "wrong", wrong: "sign and side" };
    if (side !== null) {
      direction = side.direction;
      unitText = side.before;
    }
  }
  const unit = unitText === "" ? null : parseUnit(unitText);
  if (unit === undefined) return { kind: "wrong", wrong: "not a number", instead: plain };
  if (unit !== null && form.unit !== null && unit !== form.unit) return { kind: "wrong", wrong: "unit", unit };
  return { kind: "number", value: size === 0 ? 0 : direction * size, unit };
}

/** The side before a number, with or without a space between: `L 7`, `left 7`, `L7`. A sign after it would say it twice. */
function sideInFront(text: string, sides: Sides): { readonly direction: -1 | 1; readonly after: string } | null {
  const upper = text.toUpperCase();
  for (const [word, direction] of [
    [sides.positive, 1],
    [sides.negative, -1],
  ] as const) {
    const after = text.slice(word.length).trim();
    if (upper.startsWith(word.toUpperCase()) && /^[-+\u2212.,\d]/.test(after)) return { direction, after };
  }
  return null;
}

function withSideInFront(direction: -1 | 1, reading: NumberReading, signed: boolean): NumberReading {
  if (reading.kind === "missing" || (reading.kind === "wrong" && reading.wrong === "not a number")) return { kind: "wrong", wrong: "not a number" };
  if (reading.kind === "wrong") return reading;
  if (signed && reading.value !== 0) return { kind: "wrong", wrong: "sign and side" };
  return { ...reading, value: reading.value === 0 ? 0 : direction * reading.value };
}

function sideAtEnd(rest: string, sides: Sides): { readonly direction: -1 | 1; readonly before: string } | null {
  const upper = rest.toUpperCase();
  for (const [word, direction] of [
    [sides.positive, 1],
    [sides.negative, -1],
  ] as const) {
    if (!upper.endsWith(word.toUpperCase())) continue;
    const before = rest.slice(0, rest.length - word.length);
    // The side is a word of its own, or all there is: the last letter of a unit is none.
    if (before === "" || /[\s°"]$/.test(before)) return { direction, before: before.trim() };
  }
  return null;
}

/** The digits with a decimal point and nothing else; `null` when they make no number. */
function plainDigits(body: string, { decimal, decimalKnown, markMayGroup = false }: NumberForm): string | null {
  const other = decimal === "." ? "," : ".";
  const spaced = /[ \u00a0\u2009\u202f]/.test(body);
  if (spaced && !/^\d{1,3}(?:[ \u00a0\u2009\u202f]\d{3})+(?:[.,]\d+)?$/.test(body)) return null;
  const parts = body.replace(/[ \u00a0\u2009\u202f]/g, "").split(decimal);
  if (parts.length > 2) return null;
  const [whole = "", fraction] = parts;
  if (fraction !== undefined && !/^\d*$/.test(fraction)) return null;
  const groups = whole.split(other);
  if (groups.length > 1) {
    if (spaced || !groups.every((group, i) => (i === 0 ? /^[1-9]\d{0,2}$/ : /^\d{3}$/).test(group))) return null;
    if (groups.length === 2 && fraction === undefined && !decimalKnown) return "ambiguous";
  }
  if (markMayGroup && groups.length === 1 && fraction?.length === 3 && /^[1-9]\d{0,2}$/.test(whole)) return "ambiguous";
  return fraction === undefined ? groups.join("") : `${groups.join("")}.${fraction}`;
}

function notANumber(text: string, form: NumberForm): NumberReading {
  const plainer = text.normalize("NFKC");
  if (plainer !== text && plainer.length <= longest) {
    const reading = readNumber(plainer, form);
    if (reading.kind === "number") return { kind: "wrong", wrong: "not a number", instead: plainer };
  }
  return { kind: "wrong", wrong: "not a number" };
}

const powers = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));
const space = 32;
const quote = 34;

/**
 * The number in the bytes from `from` up to `to` when it is plain: perhaps quotes, spaces and a sign around at most 15
 * digits and one decimal mark. `NaN` for anything else, which is then read as text.
 *
 * At most 15 digits divided by a power of ten up to 10²² is the nearest double, because both are exact (Clinger 1990).
 * @param decimal the byte of the decimal mark.
 */
export function plainNumber(bytes: Uint8Array, from: number, to: number, decimal: number): number {
  let at = from;
  let end = to;
  if (bytes[at] === quote && end - at >= 2 && bytes[end - 1] === quote) {
    at++;
    end--;
  }
  while (at < end && bytes[at] === space) at++;
  while (end > at && bytes[end - 1] === space) end--;
  const sign = bytes[at];
  if (sign === 45 || sign === 43) at++;
  let value = 0;
  let digits = 0;
  let fraction = -1;
  for (; at < end; at++) {
    const byte = bytes[at]!;
    if (byte >= 48 && byte <= 57) {
      value = value * 10 + (byte - 48);
      digits++;
      if (fraction >= 0) fraction++;
    } else if (byte === decimal && fraction < 0) fraction = 0;
    else return Number.NaN;
  }
  if (digits === 0 || digits > 15) return Number.NaN;
  if (fraction > 0) value /= powers[fraction]!;
  return sign === 45 && value !== 0 ? -value : value;
}
