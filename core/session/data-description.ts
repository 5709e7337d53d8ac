import type { FilePort } from "../file-port";
import type { Limits } from "../limits";
import { folderOf, resolvePath } from "../path";
import type { DelimitedText } from "../table/delimited-text";
import { fieldText } from "../table/delimited-text";
import { decodeText } from "../table/decode-text";
import { shotColumnFacts } from "../table/shot-columns";
import { unitLabel } from "../present/format-number";
import type { Unit } from "../units";
import { convert, isConvertible } from "../units";
import { datatypeOf, type Datatype } from "./describe-values";
import { csvwContext } from "./description-terms";
import type { ExportShots } from "./export-shots";
import { readExport } from "./read-export";
import { readSession } from "./read-session";
import type { ColumnMap, Session } from "./session";

/** A description of tables as JSON, and the header of each table by its `url`. */
export interface DataDescription {
  readonly json: TableGroup;
  readonly headers: ReadonlyMap<string, readonly string[]>;
}

/** A group of tables: the exports of one session. */
export interface TableGroup {
  readonly "@context": typeof csvwContext;
  readonly "dc:title": EnglishText;
  readonly "urn:fairstrike:synthetic"?: true;
  readonly tables: readonly TableDescription[];
}

interface TableDescription {
  readonly url: string;
  readonly dialect: Readonly<Record<string, unknown>>;
  readonly tableSchema: { readonly columns: readonly ColumnDescription[]; readonly primaryKey?: string };
  readonly notes?: readonly { readonly "dc:description": EnglishText }[];
}

interface ColumnDescription {
  readonly name: string;
  readonly titles?: string;
  readonly "dc:description"?: EnglishText;
  /** The unit of the numbers, as a session file writes it. */
  readonly "urn:fairstrike:unit"?: Unit;
  /** The shot column that the session reads here. */
  readonly "urn:fairstrike:column"?: string;
  readonly datatype: Datatype;
  readonly null?: readonly string[];
  readonly required?: true;
}

interface EnglishText {
  readonly "@value": string;
  readonly "@language": "en";
}

/**
 * A description of the exports of a session by Metadata Vocabulary for Tabular Data (W3C Recommendation 17 December 2015):
 * how each is read, and for each column its header, datatype, missing texts, unit and meaning.
 *
 * A datatype is told from all rows below the header, so that every value that is there is one; limits are those that the
 * session states as plausible, in the export's own unit and direction. What the session corrects or sets aside is in the
 * export as it was recorded, which the notes say.
 *
 * @param path the session file, relative to the root.
 * @param urlOf the URL of a file of the root, relative to where the description is to stand.
 * @returns `null` when the session cannot be read or one of its exports cannot: loading the session says why.
 */
export async function describeSession(path: string, files: FilePort, limits: Limits, urlOf: (path: string) => string): Promise<DataDescription | null> {
  const read = await files.read(path);
  const text = read.ok ? decodeText(read.bytes).value : null;
  const session = text === null ? null : readSession(text).value;
  if (session === null || session.sources.length === 0) return null;
  const tables: TableDescription[] = [];
  const headers = new Map<string, readonly string[]>();
  for (const source of session.sources) {
    const place = resolvePath(folderOf(path), source.file).value;
    const found = place === null ? null : await files.read(place);
    if (place === null || found?.ok !== true) return null;
    const shots = readExport(source, { bytes: found.bytes }, session, limits);
    if (shots.text.header.length === 0) return null;
    const url = urlOf(place);
    tables.push(describeExport(shots, session, url));
    headers.set(url, titlesOf(shots));
  }
  const json: TableGroup = { "@context": csvwContext, "dc:title": english(session.name), ...(session.synthetic ? { "urn:fairstrike:synthetic": true } : {}), tables };
  return { json, headers };
}

/**
 * The description of one export that was read.
 *
 * @param url where the export is, relative to the description.
 */
export function describeExport(shots: ExportShots, session: Session, url: string): TableDescription {
  const { text } = shots;
  const hasUnits = shots.problems.some(({ code }) => code === "csv.units-row");
  const names = columnNames(shots);
  const titles = titlesOf(shots);
  const columns = text.header.map((_, index) => describeColumn(shots, session, { index, name: names[index]!, title: titles[index]!, firstRow: hasUnits ? 1 : 0 }));
  const notes = notesOf(session);
  const key = [...shots.columns].find(([name]) => name === "shot")?.[1].index;
  const isKey = key !== undefined && columns[key]!.datatype === "integer" && areDistinct(text, key, hasUnits ? 1 : 0);
  return {
    url,
    dialect: dialectOf(shots, hasUnits),
    tableSchema: { columns, ...(isKey ? { primaryKey: names[key]! } : {}) },
    ...(notes.length === 0 ? {} : { notes: notes.map((note) => ({ "dc:description": english(note) })) }),
  };
}

/** The header as it stands in the file: a name that was made up is none. */
function titlesOf({ source, text, problems }: ExportShots): readonly string[] {
  const asWritten = text.header.map(({ name }) => name);
  for (const found of problems) {
    if (found.code === "csv.empty-header") asWritten[found.facts.column - 1] = "";
    else if (found.code === "csv.duplicate-header") asWritten[found.facts.second - 1] = found.facts.name;
  }
  // Where the session has such names numbered, nothing is said of them.
  return source.duplicateHeaders === null ? asWritten : asWritten.map((name, index) => numberedOf(name, asWritten.slice(0, index)) ?? name);
}

/** The name of which this is the numbered one, `Side (2)`, where it is before it. */
function numberedOf(name: string, before: readonly string[]): string | null {
  const plain = /^(.*) \(\d+\)$/su.exec(name)?.[1];
  return plain !== undefined && before.includes(plain) ? plain : null;
}

/** A name for each column: that of its shot column, or else its header, in the characters of RFC 6570, 2.3, and each once. */
function columnNames({ text, columns }: ExportShots): readonly string[] {
  const taken = new Set<string>();
  const mapped = new Map([...columns].map(([name, { index }]) => [index, name]));
  return text.header.map(({ name: header }, index) => {
    const plain = encodeURIComponent(mapped.get(index) ?? header).replace(/[^\w%.]/gu, (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`);
    const legal = plain.replace(/^_+/u, "").replace(/^\.+|\.+(?=\.|$)/gu, "") || `column_${index + 1}`;
    let name = legal;
    for (let n = 2; taken.has(name); n++) name = `${legal}_${n}`;
    taken.add(name);
    return name;
  });
}

function describeColumn(
  shots: ExportShots,
  session: Session,
  { index, name, title, firstRow }: { readonly index: number; readonly name: string; readonly title: string; readonly firstRow: number },
): ColumnDescription {
  const [own, read] = [...shots.columns].find(([, column]) => column.index === index) ?? [null, null];
  const facts = own === null ? undefined : shotColumnFacts(own);
  const map = facts === undefined ? undefined : session.columns.find((each) => each.column === own);
  const unit = read?.column.kind === "number" ? read.column.unit : null;
  const missing = ["", ...new Set([...session.missing, ...(map?.missing ?? [])])];
  const values = { text: shots.text, index, firstRow, missing: new Set(missing) };
  const { datatype, hasMissing } = datatypeOf(values, own === null || read?.column.kind !== "number" ? null : limitsOf(own, unit, map, session));
  const meaning = facts === undefined ? null : meaningOf(facts.description, facts.direction, map, unit);
  return {
    name,
    ...(title === "" ? {} : { titles: title }),
    ...(meaning === null ? {} : { "dc:description": english(meaning) }),
    ...(facts === undefined ? {} : { "urn:fairstrike:column": own! }),
    ...(unit === null ? {} : { "urn:fairstrike:unit": unit }),
    datatype,
    ...(missing.length > 1 ? { null: missing } : {}),
    ...((own === "shot" || own === "head") && !hasMissing ? { required: true } : {}),
  };
}

/** What a column means, which way positive numbers point, and in which unit they are: as the export has them. */
function meaningOf(description: string, direction: readonly [string, string] | null, map: ColumnMap | undefined, unit: Unit | null): string {
  const parts = [description];
  if (direction !== null && map !== undefined && map.sides !== null) parts.push(`${map.sides.positive} for ${direction[0]} and ${map.sides.negative} for ${direction[1]}`);
  else if (direction !== null && map?.directionAssumed !== true) parts.push(`positive is ${map?.flipped === true ? direction[1] : direction[0]}`);
  if (unit !== null) parts.push(`in ${unitLabel(unit)}`);
  return parts.join("; ");
}

/** Limits that the session states as plausible, in the unit and the direction of the export; `null` for none. */
function limitsOf(name: string, unit: Unit | null, map: ColumnMap | undefined, session: Session): { readonly minimum: number; readonly maximum: number } | null {
  const stated = Object.hasOwn(session.plausible, name) ? session.plausible[name] : undefined;
  // With letters for the sides the numbers have no sign, and the limits are of other numbers.
  if (stated === undefined || (map !== undefined && map.sides !== null)) return null;
  if (stated.unit !== null && unit !== null && !isConvertible(stated.unit, unit)) return null;
  const inExport = (value: number): number => Number((stated.unit === null || unit === null ? value : convert(value, stated.unit, unit)).toPrecision(12));
  const [low, high] = [inExport(stated.low), inExport(stated.high)];
  return map?.flipped === true ? { minimum: 0 - high, maximum: 0 - low } : { minimum: low, maximum: high };
}

/** Beginnings of lines that could mark comments; an export has none. */
const prefixes: readonly string[] = ["#", "//", "%%", ";;;;", "\u0001"];

function dialectOf({ source, text }: ExportShots, hasUnits: boolean): TableDescription["dialect"] {
  const begins = new Set<string>();
  for (let row = -1; row < text.rowCount; row++) {
    const first = row < 0 ? (text.header[0]?.name ?? "") : (fieldText(text, row, 0) ?? "");
    for (const prefix of prefixes) if (first.startsWith(prefix)) begins.add(prefix);
  }
  return {
    encoding: "utf-8",
    delimiter: text.delimiter,
    quoteChar: '"',
    doubleQuote: true,
    ...(text.lineEnd === "\r" || text.lineEnd === "mixed" ? { lineTerminators: ["\r\n", "\n", "\r"] } : {}),
    // A reader takes lines that begin so for comments; the standard has no way to say that there are none.
    commentPrefix: prefixes.find((prefix) => !begins.has(prefix)) ?? "\u0001\u0001",
    header: true,
    headerRowCount: hasUnits ? 2 : 1,
    skipRows: source.skipLines,
    skipBlankRows: true,
    trim: false,
  };
}

function notesOf(session: Session): readonly string[] {
  const count = (n: number, what: string): string[] => (n === 0 ? [] : [`The session file ${what}; this file has the values as they were recorded.`]);
  return [...count(session.corrections.length, "corrects values"), ...count(session.setAside.length, "sets values aside")];
}

/** True when no value of the column is there twice and none is missing. */
function areDistinct(text: DelimitedText, index: number, firstRow: number): boolean {
  const seen = new Set<number>();
  for (let row = firstRow; row < text.rowCount; row++) {
    const value = (fieldText(text, row, index) ?? "").trim();
    if (value === "" || seen.has(Number(value))) return false;
    seen.add(Number(value));
  }
  return seen.size > 0;
}

function english(text: string): EnglishText {
  return { "@value": text, "@language": "en" };
}
