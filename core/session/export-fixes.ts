import type { Fix, Problem, TextEdit } from "../problem";
import { shown } from "../problem-kind";
import type { Delimiter } from "../table/delimited-text";
import type { ReadOptions } from "../table/read-options";
import { sideLetters } from "../table/side-letters";
import { isShotColumn, shotColumnFacts, type ShotColumn } from "../table/shot-columns";
import { parseUnit } from "../units";
import { isUsualBlank } from "../table/value-problems";
import { isReadWithoutUnit } from "./read-export-columns";
import type { Session, SourceFile } from "./session";
import { statementEdit, type SessionStatement } from "./session-statement";

/** A session as its file says it. */
export interface SessionText {
  /** The session file, named as problems are to name it. */
  readonly path: string;
  readonly text: string;
  readonly session: Session;
  /** How problems name an export, by the name that the session gives it. */
  readonly places: ReadonlyMap<string, string>;
  /** The digest that each export was read with, by the same names. */
  readonly digests: ReadonlyMap<string, string>;
}

/** What is said in the session file to make a problem of an export go away. */
interface Statement {
  readonly title: string;
  readonly says: SessionStatement;
  readonly byPerson: boolean;
}

/**
 * The problems of a session's exports, each with the session file and a fix where one answer is obvious. An export itself is never changed: what
 * the session file can say is said there; for the rest the session is pointed to a corrected copy.
 *
 * @param problems as `loadShots` gives them: those with a `file` are in the export that the session gives that name.
 */
export function withExportFixes(problems: readonly Problem[], from: SessionText): readonly Problem[] {
  const edits = new Map<string, TextEdit | null>();
  const edit = (statement: SessionStatement): TextEdit | null => {
    const key = JSON.stringify(statement);
    const known = edits.get(key);
    if (known !== undefined) return known;
    const made = statementEdit(from.text, statement);
    edits.set(key, made);
    return made;
  };
  const ofSession = problems.map((found) => (found.file === undefined ? found : { ...found, session: from.path }));
  return ofSession.map((found) => {
    if (found.file === undefined || found.fix !== undefined) return found;
    const source = from.session.sources.find((each) => each.file === found.file);
    if (source === undefined) return found;
    const fix = statedFix(found, source, from, edit) ?? (found.mends === undefined ? null : copyFix(source, from));
    return fix === null ? found : { ...found, fix };
  });
}

function statedFix(found: Problem, source: SourceFile, from: SessionText, edit: (statement: SessionStatement) => TextEdit | null): Fix | null {
  const statement = statementFor(found, source, from.session);
  const made = statement === null ? null : edit(statement.says);
  if (statement === null || made === null) return null;
  return { title: statement.title, edits: [made], file: from.path, ...(statement.byPerson ? { byPerson: true } : {}) };
}

/** How a session file names a delimiter. */
const delimiterWords: Readonly<Record<Delimiter, string>> = { ",": "comma", ";": "semicolon", "\t": "tab", "|": "bar" };

const spokenDelimiters: Readonly<Record<string, string>> = { commas: ",", semicolons: ";", tabs: "\t", bars: "|" };

/** What the session is to say; `null` where there is no one answer, or the session cannot say it. */
function statementFor(found: Problem, { file }: SourceFile, session: Session): Statement | null {
  const reading = (key: Extract<SessionStatement, { of: "source" }>["key"], value: string, title: string, byPerson = false): Statement => ({
    title,
    says: { of: "source", file, key, value },
    byPerson,
  });
  switch (found.code) {
    case "csv.short-row":
      return reading("short_rows", "missing", "Read what short rows lack as missing", true);
    case "csv.duplicate-header":
      return reading("duplicate_headers", "number", "Number names that are there twice");
    case "csv.lines-above-header":
      return reading("skip_lines", String(found.facts.count), `Skip ${found.facts.count} ${found.facts.count === 1 ? "line" : "lines"} above the header`);
    case "csv.delimiter": {
      const delimiter = spokenDelimiters[found.facts.delimiter] as Delimiter | undefined;
      return delimiter === undefined ? null : reading("delimiter", delimiterWords[delimiter], `State that values are separated by ${found.facts.delimiter}`);
    }
    case "csv.decimal-comma":
      return reading("decimal", '","', "State that numbers have a decimal comma");
    case "csv.confusable-header":
      return mapping(found.facts.other, found.facts.name);
    case "csv.no-shot-number":
      return missing(null, found.facts.word);
    case "session.not-mapped":
      return mapping(found.facts.column, found.facts.name);
    case "session.unknown-head": {
      const head = session.heads.find(({ name, called }) => name === found.facts.near || called.includes(found.facts.near ?? ""));
      if (head === undefined) return null;
      const called = found.facts.head;
      return { title: `State that ${shown(called)} is another name of ${head.name}`, says: { of: "head", head: head.name, called }, byPerson: true };
    }
    case "value.not-a-number":
      if (parseUnit(found.facts.text) !== undefined) return reading("units_row", "true", "State that the row under the header holds units", true);
      return isUsualBlank(found.facts.text) ? missing(null, found.facts.text) : sides(found.facts.text, found.facts.column);
    case "value.kept-as-text":
      return isUsualBlank(found.facts.text) ? missing(null, found.facts.text) : null;
    case "value.out-of-range":
      return found.facts.zero !== undefined && isShotColumn(found.facts.column) ? missing(found.facts.column, found.facts.zero) : null;
    default:
      return null;
  }
}

function missing(column: ShotColumn | null, text: string): Statement {
  return { title: `State that ${shown(text)} means missing${column === null ? "" : ` in ${column}`}`, says: { of: "missing", column, text }, byPerson: true };
}

/** A column mapped, unless it needs a unit, which its header does not tell. */
function mapping(column: string, header: string): Statement | null {
  if (!isShotColumn(column) || !isReadWithoutUnit(column)) return null;
  return { title: `Read ${column} from ${shown(header)}`, says: { of: "column", column, header }, byPerson: true };
}

/** The sides of a column where a number has a letter that is the first of one of its two directions. */
function sides(text: string, column: string): Statement | null {
  const { direction = null } = shotColumnFacts(column) ?? {};
  const letter = /^(?:(\p{L})\s*[\d.,]+|[\d.,]+\s*(\p{L}))$/u.exec(text);
  if (direction === null || letter === null || !isShotColumn(column)) return null;
  const [positive, negative] = direction.map((word) => word[0]!.toUpperCase()) as [string, string];
  if (![positive, negative].includes((letter[1] ?? letter[2])!.toUpperCase())) return null;
  const value = sideLetters(direction);
  return { title: `State that the letters ${value} tell the side of ${column}`, says: { of: "sides", column, value }, byPerson: true };
}

function copyFix(source: SourceFile, { path, places, digests }: SessionText): Fix {
  const name = correctedName(source.file, 1);
  return {
    title: `Use a corrected copy of ${shown(baseOf(source.file))}`,
    edits: [{ range: source.fileRange, text: JSON.stringify(name) }],
    file: path,
    byPerson: true,
    copyOf: { file: places.get(source.file) ?? source.file, digest: digests.get(source.file) ?? "", reading: readingOf(source) },
  };
}

/** How the session says that an export is read. */
export function readingOf(source: SourceFile): ReadOptions {
  return {
    ...(source.delimiter === null ? {} : { delimiter: source.delimiter }),
    ...(source.decimal === null ? {} : { decimal: source.decimal }),
    ...(source.shortRows === null ? {} : { shortRows: source.shortRows }),
    ...(source.duplicateHeaders === null ? {} : { duplicateHeaders: source.duplicateHeaders }),
    skipLines: source.skipLines,
  };
}

/**
 * The path of the n-th corrected copy of an export, beside it.
 *
 * @example correctedName("data/bay.csv", 2) // "data/bay.corrected-2.csv"
 */
export function correctedName(file: string, n: number): string {
  const base = baseOf(file);
  const folder = file.slice(0, file.length - base.length);
  const dot = base.lastIndexOf(".");
  const [stem, ending] = dot <= 0 ? [base, ""] : [base.slice(0, dot), base.slice(dot)];
  const plain = stem.replace(/\.corrected(?:-\d+)?$/u, "");
  return `${folder}${plain}.corrected${n === 1 ? "" : `-${n}`}${ending}`;
}

function baseOf(file: string): string {
  return file.slice(file.lastIndexOf("/") + 1);
}
