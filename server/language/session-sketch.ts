import { contentKey } from "../../core/content-key";
import type { FilePort } from "../../core/file-port";
import { defaultLimits } from "../../core/limits";
import { profileOf, type ColumnCounts, type ProfiledSession } from "../../core/profile-loader";
import { loadShots } from "../../core/session/load-shots";
import { readSession } from "../../core/session/read-session";
import type { Session, SourceFile } from "../../core/session/session";
import { decodeText } from "../../core/table/decode-text";
import { shotColumns } from "../../core/table/shot-columns";
import type { Column } from "../../core/table/table";

/**
 * What the text of a session file tells of its shots, whatever its exports hold: the columns that it maps, in the units
 * that it states, what follows from them, and the heads that it describes. Of the exports nothing is said, and none is read.
 *
 * @returns a profile as of the beginning of longer exports: without counts, ranges and values, but for the heads. Its
 *   problems are of no use.
 */
export async function sketchSession(path: string, files: FilePort): Promise<ProfiledSession> {
  const read = await files.read(path);
  const nothing: ProfiledSession = { path, table: null, counts: null, problems: [], exports: [], key: "", fault: null, inputs: [{ path, digest: null }] };
  if (!read.ok) return { ...nothing, fault: read.reason };
  const known: ProfiledSession = { ...nothing, key: contentKey("sketch", read.digest), inputs: [{ path, digest: read.digest }] };
  const text = read.bytes.length > defaultLimits.notebookText ? null : decodeText(read.bytes).value;
  const session = text === null ? null : readSession(text).value;
  if (session === null) return known;
  const exports = exportsOf(session);
  const { value: table } = loadShots(session, exports, defaultLimits, new Map([...exports].map(([file, bytes]) => [file, bytes.length + 1])));
  if (table === null) return known;
  return asSketch(profileOf({ ...known, table: { ...table, sessions: table.sessions.map((facts) => ({ ...facts, file: path })) } }));
}

/**
 * A sketch with what was known of the session before: its columns as they were known, but for those that the text maps
 * in another way since, and those that it maps now; the heads are those that it describes where they are others. Ranges and
 * counts are known while no column is another.
 */
export function withKnown(sketch: ProfiledSession, before: ProfiledSession): ProfiledSession {
  if (sketch.table === null || sketch.counts === null) return before;
  if (before.table === null || before.counts === null) return sketch;
  const known = piecesOf(before);
  const drawn = piecesOf(sketch);
  const [facts, drawnFacts] = [before.table.sessions[0]!, sketch.table.sessions[0]!];
  const areHeadsAlike = JSON.stringify(facts.heads) === JSON.stringify(drawnFacts.heads);
  const others = [...drawn].filter(([name, { column }]) => !isAlike(known.get(name)?.column, column) || (name === "head" && !areHeadsAlike));
  if (others.length === 0) return before;
  const pieces = [...new Map([...known, ...others]).values()];
  return {
    ...before,
    table: {
      ...before.table,
      columns: pieces.map(({ column }) => column),
      sessions: [{ ...facts, heads: drawnFacts.heads, origins: { ...drawnFacts.origins, ...facts.origins } }],
    },
    counts: { ...before.counts, isPart: true, columns: pieces.map(({ counts }) => counts) },
  };
}

/** A column with what is known of it. */
interface Piece {
  readonly column: Column;
  readonly counts: ColumnCounts;
}

function piecesOf({ table, counts }: ProfiledSession): ReadonlyMap<string, Piece> {
  return new Map(table?.columns.map((column, index) => [column.name, { column, counts: counts!.columns[index]! }]));
}

function isAlike(before: Column | undefined, now: Column): boolean {
  if (before === undefined || before.kind !== now.kind) return false;
  return before.kind !== "number" || now.kind !== "number" || before.unit === now.unit;
}

/** A profile of which nothing is told but its columns, and the heads that the session describes, though its exports may hold others. */
function asSketch(profile: ProfiledSession): ProfiledSession {
  const columns = profile.table!.columns.map((column): ColumnCounts => ({ missing: 0, ...(column.kind === "text" && column.name === "head" ? { distinct: column.labels } : {}) }));
  return { ...profile, counts: { rowCount: 0, isPart: true, columns } };
}

/** Small exports that have every header that a session maps, and a shot of each head, by their paths as the session gives them. */
function exportsOf(session: Session): ReadonlyMap<string, Uint8Array> {
  return new Map(session.sources.map((source) => [source.file, new TextEncoder().encode(exportText(session, source))]));
}

function exportText({ columns, heads }: Session, { delimiter, skipLines }: SourceFile): string {
  const maps = columns.length > 0 ? columns : [{ header: "shot", column: "shot" } as const];
  const rows = (heads.length > 0 ? heads.map(({ name }) => name) : [""]).map((head, index) =>
    maps.map(({ column }) => (column === "head" ? head : column === "shot" ? String(index + 1) : shotColumns[column].kind === "number" ? "1" : "")),
  );
  const quoted = (field: string): string => `"${field.replaceAll('"', '""')}"`;
  const lines = [maps.map(({ header }) => header), ...rows].map((fields) => `${fields.map(quoted).join(delimiter ?? ",")}\n`);
  return "\n".repeat(skipLines) + lines.join("");
}
