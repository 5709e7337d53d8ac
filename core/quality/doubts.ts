import type { Table } from "../table/table";
import { findColumn } from "../table/table";
import type { ShotColumn } from "../table/shot-columns";
import { shotColumnNames } from "../table/shot-columns";
import type { ChannelBias } from "./channel-bias";
import { channelBiases, partOfSession, silentOnParts } from "./channel-bias";
import { inWords, sentence } from "./evidence";
import type { Finding, MisreadRule } from "./rule";
import { misreadRules } from "./rules";
import type { SessionReadings } from "./session-readings";
import { readingsOf } from "./session-readings";
import type { DoubtedStretch, Doubts, Suspect } from "./suspect";

/** What a long computation is given: a place to be interrupted, and a seed for what draws random numbers. */
export interface DoubtContext {
  readonly checkpoint: () => void;
  readonly seed: number;
}

/** One finding with the rule that made it. */
export interface RuleFinding {
  readonly finding: Finding;
  readonly rule: string;
  /** The rule's place in the table of rules. */
  readonly place: number;
}

const usualContext: DoubtContext = { checkpoint: () => undefined, seed: 1 };

const known = new WeakMap<Table, { readonly seed: number; readonly doubts: Doubts }>();

/**
 * What all rules say of the readings in a table, session by session; empty for a table whose rows are not shots.
 *
 * One suspect for each doubted value: the strongest doubt decides, the sentences of other rules follow it. Where more
 * than a third of a head's values of a column are doubted, the column as a whole is, in a sentence, and its values are not
 * listed: medians no longer tell which of them are right. Pure, and remembered for as long as the table is.
 */
export function doubtsOf(table: Table, context: DoubtContext = usualContext): Doubts {
  const before = known.get(table);
  if (before?.seed === context.seed) return before.doubts;
  const doubts = doubtsOfSessions(readingsOf(table), context);
  known.set(table, { seed: context.seed, doubts });
  return doubts;
}

function doubtsOfSessions(sessions: readonly SessionReadings[], context: DoubtContext): Doubts {
  const suspects: Suspect[] = [];
  const stretches: DoubtedStretch[] = [];
  const said = new Map<string, string[]>();
  for (const readings of sessions) {
    const { findings, sentences } = applyRules(readings, misreadRules, context);
    context.checkpoint();
    const biases = channelBiases(readings, context.seed, context.checkpoint);
    stretches.push(...biases.map((bias) => stretchOf(readings, bias)));
    // A stretch explains why a column contradicts the rest so often: its values are listed.
    const isExplained = ({ finding }: RuleFinding): boolean => biases.some((bias) => bias.findings.length > 0 && bias.column === finding.column && finding.at >= bias.from && finding.at <= bias.to);
    const { kept, refused } = refuseChannels(readings, findings.filter((found) => !isExplained(found)));
    const ofStretches = biases.flatMap((bias) => bias.findings.map((finding) => ({ finding, rule: partOfSession, place: misreadRules.length })));
    suspects.push(...joinFindings(readings, [...kept, ...findings.filter(isExplained), ...ofStretches]));
    for (const sentence of new Set([...refused, ...sentences, ...[silentOnParts(readings)].filter((reason) => reason !== null)])) said.set(sentence, [...(said.get(sentence) ?? []), readings.facts.name]);
  }
  const sentences = [...said].map(([sentence, names]) => (names.length === sessions.length ? sentence : `${names.join(", ")}: ${sentence}`));
  return { suspects, stretches, sentences };
}

/** What each of the rules finds in one session, and why some can tell nothing; rules whose columns are missing are not asked. */
export function applyRules(readings: SessionReadings, rules: readonly MisreadRule[], context: DoubtContext = usualContext): { readonly findings: readonly RuleFinding[]; readonly sentences: readonly string[] } {
  const findings: RuleFinding[] = [];
  const sentences: string[] = [];
  rules.forEach((rule, place) => {
    if (!rule.needs.every((column) => readings.values(column) !== null)) return;
    context.checkpoint();
    findings.push(...rule.find(readings).map((finding) => ({ finding, rule: rule.name, place })));
    const reason = rule.silent?.(readings) ?? null;
    if (reason !== null) sentences.push(reason);
  });
  return { findings: findings.filter(({ finding }) => Number.isFinite(readings.values(finding.column)?.[finding.at] ?? Number.NaN)), sentences };
}

const mostDoubtedShare = 1 / 3; // beyond it medians and MAD are pulled along: stats of F. R. Hampel, JASA 69 (1974) 383
const fewestDoubted = 6; // fewer are listed whatever their share. Common practice, no source

/** Findings without those of a head's column that is doubted as a whole, and a sentence on each of these. */
function refuseChannels(readings: SessionReadings, findings: readonly RuleFinding[]): { readonly kept: readonly RuleFinding[]; readonly refused: readonly string[] } {
  const doubted = new Map<string, { readonly column: ShotColumn; readonly head: number; readonly shots: Set<number> }>();
  for (const { finding } of findings) {
    const head = readings.head[finding.at]!;
    const key = `${head} ${finding.column}`;
    if (!doubted.has(key)) doubted.set(key, { column: finding.column, head, shots: new Set() });
    doubted.get(key)!.shots.add(finding.at);
  }
  const refused = new Set<string>();
  const sentences: string[] = [];
  for (const [key, { column, head, shots }] of doubted) {
    const present = readings.values(column)!.filter((value, i) => readings.head[i] === head && Number.isFinite(value)).length;
    if (shots.size < fewestDoubted || shots.size <= present * mostDoubtedShare) continue;
    refused.add(key);
    const of = head < 0 ? "" : ` of ${readings.heads[head]!.name}`;
    const why = strongestFirst(readings, findings.filter(({ finding }) => finding.column === column && shots.has(finding.at)))[0]!;
    sentences.push(
      `${sentence(inWords(column))}${of} contradicts the rest in ${shots.size} of ${present} shots, so the column as a whole is doubted and no single value is listed. For example, shot ${readings.shot[why.finding.at]!}: ${why.finding.evidence}`,
    );
  }
  return { kept: findings.filter(({ finding }) => !refused.has(`${readings.head[finding.at]!} ${finding.column}`)), refused: sentences };
}

/** A bias in the table's units, by the numbers of shots. */
function stretchOf(readings: SessionReadings, { column, from, to, bias, low, high, tolerance, course, sentence }: ChannelBias): DoubtedStretch {
  const [first, last] = [readings.inTable(column, low), readings.inTable(column, high)];
  return {
    session: readings.facts.name,
    column,
    from: readings.shot[from]!,
    to: readings.shot[to]!,
    bias: readings.inTable(column, bias),
    low: Math.min(first, last),
    high: Math.max(first, last),
    tolerance: readings.sizeInTable(column, tolerance),
    course: course.map(({ at, off }) => ({ shot: readings.shot[at]!, off: readings.inTable(column, off) })),
    sentence,
  };
}

/** One suspect a doubted value, by shot and then by column. */
function joinFindings(readings: SessionReadings, findings: readonly RuleFinding[]): readonly Suspect[] {
  const byValue = new Map<string, RuleFinding[]>();
  for (const found of findings) {
    const key = `${found.finding.at} ${found.finding.column}`;
    byValue.set(key, [...(byValue.get(key) ?? []), found]);
  }
  const order = (found: RuleFinding): number => found.finding.at * shotColumnNames.length + shotColumnNames.indexOf(found.finding.column);
  return [...byValue.values()].sort((a, b) => order(a[0]!) - order(b[0]!)).map((same) => suspectOf(readings, strongestFirst(readings, same)));
}

function suspectOf(readings: SessionReadings, [first, ...others]: readonly RuleFinding[]): Suspect {
  const { at, column, implied, tolerance, doubt } = first!.finding;
  const row = readings.rows[at]!;
  const recorded = findColumn(readings.table, column);
  const witnesses = [first!, ...others].flatMap(({ finding }) => finding.witnesses.map(({ name, implied: value }) => ({ name, implied: readings.inTable(column, value) })));
  return {
    row,
    session: readings.facts.name,
    shot: readings.shot[at]!,
    head: readings.heads[readings.head[at]!]?.name ?? null,
    column,
    recorded: recorded?.kind === "number" ? recorded.values[row]! : Number.NaN,
    implied: implied === null ? null : readings.inTable(column, implied),
    tolerance: tolerance === null ? null : readings.sizeInTable(column, tolerance),
    rule: first!.rule,
    doubt,
    // Rules that ask the same flight say the same of it: once is enough.
    evidence: [...new Set([first!, ...others].flatMap(({ finding }) => finding.evidence.split(/(?<=\.) (?=[A-Z])/)))].join(" "),
    witnesses: witnesses.filter((each, i) => witnesses.findIndex(({ name }) => name === each.name) === i),
  };
}

function strongestFirst(readings: SessionReadings, findings: readonly RuleFinding[]): readonly RuleFinding[] {
  // What cannot be whatever the other readings say comes before what is far from them, and a mere bound after it.
  const excess = ({ finding: { at, column, implied, tolerance } }: RuleFinding): number => {
    if (implied === null) return Infinity;
    return tolerance === null ? 0 : Math.abs(readings.values(column)![at]! - implied) / tolerance;
  };
  const rank = ({ finding }: RuleFinding): number => (finding.doubt === "strong" ? 1 : 0);
  return [...findings].sort((a, b) => rank(b) - rank(a) || (excess(b) === excess(a) ? 0 : excess(b) - excess(a)) || a.place - b.place);
}
