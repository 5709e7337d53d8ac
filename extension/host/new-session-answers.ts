import type { FormValues, OpenItem } from "../../core/present/form-message";
import { sideTexts, type ColumnRole, type HeadAnswer, type SessionAnswers, type SessionProposal, type ShotsAnswer } from "../../core/session/new-session";
import { shotColumns, type ShotColumn } from "../../core/table/shot-columns";
import { units, type Unit } from "../../core/units";
import { headRows, lineKeys } from "./new-session-form";

/** The answers that a form holds, and what in it cannot be read. A value that no list of the form has is no answer. */
export function answersOf(proposal: SessionProposal, values: FormValues): { readonly value: SessionAnswers; readonly open: readonly OpenItem[] } {
  const open: OpenItem[] = [];
  const text = (id: string): string => (values[id] ?? "").trim();
  const oneOf = <T extends string>(id: string, ...accepted: readonly T[]): T | null => accepted.find((each) => each === text(id)) ?? null;
  const ranges = (id: string): ShotsAnswer[] =>
    text(id)
      .split("\n")
      .filter((each) => each.trim() !== "")
      .flatMap((each) => {
        const [, shots, value] = /^\s*([\d\s,-]+?)\s*:\s*(.+?)\s*$/u.exec(each) ?? [];
        if (shots !== undefined && value !== undefined) return [{ shots, value }];
        open.push({ text: `"${each.trim()}" is no line of shots, a colon and a word, as 20-25: draw.`, field: id });
        return [];
      });
  const named = text("calculated").split(",").map((each) => each.trim()).filter((each) => each !== "");
  const calculated = named.filter((each) => isShotColumn(each));
  const unknown = named.find((each) => !isShotColumn(each));
  if (unknown !== undefined) open.push({ text: `"${unknown}" is no shot column; write names as carry, total, with commas between.`, field: "calculated" });
  const plain = Object.fromEntries(lineKeys.map((key) => [key, text(key)])) as Record<(typeof lineKeys)[number], string>;
  const warmUp = text("warm-up");
  const value: SessionAnswers = {
    ...plain,
    session: plain.session === "" ? null : plain.session,
    hand: oneOf("hand", "right", "left"),
    monitorPlace: oneOf("place", "indoor", "outdoor"),
    columns: proposal.columns.map(({ header, sides }, index) => ({ header, sides: sides === null ? null : (oneOf(`sides-${index}`, ...sideTexts.map((each) => each.text)) ?? sides), column: roleOf(text(`column-${index}`)), unit: unitOf(text(`unit-${index}`)), positive: text(`positive-${index}`) || null })),
    headsFrom: oneOf("heads-from", "column", "file", "plan"),
    fileHeads: Object.fromEntries(proposal.exports.map(({ file }, index) => [file, text(`file-head-${index}`)]).filter(([, head]) => head !== "")),
    plan: text("plan"),
    heads: Array.from({ length: headRows(proposal) }, (_, row) => headOf(row, text)).filter(({ name }) => name !== ""),
    order: oneOf("order", "shot", "time", "file", "session shot"),
    wrongHeads: ranges("wrong-heads"),
    warmUp: warmUp === "" ? null : warmUp.toLowerCase() === "none" ? "" : warmUp,
    shaped: ranges("shaped"),
    carryIs: oneOf("carry", "as played", "in standard air", "unknown"),
    calculated,
  };
  return { value, open };
}

function headOf(row: number, text: (id: string) => string): HeadAnswer {
  const of = (key: string): string => text(`head-${row}-${key}`);
  const kind = of("kind");
  return {
    name: of("name"),
    kind: kind === "iron" || kind === "wedge" || kind === "wood" ? kind : null,
    design: of("design"),
    set: of("set"),
    club: of("club"),
    loft: of("loft"),
    lie: of("lie"),
    length: of("length"),
    shaft: of("shaft"),
  };
}

function isShotColumn(text: string): text is ShotColumn {
  return Object.hasOwn(shotColumns, text);
}

function roleOf(text: string): ColumnRole | null {
  return text === "keep" || isShotColumn(text) ? text : null;
}

function unitOf(text: string): Unit | null {
  return Object.hasOwn(units, text) ? (text as Unit) : null;
}
