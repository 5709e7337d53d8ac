import type { Problem, ProblemCode } from "../problem";
import { problem } from "../problem";
import type { Limits } from "../limits";
import { defaultLimits } from "../limits";
import type { TextRange } from "../text-position";
import { textStart } from "../text-position";
import { positionsOfBytes, rangeOfBytes } from "./byte-position";
import type { OddSort } from "./characters";
import { codePointName, reportCharacters } from "./characters";
import type { DecimalMark, Delimiter } from "./delimited-text";
import { spanText } from "./delimited-text";
import type { LinesAbove } from "./find-header";
import type { ProblemList } from "./problem-list";
import type { ReadOptions } from "./read-options";
import type { Scan, ScanFault } from "./scan-fields";
import { decodeUtf8 } from "./utf8";

/** A reading whose format is known: the scan, and what it found wrong with its true totals. */
export interface Reading {
  readonly scan: Scan;
  readonly faults: ScanFault[];
  readonly faultTotals: Map<ScanFault["code"], number>;
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  readonly decimalKnown: boolean;
  readonly mark: boolean;
  /** What the file is when it is not UTF-8 text. */
  readonly other: string | null;
  /** Lines that seem to stand above the header; then nothing is read. */
  readonly linesAbove: LinesAbove | null;
}

/** Adds everything that is wrong with a text that has been scanned to its end, and what is worth saying about it. */
export function reportReading(bytes: Uint8Array, reading: Reading, options: ReadOptions, list: ProblemList): void {
  const limits = options.limits ?? defaultLimits;
  const { scan } = reading;
  reportBytes(bytes, reading.mark ? 3 : 0, limits, list);
  reportFaults(bytes, reading, options, limits, list);
  reportShape(scan, list);
  if (scan.header === null && scan.mode !== "stopped") list.add("csv.empty", () => problem("csv.empty", { header: false }, textStart));
  else if (scan.header !== null && scan.rows === 0) list.add("csv.empty", () => problem("csv.empty", { header: true }, textStart));
  reportFormat(bytes, reading, options, list);
}

/** Reports bytes that are not UTF-8 and characters that nobody sees. */
function reportBytes(bytes: Uint8Array, from: number, limits: Limits, list: ProblemList): void {
  const report = reportCharacters(bytes, from, bytes.length, limits.problems);
  const start = { at: from, line: 1, column: 1 };
  if (report.firstInvalid >= 0) {
    const at = report.firstInvalid;
    const facts = { found: "not UTF-8", byte: at, count: report.invalidCount };
    list.add("csv.encoding", () => problem("csv.encoding", facts, rangeOfBytes(bytes, at, at + 1, start)));
  }
  const positions = positionsOfBytes(bytes, report.odd.flatMap((odd) => [odd.at, odd.at + odd.length]), start);
  report.odd.forEach((odd, i) => {
    const code = oddCodes[odd.sort];
    const range = { start: positions[2 * i]!, end: positions[2 * i + 1]! };
    const mends = odd.sort === "lost" ? {} : { mends: [{ range, text: "" }] };
    list.add(code, () => problem(code, { character: codePointName(odd.code) }, range, mends));
  });
  for (const [sort, code] of Object.entries(oddCodes) as [OddSort, (typeof oddCodes)[OddSort]][]) {
    const unlisted = report.counts[sort] - report.odd.filter((odd) => odd.sort === sort).length;
    if (unlisted > 0) list.count(code, unlisted);
  }
}

const oddCodes = { control: "csv.control-char", invisible: "csv.invisible-char", lost: "csv.lost-char" } as const satisfies Record<OddSort, ProblemCode>;

function reportFaults(bytes: Uint8Array, reading: Reading, options: ReadOptions, limits: Limits, list: ProblemList): void {
  const short = reading.faultTotals.get("csv.short-row") ?? 0;
  const filled = options.shortRows === "missing" && short > 0;
  const bare = hasBareDecimalCommas(reading);
  // What is said once for all such rows is not said for each of them.
  const saidOnce = (code: ScanFault["code"]): boolean => (filled && code === "csv.short-row") || (bare && code === "csv.long-row");
  for (const fault of reading.faults) if (!saidOnce(fault.code)) list.add(fault.code, () => faultProblem(bytes, reading, fault, limits));
  for (const [code, total] of reading.faultTotals)
    if (!saidOnce(code)) list.count(code, total - reading.faults.filter((fault) => fault.code === code).length);
  const rangeOfFirst = (code: ScanFault["code"]): TextRange => faultRange(bytes, reading.faults.find((fault) => fault.code === code)!);
  if (filled) list.add("csv.rows-filled", () => problem("csv.rows-filled", { count: short }, rangeOfFirst("csv.short-row")));
  if (bare) {
    const facts = { rows: reading.scan.longRows.length, total: reading.scan.rows };
    list.add("csv.bare-decimal-commas", () => problem("csv.bare-decimal-commas", facts, rangeOfFirst("csv.long-row")));
  }
}

/** True when nearly all rows of a text with commas between its values are longer than the header. */
function hasBareDecimalCommas({ delimiter, scan }: Reading): boolean {
  return delimiter === "," && scan.longRows.length > 1 && scan.longRows.length >= 0.8 * scan.rows;
}

function faultRange(bytes: Uint8Array, fault: ScanFault): TextRange {
  return rangeOfBytes(bytes, fault.from, fault.to, { at: fault.recordStart, line: fault.recordLine, column: 1 });
}

function faultProblem(bytes: Uint8Array, { delimiter }: Reading, fault: ScanFault, limits: Limits): Problem {
  const range = faultRange(bytes, fault);
  const expected = fault.expected ?? 0;
  const got = fault.got ?? 0;
  switch (fault.code) {
    case "csv.short-row":
      return problem("csv.short-row", { expected, got }, range);
    case "csv.long-row":
      return problem("csv.long-row", { expected, got, extra: shownSpan(bytes, fault.from, fault.to) }, range);
    case "csv.limit": {
      const limit = fault.limit ?? "rows";
      const facts = fault.got === undefined ? { limit, most: limits[limit] } : { limit, most: limits[limit], got };
      return problem("csv.limit", facts, range);
    }
    case "csv.text-after-quote":
    case "csv.unclosed-quote":
    case "csv.bare-quote":
      return quoteProblem(bytes, delimiter, fault, fault.code, range);
  }
}

/** A quote where none can stand, with what the field would be were its quotes written as they are meant. */
function quoteProblem(bytes: Uint8Array, delimiter: Delimiter, fault: ScanFault, code: "csv.text-after-quote" | "csv.unclosed-quote" | "csv.bare-quote", range: TextRange): Problem {
  const from = fault.fieldStart;
  const end = fieldEnd(bytes, fault.from, delimiter);
  const text = decodeUtf8(bytes, from, end);
  const whole = rangeOfBytes(bytes, from, end, { at: fault.recordStart, line: fault.recordLine, column: 1 });
  const mends = text === null ? {} : { mends: [{ range: whole, text: withQuotes(text) }] };
  if (code === "csv.text-after-quote") return problem(code, { found: shownSpan(bytes, fault.from, end) }, range, mends);
  return problem(code, { field: shownSpan(bytes, from, end) }, range, mends);
}

/**
 * A field with its quotes in order: one that begins with a quote is in quotes as a whole, and quotes inside are doubled;
 * spaces before the first quote are left out.
 *
 * @example withQuotes('"5" iron"') // '"5"" iron"'
 */
function withQuotes(field: string): string {
  const trimmed = /^ +"/u.test(field) ? field.trimStart() : field;
  if (!trimmed.startsWith('"')) return `"${trimmed.replaceAll('"', '""')}"`;
  const inside = trimmed.length > 1 && trimmed.endsWith('"') ? trimmed.slice(1, -1) : trimmed.slice(1);
  return `"${inside.replaceAll('""', '"').replaceAll('"', '""')}"`;
}

/** The text of some bytes for a message, cut after 200 bytes; nothing when they are not UTF-8. */
function shownSpan(bytes: Uint8Array, from: number, to: number): string {
  let end = Math.min(to, from + 200);
  while (end > from && end < to && (bytes[end]! & 0xc0) === 0x80) end--;
  return decodeUtf8(bytes, from, end) ?? "";
}

function fieldEnd(bytes: Uint8Array, from: number, delimiter: Delimiter): number {
  let at = from;
  while (at < bytes.length && bytes[at] !== 10 && bytes[at] !== 13 && bytes[at] !== delimiter.charCodeAt(0)) at++;
  return at;
}

/** The line ends that the lines have, most usual first, and how often each in words. */
export function lineEndsOf({ lineEnds }: Scan): readonly { readonly end: "\n" | "\r\n" | "\r"; readonly name: string }[] {
  return [
    ...(lineEnds.lf > 0 ? [{ end: "\n", name: `LF (${lineEnds.lf})` } as const] : []),
    ...(lineEnds.crlf > 0 ? [{ end: "\r\n", name: `CRLF (${lineEnds.crlf})` } as const] : []),
    ...(lineEnds.cr > 0 ? [{ end: "\r", name: `CR (${lineEnds.cr})` } as const] : []),
  ];
}

function reportShape(scan: Scan, list: ProblemList): void {
  const kinds = lineEndsOf(scan);
  const lineRange = (line: number): TextRange => ({ start: { line, column: 1 }, end: { line, column: 1 } });
  if (kinds.length > 1) list.add("csv.mixed-eol", () => problem("csv.mixed-eol", { kinds: kinds.map((kind) => kind.name) }, textStart));
  if (scan.blankLines > 0)
    list.add("csv.blank-lines", () => problem("csv.blank-lines", { count: scan.blankLines }, lineRange(scan.firstBlankLine)));
  if (scan.trailing > 0)
    list.add("csv.trailing-delimiter", () => problem("csv.trailing-delimiter", { count: scan.trailing }, lineRange(scan.firstTrailingLine)));
}

const delimiterNames: Readonly<Record<Delimiter, string>> = { ",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars" };

/** Says what was told from the text and not by anybody: a delimiter that is no comma, a decimal comma. */
function reportFormat(bytes: Uint8Array, reading: Reading, options: ReadOptions, list: ProblemList): void {
  const { scan, delimiter, decimal } = reading;
  if (options.delimiter === undefined && delimiter !== ",") {
    list.add("csv.delimiter", () => problem("csv.delimiter", { delimiter: delimiterNames[delimiter] }, textStart));
  }
  if (options.decimal !== undefined || decimal !== ",") return;
  const stride = scan.columns + 1;
  for (let i = 0; i < scan.rows * stride; i++) {
    if (i % stride === scan.columns) continue;
    const text = scan.starts[i + 1]! - scan.starts[i]! > 40 ? "" : (spanText(bytes, scan.starts[i]!, scan.starts[i + 1]! - 1, 40) ?? "");
    if (!/^\s*[-+\u2212]?\d[\d.]*,\d/u.test(text)) continue;
    const row = Math.floor(i / stride);
    const place = { at: scan.starts[row * stride]!, line: scan.lines[row]!, column: 1 };
    const range = rangeOfBytes(bytes, scan.starts[i]!, scan.starts[i + 1]! - 1, place);
    list.add("csv.decimal-comma", () => problem("csv.decimal-comma", { example: text.trim() }, range));
    return;
  }
}
