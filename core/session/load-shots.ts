import type { Limits } from "../limits";
import { defaultLimits } from "../limits";
import type { Checked, Problem } from "../problem";
import { problem } from "../problem";
import { fieldRange } from "../table/delimited-text";
import { joinColumns } from "../table/join-columns";
import { problemList } from "../table/problem-list";
import { shotColumnFacts, shotColumnNames } from "../table/shot-columns";
import type { Column, ColumnOrigin, Table, TextColumn } from "../table/table";
import { makeTable, takeRows, valueAt } from "../table/table";
import { textStart, type TextRange } from "../text-position";
import { checkRanges } from "./check-ranges";
import { deriveColumns } from "./derive-columns";
import { checkStatedHeads } from "./check-stated-heads";
import type { Draft } from "./draft";
import { fieldOf, reportWrongFields } from "./draft";
import type { ExportProfile } from "./export-profile";
import { exportProfile } from "./export-profile";
import type { ExportShots } from "./export-shots";
import { hittingOrder } from "./hitting-order";
import { identityColumns } from "./identity-columns";
import { justifiedByPart } from "./justified-by-part";
import { nameHeads } from "./name-heads";
import { numberShots, reportNumbers } from "./number-shots";
import { readExport } from "./read-export";
import { reportAssumptions } from "./report-assumptions";
import type { Session } from "./session";
import type { HeadBuild, SessionFacts, SetAsideValue } from "./session-facts";
import { applyCorrections, countSetAside, setValuesAside } from "./settle-values";
import { mirrorDirections, moveToReference } from "./turn-values";
import { rowsPutBack, valuesPutBack } from "./values-put-back";

/** The shots of a session, `null` where they cannot be had, with what is known of its exports in the order of its sources. */
export interface LoadedShots extends Checked<Table | null> {
  readonly exports: readonly ExportProfile[];
}

/**
 * The shots of a session in hitting order, in the units of its exports, and everything that is wrong with them.
 *
 * Columns are the shot columns that are there, in their usual order, then whatever else the exports have. A problem
 * with a `file` is in that export; one without is in the session's own text. A value that cannot be read is missing
 * and reported; a row is left out only when it is no shot, which is said. Corrections come first, then values are
 * set aside, then strikes are moved to their reference, directions mirrored if asked for, and columns derived.
 *
 * @param files the bytes of each export by the path that the session gives. Whoever reads the files says why one is
 *   not there.
 * @param wholeBytes the size of each export of which `files` has only the beginning: then only those problems are given
 *   that hold for the whole, and the shots are those of the beginning.
 * @returns a profile of each export beside the table, which is `null` when a file is not there, or holds nothing that can
 *   be read as rows under a header, or when all files together have more rows than the limit.
 */
export function loadShots(
  session: Session,
  files: ReadonlyMap<string, Uint8Array>,
  limits: Limits = defaultLimits,
  wholeBytes: ReadonlyMap<string, number> = new Map(),
): LoadedShots {
  const exports: ExportShots[] = [];
  for (const source of session.sources) {
    const bytes = files.get(source.file);
    const size = wholeBytes.get(source.file);
    if (bytes !== undefined) exports.push(readExport(source, size === undefined ? { bytes } : { bytes, wholeBytes: size }, session, limits));
  }
  const { value, problems } = shotsOf(session, exports, limits);
  const found = distinct(problems);
  return { value, problems: exports.some((shots) => shots.isPart) ? justifiedByPart(found) : found, exports: exports.map(exportProfile) };
}

/** The table of a session's exports as they were read. */
function shotsOf(session: Session, exports: readonly ExportShots[], limits: Limits): Checked<Table | null> {
  const problems = exports.flatMap((shots) => shots.problems);
  const complete = exports.length === session.sources.length && exports.length > 0;
  if (!complete || exports.some((shots) => shots.text.header.length === 0)) return { value: null, problems };
  const total = exports.reduce((sum, shots) => sum + shots.rows.length, 0);
  if (total > limits.rows) {
    const found = problem("csv.limit", { limit: "rows", most: limits.rows, got: total }, session.sources.at(-1)!.fileRange);
    return { value: null, problems: [...problems, found] };
  }
  const order = hittingOrder(exports, limits.problems);
  problems.push(...order.problems);
  const draft = beginDraft(exports, order.places);
  const own = draft.columns.get("shot");
  if (own?.kind === "number") problems.push(...reportNumbers(own, session, exports));
  const heads = headsOf(draft, session, limits.problems, problems);
  const setAside = setValuesAside(draft, session, problems);
  const list = problemList(limits.problems);
  reportWrongFields(draft, list);
  problems.push(...reportAssumptions(draft, session, heads?.builds ?? []));
  const kinds = heads === null ? [] : heads.builds.map((build) => build.kind);
  checkRanges(draft, session, kinds, list);
  problems.push(...list.listed());
  const headCodes = heads?.column.codes ?? new Int32Array(draft.rowCount).fill(-1);
  const back = setAside.length === 0 ? null : rowsPutBack(draft, setAside);
  bringIntoFrame(draft.columns, headCodes, heads?.builds ?? [], session);
  if (back !== null) bringIntoFrame(back.columns, back.rows.map((row) => headCodes[row]!), heads?.builds ?? [], session);
  const putBack = back === null ? null : valuesPutBack(back, draft.columns, draft.numbers.values);
  const inOrder = { codes: headCodes, builds: heads?.builds ?? [], orderKnown: order.known };
  for (const column of identityColumns(draft, session, inOrder, problems)) draft.columns.set(column.name, column);
  const columns = inUsualOrder(draft.columns, session);
  const facts = { ...factsOf(session, heads?.heads ?? [], draft.rowCount, order.known, setAside), origins: originsOf(columns) };
  const sessions = [putBack === null ? facts : { ...facts, putBack }];
  return { value: makeTable(columns, draft.rowCount, { sessions }), problems };
}

/** Moves strikes to their reference, mirrors directions if asked for, and adds the columns that follow from others. */
function bringIntoFrame(columns: Map<string, Column>, headCodes: Int32Array, builds: readonly HeadBuild[], session: Session): void {
  moveToReference(columns, headCodes, builds);
  if (isMirrored(session)) mirrorDirections(columns);
  for (const column of deriveColumns(columns, (row) => builds[headCodes[row]!]?.kind ?? null, session.centreZones)) columns.set(column.name, column);
}

function isMirrored({ player }: Session): boolean {
  return player.hand === "left" && player.mirror;
}

/** All exports under one another in hitting order; a file of one head has it in a column. */
export function beginDraft(exports: readonly ExportShots[], places: Int32Array | null): Draft {
  const parts = exports.map((shots) => ({
    rowCount: shots.rows.length,
    columns: [...(shots.source.head === null ? [] : [oneHead(shots.source.head, shots.rows.length)]), ...readColumns(shots)],
  }));
  const rowCount = parts.reduce((sum, part) => sum + part.rowCount, 0);
  const joined = joinColumns(parts);
  const columns = new Map(joined.map((column) => [column.name, places === null ? column : takeRows(column, places)]));
  const own = columns.get("shot");
  const numbers = numberShots(own?.kind === "number" ? own : undefined, rowCount);
  return { rowCount, numbers, columns, exports, places, settled: new Map() };
}

function readColumns(shots: ExportShots): Column[] {
  const columns = [...shots.columns.values()].map((read) => read.column);
  return shots.source.head === null ? columns : columns.filter((column) => column.name !== "head");
}

function oneHead(head: string, rowCount: number): TextColumn {
  return { kind: "text", name: "head", origin: "stated", codes: new Int32Array(rowCount), labels: [head] };
}

/** Corrects values, then names the heads; `null` when no column of the exports tells the head. */
function headsOf(draft: Draft, session: Session, mostProblems: number, problems: Problem[]): ReturnType<typeof nameHeads> | null {
  applyCorrections(draft, session, problems);
  const contradicted = problemList(mostProblems);
  checkStatedHeads(draft, session, contradicted);
  problems.push(...contradicted.listed());
  for (const shots of draft.exports) {
    if (shots.source.head === null && !shots.columns.has("head") && !session.columns.some((map) => map.column === "head"))
      problems.push(problem("session.no-head", { file: shots.source.file }, shots.source.fileRange));
  }
  const column = draft.columns.get("head");
  if (column?.kind !== "text") return null;
  const heads = nameHeads(column, session, (row) => {
    const field = fieldOf(draft, "head", row);
    if (field === null || field.shots.source.head !== null) {
      const stated = draft.columns.get("head");
      const source = session.sources.find((each) => stated !== undefined && each.head === valueAt(stated, row));
      return { range: source?.fileRange ?? textStart };
    }
    return { range: fieldRange(field.shots.text, field.shots.rows[field.row]!, field.read.index), file: field.shots.source.file };
  });
  problems.push(...heads.problems.filter((found) => !isBrokenField(found, draft.exports)));
  draft.columns.set("head", heads.column);
  const without = heads.column.codes.reduce((count, code) => (code < 0 ? count + 1 : count), 0);
  if (without > 0 && without < draft.rowCount)
    problems.push(problem("session.head-not-named", { shots: without, first: draft.numbers.values[heads.column.codes.indexOf(-1)]! }, textStart));
  return heads;
}

/** True for a head that is the text behind a quote which is never closed: that is said, and it is no name. */
function isBrokenField({ code, file, range }: Problem, exports: readonly ExportShots[]): boolean {
  if (code !== "session.unknown-head" || file === undefined) return false;
  const found = exports.find(({ source }) => source.file === file)?.problems ?? [];
  return found.some((each) => (each.code === "csv.unclosed-quote" || each.code === "csv.text-after-quote") && each.range.start.line === range.start.line && isIn(each.range.start.column, range));
}

function isIn(column: number, { start, end }: TextRange): boolean {
  return start.column <= column && column <= end.column;
}

/** Shot columns in their usual order, then the others; those that the monitor calculates are marked so. */
function inUsualOrder(columns: ReadonlyMap<string, Column>, session: Session): Column[] {
  const calculated = new Set<string>(session.calculated);
  const origin = (column: Column): ColumnOrigin => (column.origin === "measured" && calculated.has(column.name) ? "calculated" : column.origin);
  const usual = shotColumnNames.flatMap((name) => columns.get(name) ?? []);
  const others = [...columns.values()].filter((column) => shotColumnFacts(column.name) === undefined);
  return [...usual, ...others].map((column) => ({ ...column, origin: origin(column) }));
}

function originsOf(columns: readonly Column[]): Readonly<Record<string, ColumnOrigin>> {
  return Object.fromEntries(columns.flatMap(({ kind, name, origin }) => (kind === "number" ? [[name, origin]] : [])));
}

function factsOf(
  session: Session,
  heads: SessionFacts["heads"],
  shotCount: number,
  orderKnown: boolean,
  setAside: readonly SetAsideValue[],
): SessionFacts {
  return {
    name: session.name,
    file: "",
    date: session.date,
    synthetic: session.synthetic,
    player: session.player.name,
    hand: session.player.hand,
    mirrored: isMirrored(session),
    monitor: session.monitor,
    orderKnown,
    calculated: session.calculated,
    carryIs: session.carryIs,
    air: session.air,
    turf: session.turf,
    ball: session.ball.model,
    heads,
    shotCount,
    setAside: countSetAside(setAside),
    setAsideValues: setAside,
    corrections: session.corrections.map(({ shots, column, value, because }) => ({
      shots: shots.map(({ from, to }) => ({ from, to })),
      column,
      value,
      because,
    })),
    margins: session.margins,
    marginsUnread: session.marginsUnread,
    readingErrors: session.readingErrors,
    plausible: session.plausible,
    centreZones: session.centreZones,
    standardMisses: session.standardMisses,
  };
}

/** Without the repetitions that several exports under one map give. */
function distinct(problems: readonly Problem[]): readonly Problem[] {
  const seen = new Set<string>();
  return problems.filter((each) => {
    const key = JSON.stringify([each.code, each.file, each.range, each.message]);
    return !seen.has(key) && seen.add(key);
  });
}
