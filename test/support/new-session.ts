import { expect } from "vitest";
import { defaultLimits } from "../../core/limits";
import { loadShots } from "../../core/session/load-shots";
import { firstAnswers, openQuestions, proposeSession, writeNewSession, type ColumnAnswer, type GivenExport, type HeadAnswer, type Question, type SessionAnswers, type SessionProposal } from "../../core/session/new-session";
import { readSession } from "../../core/session/read-session";
import type { Session } from "../../core/session/session";
import type { Table } from "../../core/table/table";
import { encodeUtf8 } from "../../core/table/utf8";
import type { Unit } from "../../core/units";

/** What one export is proposed to be. */
export function proposedFrom(text: string | Uint8Array, file = "odd.csv"): SessionProposal {
  return proposeSession([exportOf(text, file)], defaultLimits).value;
}

/** An export by its text. */
export function exportOf(text: string | Uint8Array, file = "odd.csv"): GivenExport {
  return { file, bytes: typeof text === "string" ? encodeUtf8(text) : text };
}

/** The answers with every open question answered by what it accepts, question by question; irons, and nothing but `given` besides. */
export function answered(proposal: SessionProposal, given: Partial<SessionAnswers> = {}): SessionAnswers {
  let answers: SessionAnswers = { ...firstAnswers(proposal), ...given };
  for (let round = 0; round < 200; round++) {
    const [open] = openQuestions(proposal, answers);
    if (open === undefined) return answers;
    answers = withAnswer(proposal, answers, open);
  }
  throw new Error(`still open: ${openQuestions(proposal, answers).map(({ words }) => words).join("; ")}`);
}

function withAnswer(proposal: SessionProposal, answers: SessionAnswers, { code, about, accepted, words }: Question): SessionAnswers {
  const column = (changed: Partial<ColumnAnswer>, header = about): SessionAnswers => ({ ...answers, columns: answers.columns.map((each) => (each.header === header ? { ...each, ...changed } : each)) });
  const head = (changed: Partial<HeadAnswer>): SessionAnswers => {
    const known = answers.heads.find(({ name }) => name === about) ?? { name: about ?? "", kind: null, design: "", set: "", club: "", loft: "", lie: "", length: "", shaft: "" };
    return { ...answers, heads: [...answers.heads.filter(({ name }) => name !== about), { ...known, ...changed }] };
  };
  const [first] = accepted;
  switch (code) {
    case "name":
      return { ...answers, session: "one" };
    case "column": {
      const used = new Set(answers.columns.map((each) => each.column));
      return column({ column: (accepted.find((each) => each === "keep" || !used.has(each as ColumnAnswer["column"])) ?? "keep") as ColumnAnswer["column"] });
    }
    case "column twice":
      return column({ column: "keep" });
    case "unit":
      return first === undefined ? column({ column: "keep" }) : column({ unit: first as Unit });
    case "direction":
      return column({ positive: first! });
    case "heads":
    case "no heads":
      return { ...answers, headsFrom: first as "column" | "file" | "plan" };
    case "file head":
      return { ...answers, fileHeads: { ...answers.fileHeads, [about!]: "Wren" } };
    case "plan":
      return { ...answers, plan: `Wren x ${proposal.exports.reduce((sum, { shotCount }) => sum + shotCount, 0)}` };
    case "head kind":
      return head({ kind: "iron" });
    case "order":
      return { ...answers, order: "file" };
    case "hand":
      return { ...answers, hand: "right" };
    case "place":
      return { ...answers, monitorPlace: "indoor" };
    case "warm-up":
      return { ...answers, warmUp: "" };
    case "carry":
      return { ...answers, carryIs: "as played" };
    default:
      throw new Error(`no answer to ${words}`);
  }
}

/** A session that was written, read and loaded with its exports. */
export interface LoadedNew {
  readonly text: string;
  readonly notebook: string;
  readonly session: Session;
  readonly table: Table;
}

/** Expects that the answers make a session that loads without errors and with every shot, and returns it. */
export function checkLoads(exports: readonly GivenExport[], given: Partial<SessionAnswers> = {}): LoadedNew {
  const proposal = proposeSession(exports, defaultLimits).value;
  const answers = answered(proposal, given);
  const { value, problems: wrong } = writeNewSession(proposal, answers);
  expect(wrong.filter(({ severity }) => severity === "error").map(({ message }) => message)).toEqual([]);
  const session = readSession(value!.session).value!;
  const { value: table, problems } = loadShots(session, new Map(exports.map(({ file, bytes }) => [file, bytes])));
  expect(problems.filter(({ severity }) => severity === "error").map(({ message, file }) => `${file ?? "session"}: ${message}`)).toEqual([]);
  expect(table?.rowCount).toBe(proposal.exports.reduce((sum, { shotCount }) => sum + shotCount, 0));
  return { text: value!.session, notebook: value!.notebook, session, table: table! };
}
