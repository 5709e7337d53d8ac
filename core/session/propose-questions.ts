import { isShotColumn, shotColumns } from "../table/shot-columns";
import { headKinds } from "./head-defaults";
import { headersForHeads } from "./propose-heads";
import { readPlan } from "./propose-plan";
import { planOf, sessionShots, shared, shotsText, spansOfText, spansText, without } from "./propose-shots";
import { sidesOfText } from "./propose-sides";
import type { ColumnAnswer, HeadAnswer, Question, SessionAnswers, SessionProposal } from "./session-proposal";
import { newHead } from "./propose-answers";

/** The heads that the answers name, in order: those of the column, the files or the plan, with what is said of them. */
export function headsNamed(proposal: SessionProposal, answers: SessionAnswers): readonly HeadAnswer[] {
  const column = answers.columns.find((each) => each.column === "head");
  const names =
    answers.headsFrom === "plan"
      ? readPlan(answers.plan, proposal.exports.map(({ file }) => file)).shots.map(({ head }) => head)
      : answers.headsFrom === "file"
        ? proposal.exports.flatMap(({ file }) => fileHead(answers, file) ?? [])
        : (proposal.heads[column?.header ?? ""] ?? []).map(({ name }) => name);
  return [...new Set([...names, ...answers.wrongHeads.map(({ value }) => value.trim()).filter((name) => name !== "")])].map((name) => answers.heads.find((head) => head.name === name) ?? newHead(name));
}

/** The answers with an entry for each head that they name, its kind `null` where it is still to be said. */
export function withHeadsNamed(proposal: SessionProposal, answers: SessionAnswers): SessionAnswers {
  const named = headsNamed(proposal, answers);
  return { ...answers, heads: [...named, ...answers.heads.filter(({ name }) => !named.some((head) => head.name === name))] };
}

/** The head that the answers give a file; `null` where they do not. */
export function fileHead({ fileHeads }: SessionAnswers, file: string): string | null {
  const head = Object.hasOwn(fileHeads, file) ? (fileHeads[file] ?? "").trim() : "";
  return head === "" ? null : head;
}

/** What has to be answered before the session can be written; empty when it can. */
export function openQuestions(proposal: SessionProposal, answers: SessionAnswers): readonly Question[] {
  const ask = (code: Question["code"], about: string | null, words: string, accepted: readonly string[] = []): Question => ({ code, about, words, accepted });
  const open: Question[] = [];
  if ((answers.session ?? "").trim() === "") open.push(ask("name", null, "What is the session called?"));
  for (const proposed of proposal.columns) {
    const answer = answers.columns.find(({ header }) => header === proposed.header);
    open.push(...(answer === undefined ? [] : askColumn(proposed.header, answer, answers.columns, [...proposed.columns, "keep"], proposed.units)));
  }
  open.push(...askHeads(proposal, answers));
  for (const { name, kind } of headsNamed(proposal, answers)) if (kind === null) open.push(ask("head kind", name, `What kind of head is ${name}?`, headKinds));
  open.push(...askOrder(proposal, answers));
  if (answers.hand === null) open.push(ask("hand", null, "Which hand does the player play with?", ["right", "left"]));
  if (answers.monitorPlace === null) open.push(ask("place", null, "Where was it measured?", ["indoor", "outdoor"]));
  if (answers.warmUp === null) open.push(ask("warm-up", null, "Which shots were warm-up? As 1-6, or none."));
  open.push(...askShots(proposal, answers));
  if (answers.carryIs === null && answers.columns.some(({ column }) => column === "carry")) open.push(ask("carry", null, "Is carry as played, or recalculated for standard air?", ["as played", "in standard air", "unknown"]));
  return open;
}

/** The orders that the answers' columns and the numbers of the exports allow. */
function askOrder(proposal: SessionProposal, answers: SessionAnswers): readonly Question[] {
  const shot = answers.columns.find(({ column }) => column === "shot")?.header;
  const numbered = shot !== undefined && proposal.exports.every(({ numbers }) => Object.hasOwn(numbers, shot));
  const spans = shot === undefined ? [] : proposal.exports.flatMap(({ numbers }) => numbers[shot]?.spans ?? []);
  const countsThrough = numbered && spans.every((span, at) => shared([span], spans.slice(0, at)).length === 0);
  const timed = answers.columns.some(({ column }) => column === "time");
  const accepted = [...(numbered ? ["shot"] : []), ...(countsThrough && proposal.exports.length > 1 ? ["session shot"] : []), ...(timed ? ["time"] : []), "file"];
  const { order } = answers;
  if (order === null) return [{ code: "order", about: null, words: "What tells which shot came first?", accepted }];
  if (accepted.includes(order) || (order === "session shot" && countsThrough)) return [];
  const why = order === "time" ? "no header holds times" : shot === undefined ? "no header holds shot numbers" : numbered ? `the numbers under ${shot} are there more than once` : `not every shot has a whole number of its own under ${shot}`;
  return [{ code: "order", about: null, words: `The order cannot be by ${order}: ${why}. What tells which shot came first?`, accepted }];
}

/** What is wrong with the shots that answers name: texts that name none, shots that are not there, shots with two heads or intents. */
function askShots(proposal: SessionProposal, answers: SessionAnswers): readonly Question[] {
  const all = sessionShots(proposal, answers);
  const ask = (code: Question["code"], words: string): Question => ({ code, about: null, words, accepted: [] });
  const wrong = (code: Question["code"], text: string): readonly Question[] => {
    const spans = spansOfText(text);
    if (spans === null) return [ask(code, `${JSON.stringify(text)} names no shots; write them as 1-6, 41.`)];
    const absent = all === null ? [] : without(spans, all.numbers);
    return absent.length === 0 ? [] : [ask(code, `No such shots: ${spansText(absent)}; there are ${spansText(all!.numbers)}.`)];
  };
  const warmUp = (answers.warmUp ?? "").trim();
  const remarks = [...(warmUp === "" ? [] : [{ code: "warm-up" as const, shots: warmUp, value: "warm-up" }]), ...answers.shaped.map((each) => ({ ...each, code: "shaped" as const }))];
  const corrected = answers.wrongHeads.map((each) => ({ ...each, code: "wrong heads" as const }));
  const nameless = [...answers.shaped.map(({ value }) => ({ code: "shaped" as const, value })), ...corrected].filter(({ value }) => value.trim() === "");
  const withPlan = answers.headsFrom === "plan" && corrected.length > 0 ? [ask("wrong heads", "The plan sheet says every shot's head; change it there.")] : [];
  return [...remarks, ...corrected].flatMap(({ code, shots }) => wrong(code, shots)).concat(nameless.map(({ code }) => ask(code, code === "shaped" ? "Shaped shots need a word for what was meant." : "Shots under a wrong head need their head.")), named(remarks), named(corrected), withPlan);
}

/** A question for the first shots that two entries name. */
function named(entries: readonly { readonly code: Question["code"]; readonly shots: string; readonly value: string }[]): readonly Question[] {
  const spans = entries.map((each) => ({ ...each, spans: spansOfText(each.shots) ?? [] }));
  for (const [at, { code, value, spans: own }] of spans.entries())
    for (const other of spans.slice(0, at)) {
      const twice = shared(own, other.spans);
      if (twice.length > 0) return [{ code, about: null, words: `${other.value} and ${value} are both said of ${shotsText(twice)}; which one?`, accepted: [] }];
    }
  return [];
}

function askColumn(header: string, { column, unit, sides, positive }: ColumnAnswer, all: readonly ColumnAnswer[], columns: readonly string[], units: SessionProposal["columns"][number]["units"]): readonly Question[] {
  if (column === null) return [{ code: "column", about: header, words: `What does ${header} hold?`, accepted: columns }];
  if (column === "keep") return [];
  const open: Question[] = [];
  if (all.some((other) => other.header !== header && other.column === column)) open.push({ code: "column twice", about: header, words: `${column} is read from several headers; which one holds it?`, accepted: all.filter((other) => other.column === column).map((other) => other.header) });
  const { quantity, direction } = shotColumns[column];
  if (quantity !== null && unit === null) open.push({ code: "unit", about: header, words: `In which unit is ${header}?`, accepted: units[column] ?? [] });
  if (direction !== null && sides !== null && sidesOfText(sides, direction) === null) open.push({ code: "column", about: header, words: `${sides} beside the numbers of ${header} does not tell ${direction.join(" from ")}; what does it hold?`, accepted: columns.filter((name) => name === "keep" || turned(name, sides)) });
  else if (direction !== null && column !== "back_spin" && sides === null && positive === null) open.push({ code: "direction", about: header, words: `Which direction do positive numbers of ${header} mean?`, accepted: direction });
  return open;
}

function turned(name: string, sides: string): boolean {
  const direction = isShotColumn(name) ? shotColumns[name].direction : null;
  return direction !== null && sidesOfText(sides, direction) !== null;
}

function askHeads(proposal: SessionProposal, answers: SessionAnswers): readonly Question[] {
  const isSaid = answers.columns.some((each) => each.column === "head");
  const headers = headersForHeads(proposal, answers);
  const [about = null] = headers;
  if (answers.headsFrom === null) return [{ code: "heads", about, words: about === null ? "What tells which head was hit?" : `What tells which head was hit? If the column ${headers.join(" or ")} does, its shot column is head.`, accepted: [...(isSaid || about !== null ? ["column"] : []), "file", "plan"] }];
  if (answers.headsFrom === "file")
    return proposal.exports.filter(({ file }) => fileHead(answers, file) === null).map(({ file }) => ({ code: "file head", about: file, words: `Which head was hit in ${file}?`, accepted: [] }));
  if (answers.headsFrom === "plan") {
    const { shots, wrong } = planOf(proposal, answers);
    const [first] = wrong;
    if (first !== undefined) return [{ code: "plan", about: null, words: first, accepted: ["Wren: 1-6", "Wren x 6"] }];
    return shots.length > 0 ? [] : [{ code: "plan", about: null, words: "Which head was hit when? A line for each, as Wren: 1-6, or Wren x 6.", accepted: [] }];
  }
  if (about !== null) return [{ code: "no heads", about, words: `No shot column is head. Is ${headers.join(" or ")}, or what else tells which head was hit?`, accepted: ["file", "plan"] }];
  if (headsNamed(proposal, answers).length === 0) return [{ code: "no heads", about: null, words: "No header holds the names of heads; what tells which head was hit?", accepted: ["file", "plan"] }];
  return [];
}
