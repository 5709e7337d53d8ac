import { closestName } from "../closest-name";
import type { Limits } from "../limits";
import { inFile, problem } from "../problem";
import type { Problem } from "../problem";
import { looksOf } from "../table/check-header";
import type { DelimitedText } from "../table/delimited-text";
import { withoutLongRows } from "../table/delimited-text";
import { problemList, type ProblemList } from "../table/problem-list";
import { readDelimited } from "../table/read-csv";
import { isShotColumn, shotColumns, type ShotColumn } from "../table/shot-columns";
import type { ExportBytes, ExportColumn, ExportShots } from "./export-shots";
import { findShots } from "./find-shots";
import { readKeptColumn, readMappedNumbers, readMappedText } from "./read-export-columns";
import { plainMap } from "./read-columns-map";
import { countedColumns } from "../table/settable-columns";
import type { ColumnMap, Session, SourceFile } from "./session";

/** Reads the bytes of one export of the session. Values that cannot be read are missing and noted, not yet reported. */
export function readExport(source: SourceFile, { bytes, wholeBytes }: ExportBytes, session: Session, limits: Limits): ExportShots {
  const { value: text, problems } = readDelimited(bytes, {
    ...(source.delimiter === null ? {} : { delimiter: source.delimiter }),
    ...(source.decimal === null ? {} : { decimal: source.decimal }),
    ...(source.shortRows === null ? {} : { shortRows: source.shortRows }),
    ...(source.duplicateHeaders === null ? {} : { duplicateHeaders: source.duplicateHeaders }),
    ...(wholeBytes === undefined ? {} : { wholeBytes }),
    skipLines: source.skipLines,
    limits,
  });
  const inExport = problemList(limits.problems);
  const inSession: Problem[] = [];
  const maps = mapHeaders(text, source, session, inSession, inExport);
  const mapped = new Map([...maps].map(([index, map]) => [index, map.column]));
  const indexOf = (wanted: ShotColumn): number => [...mapped].find(([, column]) => column === wanted)?.[0] ?? -1;
  const missing = new Set(session.missing);
  const heads = new Set(session.heads.flatMap((head) => [head.name, ...head.called]));
  const { rows, units } = findShots(
    text,
    {
      shotColumn: indexOf("shot"),
      headColumn: indexOf("head"),
      isNamed: (index) => mapped.has(index),
      mayNameSummary: (index) => ["shot", "head", "time", undefined].includes(mapped.get(index)),
      isHead: (word) => heads.has(word),
      isMissing: (word) => missing.has(word),
      unitsRow: source.unitsRow,
    },
    inExport,
  );
  const columns = new Map<string, ExportColumn>();
  // Where a row has too many values, its readings may be its neighbours'; who hit what and when is kept for its order.
  const readable = withoutLongRows(text);
  for (const [index, map] of maps) {
    const from = shotColumns[map.column].group === "identity" ? text : readable;
    const reading = { text: from, rows, index, map, unitOfRow: units.get(index) ?? null, missing, inExport, inSession };
    const read = shotColumns[map.column].kind === "number" ? readMappedNumbers(reading) : readMappedText(reading);
    if (read !== null) columns.set(read.column.name, read);
  }
  text.header.forEach(({ name: header, range }, index) => {
    if (mapped.has(index)) return;
    let name = header;
    if (isShotColumn(name) || columns.has(name)) {
      for (let n = 1; isShotColumn(name) || columns.has(name) || (n > 1 && text.header.some((cell) => cell.name === name)); n++)
        name = `${header} (export${n === 1 ? "" : ` ${n}`})`;
      const instead = name;
      inExport.add("session.name-taken", () => problem("session.name-taken", { name: header, instead }, range));
    }
    columns.set(name, readKeptColumn({ text: readable, rows, index, name, unitOfRow: units.get(index) ?? null, missing, inExport }));
  });
  const own = [...problems, ...inExport.listed()].map((found) => inFile(found, source.file));
  own.sort((a, b) => a.range.start.line - b.range.start.line || a.range.start.column - b.range.start.column);
  const directionsAssumed = [...maps.values()].filter((map) => map.directionAssumed && columns.has(map.column));
  return { source, text, rows, columns, directionsAssumed, problems: [...own, ...inSession], isPart: wholeBytes !== undefined };
}

/**
 * Which shot column each header stands for, by index: as the session maps them; and a header that is exactly the
 * name of a shot column, which the session does not map elsewhere, stands for it.
 */
function mapHeaders(
  text: DelimitedText,
  source: SourceFile,
  session: Session,
  inSession: Problem[],
  inExport: ProblemList,
): ReadonlyMap<number, ColumnMap> {
  const headers = text.header.map((cell) => cell.name);
  const maps = new Map<number, ColumnMap>();
  const found = new Set<ShotColumn>();
  for (const map of session.columns) {
    const index = headers.indexOf(map.header);
    if (index >= 0 && !maps.has(index)) maps.set(index, map);
    else if (index < 0 && headers.length > 0 && !(map.column === "head" && source.head !== null)) reportHeader(map, headers, source, inSession);
    found.add(map.column);
  }
  text.header.forEach(({ name, range }, index) => {
    if (maps.has(index)) return;
    const column = isShotColumn(name) ? name : alike(name);
    if (column === undefined || found.has(column) || (column !== "shot" && countedColumns.includes(column))) return;
    if (column === name) {
      maps.set(index, { column, header: name, headerRange: source.fileRange, ...plainMap(column) });
      found.add(column);
    } else if (isShotColumn(name.normalize("NFKC").replace(/\p{Cf}/gu, "").trim()))
      inExport.add("csv.confusable-header", () => problem("csv.confusable-header", { name, other: column }, range));
    else inExport.add("session.not-mapped", () => problem("session.not-mapped", { name, column }, range));
  });
  return maps;
}

function alike(name: string): ShotColumn | undefined {
  const word = looksOf(name).replaceAll(" ", "_");
  return isShotColumn(word) ? word : undefined;
}

/** Quotes of a text processor around a header: YAML takes them for a part of it. */
const curlyQuotes = /^[\u2018-\u201f\u00ab\u00bb]|[\u2018-\u201f\u00ab\u00bb]$/gu;

function reportHeader(map: ColumnMap, headers: readonly string[], source: SourceFile, problems: Problem[]): void {
  const bare = map.header.replace(curlyQuotes, "");
  const near = headers.find((header) => looksOf(header) === looksOf(map.header) || header === bare) ?? closestName(map.header, headers) ?? undefined;
  const facts = { header: map.header, column: map.column, file: source.file, headers, ...(near === undefined ? {} : { near }) };
  const fix = near === undefined ? {} : { fix: { title: `Write ${near}`, edits: [{ range: map.headerRange, text: JSON.stringify(near) }] } };
  problems.push(problem("session.unknown-header", facts, map.headerRange, fix));
}
