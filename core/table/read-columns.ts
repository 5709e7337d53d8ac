import type { Unit } from "../units";
import type { DelimitedText } from "./delimited-text";
import { fieldText } from "./delimited-text";
import type { NumberForm, NumberReading } from "./read-number";
import { plainNumber, readNumber } from "./read-number";

/** A column of numbers as read: `NaN` where missing or wrong. */
export interface NumberCells {
  readonly values: Float64Array;
  /** The unit that stands after the numbers, or the form's; `null` when there is none. */
  readonly unit: Unit | null;
  /** Places in `rows` whose text is not the number that the column wants. */
  readonly wrong: readonly number[];
}

/**
 * Reads a column of the given rows as numbers.
 *
 * @param rows rows of the text, by index; the result has one value each.
 */
export function readNumbers(text: DelimitedText, column: number, rows: Int32Array, form: NumberForm): NumberCells {
  const { bytes, starts } = text;
  const stride = text.header.length + 1;
  const decimal = form.decimal.charCodeAt(0);
  const values = new Float64Array(rows.length);
  const wrong: number[] = [];
  const bare = tokensAreWords(form.missing);
  const positive = form.sides === null ? -1 : sideByte(form.sides.positive);
  const negative = form.sides === null ? -1 : sideByte(form.sides.negative);
  let unit = form.unit;
  for (let i = 0; i < rows.length; i++) {
    const index = rows[i]! * stride + column;
    const from = starts[index]!;
    const to = starts[index + 1]! - 1;
    if (from >= to) {
      values[i] = Number.NaN;
      continue;
    }
    let value = Number.NaN;
    if (bare && form.sides === null) value = plainNumber(bytes, from, to, decimal);
    else if (bare && bytes[from]! >= 48 && bytes[from]! <= 57) {
      // Digits, then a single letter: what nearly every number with a side is.
      const side = bytes[to - 1]! & 0xdf;
      if (side === positive) value = plainNumber(bytes, from, to - 1, decimal);
      else if (side === negative) value = 0 - plainNumber(bytes, from, to - 1, decimal);
    }
    if (!Number.isNaN(value) && !(form.markMayGroup === true && bytes.subarray(from, to).includes(decimal))) {
      values[i] = value;
      continue;
    }
    const written = fieldText(text, rows[i]!, column);
    // What is not UTF-8 or too long has been reported in reading.
    const reading = written === null ? missing : readNumber(written, unit === form.unit ? form : { ...form, unit });
    values[i] = reading.kind === "number" ? reading.value : Number.NaN;
    if (reading.kind === "number") unit ??= reading.unit;
    else if (reading.kind === "wrong") wrong.push(i);
  }
  return { values, unit, wrong };
}

const missing: NumberReading = { kind: "missing" };

/** True when no text that means missing could be read as a number: `-999` could, and then every text is compared. */
function tokensAreWords(missing: ReadonlySet<string>): boolean {
  for (const token of missing) if (/\d/.test(token)) return false;
  return true;
}

/** The upper-case byte of a side that is one letter; −1 for longer words. */
function sideByte(word: string): number {
  return /^[A-Za-z]$/.test(word) ? word.toUpperCase().charCodeAt(0) : -1;
}

/**
 * Reads a column that nobody has declared as numbers, or says at which place of `rows` it shows that it holds text.
 *
 * Only numbers that print as they stand are taken: no exponent, no leading zeros (`007` is a name), no plus, no
 * grouping, no unit, nothing that a double cannot hold.
 */
export function readPlainNumbers(
  text: DelimitedText,
  column: number,
  rows: Int32Array,
  form: NumberForm,
): { readonly values: Float64Array; readonly count: number } | { readonly values: null; readonly at: number } {
  const { bytes, starts } = text;
  const stride = text.header.length + 1;
  const decimal = form.decimal.charCodeAt(0);
  const plain = form.decimal === "." ? /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/ : /^-?(?:0|[1-9]\d*)(?:,\d+)?$/;
  const grouped = /^-?[1-9]\d{0,2}[.,]\d{3}$/;
  const values = new Float64Array(rows.length);
  const bare = tokensAreWords(form.missing);
  let count = 0;
  for (let i = 0; i < rows.length; i++) {
    const index = rows[i]! * stride + column;
    const from = starts[index]!;
    const to = starts[index + 1]! - 1;
    const first = bytes[from]!;
    // 49 to 57 are the digits 1 to 9: such a number has neither sign nor leading zero.
    let value = from < to && bare && form.markMayGroup !== true && first >= 49 && first <= 57 ? plainNumber(bytes, from, to, decimal) : Number.NaN;
    if (Number.isNaN(value) && from < to) {
      const cell = fieldText(text, rows[i]!, column) ?? "?";
      const trimmed = cell.trim();
      if (trimmed !== "" && !form.missing.has(trimmed) && !form.missing.has(cell)) {
        value = plain.test(trimmed) && !(form.markMayGroup === true && grouped.test(trimmed)) ? Number(trimmed.replace(",", ".")) : Number.NaN;
        if (Number.isNaN(value) || (/^-?\d+$/.test(trimmed) && !Number.isSafeInteger(value))) return { values: null, at: i };
      }
    }
    if (!Number.isNaN(value)) count++;
    values[i] = value === 0 ? 0 : value;
  }
  return { values, count };
}

/** A column of text as read, dictionary-coded; −1 where missing. */
export interface TextCells {
  readonly codes: Int32Array;
  readonly labels: readonly string[];
}

/**
 * Reads a column of the given rows as text; a text is made once for each distinct value, not for each row.
 *
 * No text at all and the texts in `missing` are missing, and so is what is not UTF-8 (reading has said so).
 * @param trim true to take white space off both ends, as for names.
 */
export function readTexts(
  text: DelimitedText,
  column: number,
  rows: Int32Array,
  missing: ReadonlySet<string>,
  trim: boolean,
): TextCells {
  const { bytes, starts } = text;
  const stride = text.header.length + 1;
  const spans = new SpanDictionary(bytes);
  const codes = new Int32Array(rows.length);
  for (let i = 0; i < rows.length; i++) {
    const index = rows[i]! * stride + column;
    const from = starts[index]!;
    const to = starts[index + 1]! - 1;
    codes[i] = from >= to ? -1 : spans.codeOf(from, to, rows[i]!);
  }
  // Different bytes may spell the same text, in quotes and without: labels are distinct texts.
  const labels: string[] = [];
  const known = new Map<string, number>();
  const final = Int32Array.from(spans.rows, (row) => {
    const written = fieldText(text, row, column);
    const label = trim && written !== null ? written.trim() : written;
    if (label === null || label === "" || missing.has(label)) return -1;
    let code = known.get(label);
    if (code === undefined) {
      known.set(label, (code = labels.length));
      labels.push(label);
    }
    return code;
  });
  for (let i = 0; i < codes.length; i++) if (codes[i]! >= 0) codes[i] = final[codes[i]!]!;
  return { codes, labels };
}

/** Numbers distinct stretches of bytes in order of first appearance, by open addressing. */
class SpanDictionary {
  /** A row in which each stretch stands. */
  readonly rows: number[] = [];
  private readonly froms: number[] = [];
  private readonly tos: number[] = [];
  private readonly hashes: number[] = [];
  private slots = new Int32Array(256);
  private last = -1;

  constructor(private readonly bytes: Uint8Array) {}

  codeOf(from: number, to: number, row: number): number {
    // Shots with one head follow one another, so the value of the row before is tried first.
    if (this.last >= 0 && this.isSame(this.last, from, to)) return this.last;
    const hash = this.hashOf(from, to);
    const mask = this.slots.length - 1;
    for (let slot = hash & mask; ; slot = (slot + 1) & mask) {
      const code = this.slots[slot]! - 1;
      if (code < 0) return (this.last = this.add(from, to, row, hash, slot));
      if (this.hashes[code] === hash && this.isSame(code, from, to)) return (this.last = code);
    }
  }

  private add(from: number, to: number, row: number, hash: number, slot: number): number {
    const code = this.rows.length;
    this.rows.push(row);
    this.froms.push(from);
    this.tos.push(to);
    this.hashes.push(hash);
    this.slots[slot] = code + 1;
    if (this.rows.length * 2 > this.slots.length) this.grow();
    return code;
  }

  private grow(): void {
    const slots = new Int32Array(this.slots.length * 4);
    const mask = slots.length - 1;
    this.hashes.forEach((hash, code) => {
      let slot = hash & mask;
      while (slots[slot] !== 0) slot = (slot + 1) & mask;
      slots[slot] = code + 1;
    });
    this.slots = slots;
  }

  private isSame(code: number, from: number, to: number): boolean {
    const other = this.froms[code]!;
    if (this.tos[code]! - other !== to - from) return false;
    for (let i = 0; i < to - from; i++) if (this.bytes[other + i] !== this.bytes[from + i]) return false;
    return true;
  }

  /** FNV-1a, 32 bits, with a final mix so that the low bits depend on all of them. */
  private hashOf(from: number, to: number): number {
    let hash = 0x811c9dc5;
    for (let at = from; at < to; at++) hash = Math.imul(hash ^ this.bytes[at]!, 0x01000193);
    hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
    return (hash ^ (hash >>> 13)) >>> 0;
  }
}
