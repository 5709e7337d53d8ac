import { defaultLimits } from "../limits";
import type { Delimiter } from "./delimited-text";
import { delimiters } from "./detect-format";
import { decodeUtf8 } from "./utf8";

/** Lines above the header, and what separates the values below them. */
export interface LinesAbove {
  readonly count: number;
  readonly delimiter: Delimiter;
  /** Values in the first line, and in the line that looks like the header. */
  readonly first: number;
  readonly header: number;
}

/**
 * The lines that seem to stand above the header; `null` where the first line may well be it.
 *
 * The header is the first line that has as many values as most lines of the sample, when the lines above it have
 * fewer, and none of its values is a number. Where a line has an odd number of quotes nothing is said: a value may go
 * on over several lines.
 * @param sample the beginning of the file, whole lines.
 * @param only the delimiter where it is stated.
 */
export function linesAboveHeader(sample: Uint8Array, only: Delimiter | null): LinesAbove | null {
  const lines = (decodeUtf8(sample) ?? "").replace(/^\ufeff/, "").split(/\r\n|\n|\r/u);
  if (lines.some((line) => line.split('"').length % 2 === 0)) return null;
  for (const delimiter of only === null ? delimiters : [only]) {
    const counts = lines.map((line) => (line.trim() === "" ? 0 : valuesOf(line, delimiter).length));
    const filled = counts.filter((count) => count > 0);
    const usual = mostFrequent(filled);
    const at = counts.indexOf(usual);
    if (usual < 2 || usual > defaultLimits.columns || at < 1 || filled.length < 3) continue;
    const above = counts.slice(0, at).filter((count) => count > 0);
    if (above.length === 0 || above.some((count) => count > usual)) continue;
    if (valuesOf(lines[at]!, delimiter).some((value) => /^[-+\u2212]?[\d.,]*\d$/u.test(value.trim()))) continue;
    return { count: at, delimiter, first: above[0]!, header: usual };
  }
  return null;
}

/** The values of a line; a delimiter in quotes separates none. */
function valuesOf(line: string, delimiter: Delimiter): string[] {
  return line.replace(/"[^"]*"/g, (text) => text.replaceAll(delimiter, " ")).split(delimiter);
}

/** The count that most lines have, the greatest of equals; 0 for none. */
function mostFrequent(counts: readonly number[]): number {
  const times = new Map<number, number>();
  for (const count of counts) times.set(count, (times.get(count) ?? 0) + 1);
  return [...times].reduce((best, each) => (each[1] > best[1] || (each[1] === best[1] && each[0] > best[0]) ? each : best), [0, 0])[0];
}
