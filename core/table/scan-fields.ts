import type { Limits } from "../limits";
import type { Delimiter } from "./delimited-text";
import { utf16Length } from "./utf8";

const lf = 10;
const cr = 13;
const quote = 34;
const space = 32;

/** What the scanner finds wrong; `from` and `to` are byte offsets in the record that begins at `recordStart`. */
export interface ScanFault {
  readonly code:
    | "csv.bare-quote"
    | "csv.text-after-quote"
    | "csv.unclosed-quote"
    | "csv.short-row"
    | "csv.long-row"
    | "csv.limit";
  readonly from: number;
  readonly to: number;
  readonly recordStart: number;
  readonly recordLine: number;
  /** Where the field begins that was being read. */
  readonly fieldStart: number;
  readonly expected?: number;
  readonly got?: number;
  readonly limit?: "rows" | "columns" | "cellText";
}

/** Where a scan stands: everything that is needed to go on when more bytes have come. */
export interface Scan {
  readonly delimiter: number;
  readonly limits: Limits;
  readonly report: (fault: ScanFault) => void;
  /** The next byte to look at, and what it is looked at as. */
  at: number;
  mode: "record" | "field" | "plain" | "quoted" | "after quote" | "stopped";
  /** True right after a CR that ended a line: an LF now belongs to it. */
  afterCr: boolean;
  line: number;
  recordStart: number;
  recordLine: number;
  fields: number;
  fieldStart: number;
  fieldLine: number;
  /** True when this field's quotes have been reported already. */
  reported: boolean;
  /** Starts of the header's fields, with the end of the last plus 1; `null` until it has been read. */
  header: readonly number[] | null;
  headerStart: number;
  headerLine: number;
  columns: number;
  starts: Uint32Array;
  lines: Uint32Array;
  rows: number;
  /** Rows with more values than the header. */
  readonly longRows: number[];
  /** Rows with empty fields beyond the header's, and lines without anything. */
  trailing: number;
  firstTrailingLine: number;
  blankLines: number;
  firstBlankLine: number;
  lineEnds: { lf: number; crlf: number; cr: number };
}

/** Begins a scan at byte `at`, which is the beginning of line `line`. */
export function beginScan(
  at: number,
  line: number,
  delimiter: Delimiter,
  limits: Limits,
  report: (fault: ScanFault) => void,
): Scan {
  return {
    delimiter: delimiter.charCodeAt(0),
    limits,
    report,
    at,
    mode: "record",
    afterCr: false,
    line,
    recordStart: at,
    recordLine: line,
    fields: 0,
    fieldStart: at,
    fieldLine: line,
    reported: false,
    header: null,
    headerStart: at,
    headerLine: line,
    columns: limits.columns + 1,
    starts: new Uint32Array(Math.max(1024, limits.columns + 4)),
    lines: new Uint32Array(1024),
    rows: 0,
    longRows: [],
    trailing: 0,
    firstTrailingLine: 0,
    blankLines: 0,
    firstBlankLine: 0,
    lineEnds: { lf: 0, crlf: 0, cr: 0 },
  };
}

/**
 * Goes on scanning up to byte `length`; with `final`, to the end of the text.
 *
 * One pass, except that a quote that is never closed is gone back to once: no bytes are looked at more than twice,
 * because inside it every odd run of quotes would have closed it. The result does not depend on where the bytes were
 * cut. RFC 4180, with any of LF, CRLF and CR as line end.
 */
export function scanFields(scan: Scan, bytes: Uint8Array, length: number, final: boolean): void {
  const { delimiter } = scan;
  let { at, mode } = scan;
  for (;;) {
    if (mode === "plain") {
      let byte = 0;
      while (at < length) {
        byte = bytes[at]!;
        // Digits and letters are above every quote, line end and comma, so one test lets most bytes pass.
        if (byte > 44 && byte !== delimiter) at++;
        else if (byte === delimiter || byte === lf || byte === cr || byte === quote) break;
        else at++;
      }
      if (at >= length) {
        if (!final) break;
        endField(scan, bytes, at);
        endRecord(scan, bytes, at);
        mode = scan.mode;
        continue;
      }
      if (byte === delimiter) {
        endField(scan, bytes, at);
        at++;
        mode = "field";
      } else if (byte === quote) {
        if (!scan.reported) reportBareQuote(scan, at);
        at++;
        continue;
      } else {
        endField(scan, bytes, at);
        endRecord(scan, bytes, at);
        mode = scan.mode;
        at = passLineEnd(scan, byte, at);
        continue;
      }
    }
    if (mode === "field") {
      if (at >= length && !final) break;
      scan.fieldStart = at;
      scan.fieldLine = scan.line;
      scan.reported = false;
      if (at < length && bytes[at] === quote) {
        mode = "quoted";
        at++;
      } else {
        mode = "plain";
        continue;
      }
    }
    if (mode === "quoted") {
      while (at < length && bytes[at] !== quote) {
        const byte = bytes[at]!;
        if (byte === lf ? bytes[at - 1] !== cr : byte === cr) scan.line++;
        at++;
      }
      if (at < length) {
        mode = "after quote";
        at++;
      } else if (final) {
        at = reopen(scan);
        mode = "plain";
      } else break;
    } else if (mode === "after quote") {
      if (at >= length && !final) break;
      const byte = at < length ? bytes[at]! : lf;
      if (byte === quote) {
        mode = "quoted";
        at++;
      } else if (byte === delimiter || byte === lf || byte === cr) {
        mode = "plain";
      } else if (scan.line > scan.fieldLine) {
        at = reopen(scan);
        mode = "plain";
      } else {
        report(scan, "csv.text-after-quote", at, at + 1);
        scan.reported = true;
        mode = "plain";
      }
    } else if (mode === "record") {
      if (scan.afterCr) {
        if (at >= length && !final) break;
        scan.afterCr = false;
        if (at < length && bytes[at] === lf) {
          at++;
          scan.lineEnds.crlf++;
        } else scan.lineEnds.cr++;
      }
      if (at >= length) break;
      if (scan.rows === scan.limits.rows && scan.header !== null) {
        // One row more than allowed may still be a blank line, but a limit is a limit.
        report(scan, "csv.limit", at, at + 1, { limit: "rows", recordStart: at, recordLine: scan.line });
        mode = "stopped";
        continue;
      }
      scan.recordStart = at;
      scan.recordLine = scan.line;
      scan.fields = 0;
      scan.starts[scan.rows * (scan.columns + 1)] = at;
      mode = "field";
    } else break;
  }
  scan.at = at;
  scan.mode = mode;
}

/** Takes the field from its start up to `end` into the record. */
function endField(scan: Scan, bytes: Uint8Array, end: number): void {
  const fields = ++scan.fields;
  if (fields <= scan.columns) scan.starts[scan.rows * (scan.columns + 1) + fields] = end + 1;
  const { limits, fieldStart } = scan;
  if (end - fieldStart <= limits.cellText) return;
  const got = utf16Length(bytes, fieldStart, end);
  if (got > limits.cellText) report(scan, "csv.limit", fieldStart, fieldStart + 1, { limit: "cellText", got });
}

/** Takes the record that ends at `end` in, unless it is a blank line. */
function endRecord(scan: Scan, bytes: Uint8Array, end: number): void {
  scan.mode = "record";
  if (scan.fields === 1 && (scan.header === null || scan.columns > 1) && isBlank(bytes, scan.recordStart, end)) {
    if (scan.blankLines++ === 0) scan.firstBlankLine = scan.recordLine;
    return;
  }
  if (scan.header === null) return takeHeader(scan, end);
  if (scan.fields !== scan.columns) checkLength(scan, end);
  scan.lines[scan.rows] = scan.recordLine;
  scan.rows++;
  const needed = (scan.rows + 1) * (scan.columns + 1) + 1;
  if (needed > scan.starts.length) scan.starts = grown(scan.starts, needed);
  if (scan.rows >= scan.lines.length) scan.lines = grown(scan.lines, scan.rows + 1);
}

function takeHeader(scan: Scan, end: number): void {
  if (scan.fields > scan.limits.columns) {
    report(scan, "csv.limit", scan.recordStart, end, { limit: "columns", got: scan.fields });
    scan.mode = "stopped";
    return;
  }
  scan.header = Array.from(scan.starts.subarray(0, scan.fields + 1));
  scan.headerStart = scan.recordStart;
  scan.headerLine = scan.recordLine;
  scan.columns = scan.fields;
}

function checkLength(scan: Scan, end: number): void {
  const { columns, fields } = scan;
  const base = scan.rows * (columns + 1);
  if (fields < columns) {
    report(scan, "csv.short-row", scan.recordStart, end, { expected: columns, got: fields });
    scan.starts.fill(end + 1, base + fields + 1, base + columns + 1);
    return;
  }
  const extra = scan.starts[base + columns]!;
  if (end - extra === fields - columns - 1) {
    // Nothing but delimiters: every row of such a file ends in one.
    if (scan.trailing++ === 0) scan.firstTrailingLine = scan.recordLine;
    return;
  }
  scan.longRows.push(scan.rows);
  report(scan, "csv.long-row", extra, Math.max(extra, end), { expected: columns, got: fields });
}

/** The opening quote at the field's start is never closed: it is taken as text, and the line read on from it. */
function reopen(scan: Scan): number {
  report(scan, "csv.unclosed-quote", scan.fieldStart, scan.fieldStart + 1);
  scan.reported = true;
  scan.line = scan.fieldLine;
  return scan.fieldStart + 1;
}

function reportBareQuote(scan: Scan, at: number): void {
  scan.reported = true;
  report(scan, "csv.bare-quote", at, at + 1);
}

function passLineEnd(scan: Scan, byte: number, at: number): number {
  scan.line++;
  if (byte === lf) scan.lineEnds.lf++;
  else scan.afterCr = true;
  return at + 1;
}

function isBlank(bytes: Uint8Array, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (bytes[at] !== space && bytes[at] !== 9) return false;
  return true;
}

function report(scan: Scan, code: ScanFault["code"], from: number, to: number, more: Partial<ScanFault> = {}): void {
  scan.report({ code, from, to, recordStart: scan.recordStart, recordLine: scan.recordLine, fieldStart: scan.fieldStart, ...more });
}

function grown(from: Uint32Array, needed: number): Uint32Array {
  const into = new Uint32Array(Math.max(needed, from.length * 2));
  into.set(from);
  return into;
}
