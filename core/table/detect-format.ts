import { defaultLimits } from "../limits";
import type { DecimalMark, Delimiter } from "./delimited-text";
import { spanText } from "./delimited-text";
import type { Scan } from "./scan-fields";
import { beginScan, scanFields } from "./scan-fields";

/** Bytes at the beginning of a file from which its format is told. */
export const sampleBytes = 64 * 1024;

/** What may separate values; where two fit equally well the earlier wins, since a comma may also be a decimal mark. */
export const delimiters: readonly Delimiter[] = ["\t", ";", ",", "|"];

/**
 * The delimiter with which the sample reads best: the header has at least two names, and the fewest rows differ from
 * it in length. A comma where none does.
 */
export function detectDelimiter(sample: Uint8Array): Delimiter {
  let best: Delimiter = ",";
  let fewest = Infinity;
  for (const delimiter of delimiters) {
    let ragged = 0;
    const scan = beginScan(0, 1, delimiter, defaultLimits, ({ code }) => {
      if (code === "csv.short-row" || code === "csv.long-row") ragged++;
    });
    scanFields(scan, sample, sample.length, true);
    if (scan.header === null || scan.columns < 2) continue;
    const share = ragged / Math.max(1, scan.rows);
    if (share < fewest) {
      best = delimiter;
      fewest = share;
    }
  }
  return best;
}

/**
 * The decimal mark of the numbers in the sample, and whether they tell it.
 *
 * `1,5`, `0,123` and `1.234,5` need a decimal comma; `1.5` and `1,234.5` a decimal point; `1,234` and `1.234` may be
 * either and tell nothing. Where both kinds are there, or neither, it is a point.
 */
export function detectDecimal(sample: Uint8Array, delimiter: Delimiter): { readonly decimal: DecimalMark; readonly known: boolean } {
  const scan = beginScan(0, 1, delimiter, defaultLimits, () => undefined);
  scanFields(scan, sample, sample.length, true);
  let points = 0;
  let commas = 0;
  for (const text of fieldsOf(scan, sample)) {
    const number = /^\s*[-+\u2212]?(\d[\d.,]*)(?![\d.,:/-])/u.exec(text)?.[1];
    if (number === undefined) {
      // A side may stand before a number; a name such as B1.5 tells nothing.
      const aside = /^\s*\p{Lu}\s?(\d[\d.,]*)\s*$/u.exec(text)?.[1];
      if (aside !== undefined && needsMark(aside, ",", ".")) commas++;
      continue;
    }
    if (needsMark(number, ".", ",")) points++;
    else if (needsMark(number, ",", ".")) commas++;
  }
  if (commas > 0 && points === 0) return { decimal: ",", known: true };
  return { decimal: ".", known: points > 0 };
}

/** True when `number` is a number only if `decimal` is the decimal mark and `other` at most groups thousands. */
function needsMark(number: string, decimal: DecimalMark, other: DecimalMark): boolean {
  const parts = number.split(decimal);
  if (parts.length !== 2) return false;
  const [whole, fraction] = parts as [string, string];
  if (!/^\d+$/.test(fraction)) return false;
  const groups = whole.split(other);
  if (groups.length > 1) return groups.every((group, i) => (i === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(group));
  // Three digits after the mark may be a group of thousands, unless the number would then begin with 0 or be too long.
  return fraction.length !== 3 || !/^[1-9]\d{0,2}$/.test(whole);
}

function* fieldsOf(scan: Scan, bytes: Uint8Array): Generator<string> {
  const stride = scan.columns + 1;
  for (let row = 0; row < scan.rows; row++) {
    for (let column = 0; column < scan.columns; column++) {
      const from = scan.starts[row * stride + column]!;
      const to = scan.starts[row * stride + column + 1]! - 1;
      // No number is longer, and a long note need not be looked at.
      if (to > from && to - from <= 40) yield spanText(bytes, from, to, 40) ?? "";
    }
  }
}
