import { hasError, type Checked } from "../problem";
import { starterNotebook } from "../notebook/starter-notebook";
import { shotColumns, type ShotColumn } from "../table/shot-columns";
import { sideLetters } from "../table/side-letters";
import { units, unitSystems, type Unit, type UnitSystem } from "../units";
import { fileHead, headsNamed, openQuestions } from "./propose-questions";
import { plannedHead, planOf, spansOfText, spansText } from "./propose-shots";
import { sidesOfText } from "./propose-sides";
import { readSession } from "./read-session";
import type { ColumnAnswer, HeadAnswer, SessionAnswers, SessionProposal } from "./session-proposal";

/** The texts of a session file and of a notebook that begins with it. */
export interface NewTexts {
  readonly session: string;
  readonly notebook: string;
}

/**
 * Returns the session file and the starter notebook that the answers make: the same answers, the same bytes.
 *
 * @param path the session file from the folder of the notebook; beside it by default.
 * @returns `null` while a question is open, and where the session would be read with errors, which are the problems.
 */
export function writeNewSession(proposal: SessionProposal, answers: SessionAnswers, path = `${answers.session ?? "session"}.session.yaml`): Checked<NewTexts | null> {
  if (openQuestions(proposal, answers).length > 0) return { value: null, problems: [] };
  const session = sessionText(proposal, answers);
  const { value, problems } = readSession(session);
  if (value === null || hasError(problems)) return { value: null, problems };
  const columns = answers.columns.flatMap(({ column }) => (column === null || column === "keep" ? [] : [column]));
  const present = columns.filter((column) => proposal.columns.some(({ header, present: count }) => count > 0 && answers.columns.some((each) => each.header === header && each.column === column)));
  return { value: { session, notebook: starterNotebook({ title: answers.session ?? "", sessionPath: path, columns: present, headCount: headsNamed(proposal, answers).length, units: unitsOf(proposal, answers) }) }, problems };
}

/** Units in metres, where every distance and speed that the export states or the answers name is metric; else the usual ones. */
function unitsOf(proposal: SessionProposal, answers: SessionAnswers): UnitSystem {
  const stated = answers.columns.map(({ header, column, unit }) => (column === null || column === "keep" ? proposal.columns.find((each) => each.header === header)?.statedUnit : unit) ?? null);
  const found = new Set(stated.filter((unit): unit is Unit => unit !== null && ["speed", "distance", "height"].includes(units[unit].quantity)));
  const areMetric = [...found].every((unit) => unit === "m" || unit === "km/h" || unit === "m/s");
  if (found.size === 0 || !areMetric) return unitSystems[0]!;
  return found.has("m/s") && !found.has("km/h") ? "m-ms" : "m-kmh";
}

/** Text that YAML reads as itself: quoted unless it is plainly a word. */
function quoted(text: string): string {
  const isPlain = /^[A-Za-z][\w./-]*(?: [\w./()-]+)*$/u.test(text) && !/^(?:true|false|null|yes|no|on|off|y|n)$/iu.test(text);
  return isPlain ? text : JSON.stringify(text);
}

function flow(entries: readonly (readonly [string, string])[]): string {
  const there = entries.filter(([, value]) => value !== "");
  return `{ ${there.map(([key, value]) => `${key}: ${value}`).join(", ")} }`;
}

const textOf = (text: string): string => (text.trim() === "" ? "" : quoted(text.trim()));

function sessionText(proposal: SessionProposal, answers: SessionAnswers): string {
  const air = [["temperature", textOf(answers.temperature)], ["pressure", textOf(answers.pressure)], ["humidity", textOf(answers.humidity)], ["altitude", textOf(answers.altitude)]] as const;
  const heads = headsNamed(proposal, answers);
  const block = (key: string, lines: readonly string[]): readonly string[] => (lines.length === 0 ? [] : ["", `${key}:`, ...lines.map((line) => `  ${line}`)]);
  const remarks = [...((answers.warmUp ?? "").trim() === "" ? [] : [{ shots: answers.warmUp!, value: "warm-up" }]), ...answers.shaped];
  const lines = [
    `session: ${quoted((answers.session ?? "").trim())}`,
    answers.date.trim() === "" ? "# date: YYYY-MM-DD" : `date: ${answers.date.trim()}`,
    ...block("sources", sourceLines(proposal, answers)),
    ...(proposal.missing.length === 0 ? [] : [`missing: [${proposal.missing.map((text) => JSON.stringify(text)).join(", ")}]`]),
    "",
    `player: ${flow([["name", textOf(answers.player)], ["hand", answers.hand ?? ""]])}`,
    `monitor: ${flow([["kind", textOf(answers.monitorKind)], ["place", answers.monitorPlace ?? ""]])}`,
    ...(answers.calculated.length === 0 ? [] : [`calculated: [${answers.calculated.join(", ")}]`]),
    ...(answers.carryIs === null ? [] : [`carry_is: ${answers.carryIs}`]),
    ...block("columns", answers.columns.flatMap((each) => columnLine(each, answers).map((line) => withComment(line, assumedOf(each, proposal))))),
    "",
    air.every(([, value]) => value === "") ? "# air: { temperature: …, pressure: …, humidity: … }" : `air: ${flow(air)}`,
    ...(answers.ball.trim() === "" ? [] : [`ball: ${quoted(answers.ball.trim())}`]),
    ...block("heads", [
      ...(answers.columns.some(({ column }) => column === "strike_x" || column === "strike_y") ? ["# Strikes count from where a centred strike usually lies on such heads; strike_reference: { x: …, y: … } states it."] : []),
      ...heads.map((head) => withComment(headLine(head), head.loft.trim() === "" ? "loft to be filled in" : "")),
    ]),
    ...block("shots", remarks.map(({ shots, value }) => `- ${flow([["shots", shotList(shots)], ["intent", quoted(value.trim())]])}`)),
    ...block("corrections", correctionLines(proposal, answers)),
  ];
  return `${lines.join("\n")}\n`;
}

function sourceLines(proposal: SessionProposal, answers: SessionAnswers): readonly string[] {
  const plan = answers.headsFrom === "plan" ? planOf(proposal, answers) : null;
  return proposal.exports.map(({ file, delimiter, decimal, skipLines, duplicateHeaders }) => {
    const head = answers.headsFrom === "file" ? fileHead(answers, file) : plan === null ? null : plannedHead(plan, file);
    return `- ${flow([
      ["file", quoted(file)],
      ["head", head === null ? "" : quoted(head)],
      ["order", answers.order ?? ""],
      ["delimiter", delimiter === "comma" ? "" : delimiter],
      ["decimal", decimal === "," ? '","' : ""],
      ["skip_lines", skipLines === 0 ? "" : String(skipLines)],
      ["duplicate_headers", duplicateHeaders ? "number" : ""],
    ])}`;
  });
}

function columnLine({ header, column, unit, sides, positive }: ColumnAnswer, { headsFrom }: SessionAnswers): readonly string[] {
  if (column === null || column === "keep" || (column === "head" && headsFrom !== "column")) return [];
  const { quantity, direction } = shotColumns[column];
  const rest: (readonly [string, string])[] = [];
  if (quantity !== null && unit !== null) rest.push(["unit", unit]);
  const written = direction === null || sides === null ? null : sidesOfText(sides, direction);
  if (direction !== null && written !== null) rest.push(["sides", sides === sideLetters(direction) ? sides : flow([[direction[0], JSON.stringify(written.positive)], [direction[1], JSON.stringify(written.negative)]])]);
  else if (direction !== null && positive !== null && saysDirection(column)) rest.push(["positive", positive]);
  return [`${column}: ${rest.length === 0 ? quoted(header) : flow([["from", quoted(header)], ...rest])}`];
}

/** What nobody stated of a column and its numbers only make likely; empty for nothing. */
function assumedOf({ header, column, unit, positive }: ColumnAnswer, proposal: SessionProposal): string {
  const proposed = proposal.columns.find((each) => each.header === header);
  if (proposed?.certainty !== "likely" || column === "keep" || proposed.column !== column) return "";
  if (proposed.statedUnit === null && unit !== null && proposed.unit === unit) return "unit assumed";
  return positive !== null && proposed.positive === positive ? "direction assumed" : "";
}

function withComment(line: string, comment: string): string {
  return comment === "" ? line : `${line}  # ${comment}`;
}

function saysDirection(column: ShotColumn): boolean {
  return column !== "back_spin";
}

function headLine({ name, kind, design, set, club, loft, lie, length, shaft }: HeadAnswer): string {
  return `${quoted(name)}: ${flow([["kind", kind ?? ""], ["design", textOf(design)], ["set", textOf(set)], ["club", textOf(club)], ["loft", textOf(loft)], ["lie", textOf(lie)], ["length", textOf(length)], ["shaft", textOf(shaft)]])}`;
}

function shotList(shots: string): string {
  const spans = spansOfText(shots) ?? [];
  return spans.length === 1 ? spansText(spans) : `[${spansText(spans)}]`;
}

function correctionLines(proposal: SessionProposal, answers: SessionAnswers): readonly string[] {
  const plan = answers.headsFrom === "plan" ? planOf(proposal, answers) : { shots: [], wrong: [] };
  const line = (shots: string, head: string, because: string): string => `- ${flow([["shots", shots], ["column", "head"], ["value", quoted(head)], ["because", because]])}`;
  return [
    ...plan.shots.filter(({ head, file }) => head !== plannedHead(plan, file ?? "")).flatMap(({ head, spans }) => spans.map((span) => line(spansText([span]), head, "the plan sheet says so"))),
    ...answers.wrongHeads.map(({ shots, value }) => line(shotList(shots), value.trim(), "another head was selected in the export")),
  ];
}
