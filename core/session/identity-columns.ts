import type { Problem } from "../problem";
import type { Column, NumberColumn, TextColumn } from "../table/table";
import { textColumn } from "../table/table";
import { countStints } from "./count-stints";
import type { Draft } from "./draft";
import type { Session, ShotRemark } from "./session";
import type { HeadBuild } from "./session-facts";
import { rowsOfShots } from "./settle-values";

/** The head of each shot as a code into the builds, and whether the shots are known to be in hitting order. */
export interface HeadsInOrder {
  readonly codes: Int32Array;
  readonly builds: readonly HeadBuild[];
  readonly orderKnown: boolean;
}

/**
 * What identifies a shot, beside its head: session, number, set, player, ball, stint, pass, intent and note.
 *
 * Where the shots do not go by the export's own numbers, those are kept under their header. `stint` and `pass` are missing where the order is not known or no head is.
 */
export function identityColumns(
  draft: Draft,
  session: Session,
  { codes, builds, orderKnown }: HeadsInOrder,
  problems: Problem[],
): readonly Column[] {
  const { rowCount, columns } = draft;
  const found: Column[] = [sameText("session", session.name, rowCount)];
  const { values: numbers, fromExport } = draft.numbers;
  const own = columns.get("shot");
  if (own?.kind === "number" && !fromExport) found.push(keptNumbers(draft, own));
  found.push({ kind: "number", name: "shot", unit: null, origin: fromExport ? "measured" : "derived", values: numbers });
  if (builds.some((build) => build.set !== undefined) && !columns.has("set")) {
    const inSet = codes.map((code) => (builds[code]?.set === undefined ? -1 : code));
    found.push(distinctLabels("set", inSet, builds.map((build) => build.set ?? "")));
  }
  if (session.player.name !== null && !columns.has("player")) found.push(sameText("player", session.player.name, rowCount));
  if (session.ball.model !== null && !columns.has("ball")) found.push(sameText("ball", session.ball.model, rowCount));
  const breaks = new Set(rowsOfShots(session.breaks, draft, problems));
  const { stints, passes } = countStints(codes, (row) => breaks.has(row));
  const counted = orderKnown && builds.length > 0;
  found.push({ kind: "number", name: "stint", unit: null, origin: "derived", values: counted ? stints : stints.fill(Number.NaN) });
  found.push({ kind: "number", name: "pass", unit: null, origin: "derived", values: counted ? passes : passes.fill(Number.NaN) });
  found.push(remarked("intent", "stock", draft, session.shots, problems)!);
  const notes = remarked("note", null, draft, session.shots, problems);
  if (notes !== null) found.push(notes);
  return found;
}

function sameText(name: string, label: string, rowCount: number): TextColumn {
  return { kind: "text", name, origin: "stated", codes: new Int32Array(rowCount), labels: [label] };
}

/** The export's own shot numbers under their header, or under that with `(export)` where it is taken. */
function keptNumbers(draft: Draft, own: NumberColumn): NumberColumn {
  const read = draft.exports.map((shots) => shots.columns.get("shot")).find((column) => column !== undefined)!;
  const header = draft.exports.find((shots) => shots.columns.has("shot"))!.text.header[read.index]!.name;
  let name = header;
  while (name === "shot" || draft.columns.has(name)) name = `${name} (export)`;
  return { ...own, name };
}

/** A text column of the given codes; labels that are the same text become one. */
function distinctLabels(name: string, codes: Int32Array, labels: readonly string[]): TextColumn {
  const distinct = [...new Set([...new Set(codes)].sort((a, b) => a - b).flatMap((code) => (code < 0 ? [] : [labels[code]!])))];
  return { kind: "text", name, origin: "stated", codes: codes.map((code) => (code < 0 ? -1 : distinct.indexOf(labels[code]!))), labels: distinct };
}

/** What the session says of shots, over what the export says, over the default; `null` when nobody says anything. */
function remarked(name: "intent" | "note", otherwise: string | null, draft: Draft, remarks: readonly ShotRemark[], problems: Problem[]): TextColumn | null {
  const given = draft.columns.get(name);
  const stated = remarks.filter((remark) => remark[name] !== null);
  if (otherwise === null && stated.length === 0) return null;
  const base: TextColumn = given?.kind === "text" ? given : textColumn(name, [], "stated");
  const labels = [...base.labels];
  const codeOf = (label: string): number => {
    const at = labels.indexOf(label);
    return at < 0 ? labels.push(label) - 1 : at;
  };
  const start = otherwise === null ? -1 : codeOf(otherwise);
  const codes = new Int32Array(draft.rowCount).fill(start);
  base.codes.forEach((code, row) => {
    if (code >= 0) codes[row] = code;
  });
  for (const remark of stated) for (const row of rowsOfShots(remark.shots, draft, problems)) codes[row] = codeOf(remark[name]!);
  return { kind: "text", name, origin: "stated", codes, labels };
}
