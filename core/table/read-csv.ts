import type { Limits } from "../limits";
import { defaultLimits } from "../limits";
import type { Checked } from "../problem";
import { problem } from "../problem";
import type { TextRange } from "../text-position";
import { textStart } from "../text-position";
import { positionsOfBytes } from "./byte-position";
import { checkHeader } from "./check-header";
import { firstCharacter, otherEncoding } from "./decode-text";
import type { DelimitedText } from "./delimited-text";
import { spanText } from "./delimited-text";
import { detectDecimal, detectDelimiter, sampleBytes } from "./detect-format";
import { linesAboveHeader } from "./find-header";
import type { ProblemList } from "./problem-list";
import { problemList } from "./problem-list";
import type { ReadOptions } from "./read-options";
import type { Reading } from "./report-reading";
import { lineEndsOf, reportReading } from "./report-reading";
import type { Scan, ScanFault } from "./scan-fields";
import { beginScan, scanFields } from "./scan-fields";

/** Reads delimited text as it comes. */
export interface DelimitedReader {
  /** Takes the next bytes. They are not modified and must not be modified by the caller before `end`. */
  readonly push: (chunk: Uint8Array) => void;
  /** Says that there are no more bytes, and gives the text. Called once. */
  readonly end: () => Checked<DelimitedText>;
}

/**
 * Delimited text of a file's bytes, by RFC 4180 with any line end, and everything that is wrong with it.
 *
 * Nothing is guessed in silence: a delimiter other than a comma and a decimal comma are said. Values are not
 * interpreted. What cannot be read at all (UTF-16, a spreadsheet) gives a text without columns.
 * @example readDelimited(bytes).value.header[0]?.name
 */
export function readDelimited(bytes: Uint8Array, options: ReadOptions = {}): Checked<DelimitedText> {
  const reader = delimitedReader(options);
  reader.push(bytes);
  return reader.end();
}

/** Returns a reader that takes a file in pieces. Where it was cut makes no difference to the result. */
export function delimitedReader(options: ReadOptions = {}): DelimitedReader {
  const limits = options.limits ?? defaultLimits;
  let bytes: Uint8Array = new Uint8Array(0);
  let length = 0;
  let tooLong = false;
  let reading: Reading | null = null;

  const isPart = options.wholeBytes !== undefined;

  function goOn(atEnd: boolean): void {
    const final = atEnd && !isPart;
    if (reading === null && (atEnd || length >= sampleBytes)) reading = begin(bytes.subarray(0, length), final, options, limits);
    if (reading !== null) scanFields(reading.scan, bytes, length, final);
  }

  return {
    push: (chunk) => {
      const room = limits.fileBytes - length;
      if (chunk.length > room) tooLong = true;
      const taken = chunk.length > room ? chunk.subarray(0, room) : chunk;
      if (length === 0) bytes = taken;
      else {
        // A chunk of the caller's is never written to: the first growth copies it.
        if (length + taken.length > bytes.length || bytes.length === length) bytes = roomFor(bytes, length, taken.length);
        bytes.set(taken, length);
      }
      length += taken.length;
      goOn(false);
    },
    end: () => {
      goOn(true);
      return finish(bytes.subarray(0, isPart ? wholeRecordsEnd(reading!.scan) : length), reading!, options, limits, tooLong);
    },
  };
}

/** The byte up to which the records of a scan are whole. */
function wholeRecordsEnd(scan: Scan): number {
  return scan.mode === "record" || scan.mode === "stopped" ? scan.at : scan.recordStart;
}

function roomFor(bytes: Uint8Array, length: number, more: number): Uint8Array {
  const into = new Uint8Array(Math.max(length + more + 1, 2 * length));
  into.set(bytes.subarray(0, length));
  return into;
}

function begin(known: Uint8Array, whole: boolean, options: ReadOptions, limits: Limits): Reading {
  const start = known.subarray(0, sampleBytes);
  const other = otherEncoding(start);
  const mark = start[0] === 0xef && start[1] === 0xbb && start[2] === 0xbf;
  const { at, line } = afterLines(start, mark ? 3 : 0, options.skipLines ?? 0);
  const sample = other === null ? start.subarray(at, whole && known.length <= sampleBytes ? start.length : lastLineEnd(start)) : new Uint8Array(0);
  const linesAbove = (options.skipLines ?? 0) > 0 ? null : linesAboveHeader(sample, options.delimiter ?? null);
  const delimiter = options.delimiter ?? detectDelimiter(sample);
  const seen = options.decimal === undefined ? detectDecimal(sample, delimiter) : { decimal: options.decimal, known: true };
  const faults: ScanFault[] = [];
  const faultTotals = new Map<ScanFault["code"], number>();
  const scan = beginScan(at, line, delimiter, limits, (fault) => {
    const total = (faultTotals.get(fault.code) ?? 0) + 1;
    faultTotals.set(fault.code, total);
    if (total <= limits.problems) faults.push(fault);
  });
  if (other !== null || linesAbove !== null) scan.mode = "stopped";
  return {
    scan,
    faults,
    faultTotals,
    delimiter,
    decimal: seen.decimal,
    decimalKnown: seen.known,
    mark,
    other,
    linesAbove,
  };
}

/** The byte and the line after `count` lines, counted from byte `at`; the end of the bytes when there are fewer. */
function afterLines(bytes: Uint8Array, at: number, count: number): { at: number; line: number } {
  let line = 1;
  while (line <= count && at < bytes.length) {
    const byte = bytes[at++];
    if (byte === 13 && bytes[at] === 10) at++;
    if (byte === 10 || byte === 13) line++;
  }
  return { at, line };
}

/** The end of the last whole line, or of the bytes when there is none. */
function lastLineEnd(bytes: Uint8Array): number {
  for (let at = bytes.length; at > 0; at--) if (bytes[at - 1] === 10 || bytes[at - 1] === 13) return at;
  return bytes.length;
}

function finish(bytes: Uint8Array, reading: Reading, options: ReadOptions, limits: Limits, tooLong: boolean): Checked<DelimitedText> {
  const { scan, delimiter, decimal, decimalKnown, mark, other, linesAbove } = reading;
  const list = problemList(limits.problems);
  if (options.wholeBytes !== undefined) {
    const facts = { lines: wholeLines(scan), read: inMegabytes(bytes.length), of: inMegabytes(options.wholeBytes) };
    list.add("csv.checked-in-part", () => problem("csv.checked-in-part", facts, firstCharacter));
  }
  if (tooLong) list.add("csv.limit", () => problem("csv.limit", { limit: "fileBytes", most: limits.fileBytes }, textStart));
  const header = scan.header === null ? [] : readHeader(bytes, scan, scan.header, options, list);
  if (linesAbove !== null) {
    const { count, first, header: most } = linesAbove;
    list.add("csv.lines-above-header", () => problem("csv.lines-above-header", { count, first, header: most }, firstCharacter));
  } else if (other === null) reportReading(bytes, reading, options, list);
  else list.add("csv.encoding", () => problem("csv.encoding", { found: other, byte: 0 }, firstCharacter));
  const kinds = lineEndsOf(scan);
  return {
    value: {
      header,
      delimiter,
      decimal,
      decimalKnown,
      lineEnd: kinds.length > 1 ? "mixed" : (kinds[0]?.end ?? null),
      mark,
      rowCount: header.length === 0 ? 0 : scan.rows,
      bytes,
      starts: scan.starts,
      lines: scan.lines.subarray(0, scan.rows),
      longRows: scan.longRows,
      longestField: limits.cellText,
    },
    problems: list.listed(),
  };
}

/** How many lines the records of a scan that are whole take, with those above the header. */
function wholeLines(scan: Scan): number {
  return (scan.mode === "record" || scan.mode === "stopped" ? scan.line : scan.recordLine) - 1;
}

function inMegabytes(bytes: number): string {
  return (bytes / 1e6).toFixed(1);
}

function readHeader(bytes: Uint8Array, scan: Scan, starts: readonly number[], options: ReadOptions, list: ProblemList): DelimitedText["header"] {
  const names = starts.slice(0, -1).map((from, i) => spanText(bytes, from, starts[i + 1]! - 1, scan.limits.cellText));
  const place = { at: scan.headerStart, line: scan.headerLine, column: 1 };
  const offsets = starts.slice(0, -1).flatMap((from, i) => [from, Math.max(from, starts[i + 1]! - 1)]);
  const positions = positionsOfBytes(bytes, offsets, place);
  const ranges = names.map((_, i): TextRange => ({ start: positions[2 * i]!, end: positions[2 * i + 1]! }));
  const checked = checkHeader(names, ranges, options.duplicateHeaders === "number");
  for (const found of checked.problems) list.add(found.code, () => found);
  return checked.header;
}

