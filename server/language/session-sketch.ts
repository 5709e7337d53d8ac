import type { FilePort } from "../../core/file-port";
import { defaultLimits } from "../../core/limits";
import { folderOf, resolvePath } from "../../core/path";
import { profileOf, type ColumnCounts, type ProfiledSession } from "../../core/profile-loader";
import { loadSession } from "../../core/session-loader";
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
  const text = read.ok ? decodeText(read.bytes).value : null;
  const session = text === null ? null : readSession(text).value;
  const exports = session === null ? new Map<string, Uint8Array>() : exportsOf(session, folderOf(path));
  const made = await loadSession(
    path,
    {
      list: () => Promise.resolve([]),
      read: (place) => {
        const bytes = exports.get(place);
        if (place === path || bytes === undefined) return Promise.resolve(place === path ? read : { ok: false, reason: "missing" });
        return Promise.resolve({ ok: true, bytes, digest: "", size: bytes.length + 1 });
      },
    },
    { limits: defaultLimits, exportBytes: Number.MAX_SAFE_INTEGER },
  );
  return withHeads({ ...profileOf(made), exports: [] });
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

/** The heads that a session describes are offered, though its exports may hold others. */
function withHeads(profile: ProfiledSession): ProfiledSession {
  const { table, counts } = profile;
  if (table === null || counts === null) return profile;
  const columns = counts.columns.map((each, index) => {
    const column = table.columns[index]!;
    return column.kind === "text" && column.name === "head" ? { ...each, distinct: column.labels } : each;
  });
  return { ...profile, counts: { ...counts, columns } };
}

/** Small exports that have every header that a session maps, and a shot of each head, by their places. */
function exportsOf(session: Session, folder: string): ReadonlyMap<string, Uint8Array> {
  return new Map(
    session.sources.flatMap((source) => {
      const { value: place } = resolvePath(folder, source.file);
      return place === null ? [] : [[place, new TextEncoder().encode(exportText(session, source))] as const];
    }),
  );
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
