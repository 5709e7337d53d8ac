import { inWords } from "../chart/field-name";
import { digitsAsStated, digitsFor, digitsForColumn, formatMeasure, formatNumber, formatShare } from "../present/format-number";
import type { Ground } from "../stats/judge-pair";
import type { ShotColumn } from "../table/shot-columns";
import type { Table } from "../table/table";
import { findColumn } from "../table/table";
import { convertDifference } from "../units";
import type { PairStrike, StatedLoft } from "./loft-only-strike";
import type { LoftRow, LoftVerdict } from "./loft-only-table";
import { capitalised, listed } from "./session-sentences";

/** A pair of groups with stated lofts that differ, and its rows. */
export interface LoftPair {
  readonly head: string;
  readonly against: string;
  readonly lofts: readonly [own: number, other: number];
  readonly found: PairStrike;
  readonly rows: readonly LoftRow[];
}

/** Pairs beyond which their numbers are not told one by one; the table has them. */
const mostListed = 6;

const verdictWords: readonly (readonly [LoftVerdict, (columns: string) => string])[] = [
  ["loft does not explain it", (columns) => `loft does not explain the difference in ${columns}`],
  ["loft may explain it", (columns) => `loft may explain the difference in ${columns}`],
  ["undecided", (columns) => `whether loft explains the difference in ${columns} is undecided`],
  ["no verdict", (columns) => `no verdict on the difference in ${columns}`],
];

/** What the stated lofts are, and which of the differences they may explain: one sentence a pair. */
export function leadSentence({ head, against, lofts, rows }: LoftPair): string {
  const [own, other] = lofts;
  const size = degrees(Math.abs(own - other));
  const stated = `${head} is stated ${size} ${own < other ? "stronger" : "weaker"} than ${against} (${degrees(own)} against ${degrees(other)})`;
  const parts = verdictWords.flatMap(([verdict, say]) => {
    const columns = rows.filter((row) => row.verdict === verdict).map((row) => inWords(row.column.name));
    return columns.length === 0 ? [] : [say(listed(columns))];
  });
  return `${stated}: ${parts.join("; ")}.`;
}

/** The groups of which nothing is told, and why. */
export function untoldSentences(groups: readonly string[], stated: readonly StatedLoft[]): readonly string[] {
  const byLoft = new Map<number, string[]>();
  groups.forEach((name, i) => {
    const { loft } = stated[i]!;
    if (loft !== null) byLoft.set(loft, [...(byLoft.get(loft) ?? []), name]);
  });
  const alike = [...byLoft].filter(([, names]) => names.length > 1);
  return [
    ...alike.map(([loft, names]) => `${listed(names)} are stated at the same loft, ${degrees(loft)}: loft explains nothing of what differs between them.`),
    ...groups.flatMap((name, i) => {
      const { all, unstated, heads } = stated[i]!;
      if (unstated.length > 0) return [`Nothing is told of ${name}: the loft of ${listed(unstated)} is not stated. ${howToState(unstated[0]!)}`];
      const several = listed(all.map(degrees));
      if (all.length > 1 && heads.length > 1) return [`Nothing is told of ${name}, whose heads have ${several}: tell heads apart, or filter to one.`];
      if (all.length > 1) return [`Nothing is told of ${name}, whose loft is not the same in all sessions (${several}): filter to one.`];
      return [];
    }),
  ];
}

/** Said of a pair no shot of which tells the spin loft. */
export function withoutSpinLoft(head: string, against: string): string {
  return `Nothing is told of ${head} and ${against}: one of them has no shot with a launch angle, nor with dynamic loft and angle of attack.`;
}

/** What to write where a loft is not stated. */
function howToState(head: string): string {
  return `Write it in the session file: heads: { ${head}: { loft: 34 deg } }, with the loft as stated or, better, as measured.`;
}

/** The numbers of each pair, column by column, and how the two were delivered. */
export function pairDetails(pairs: readonly LoftPair[], confidence: number, input: Table): readonly string[] {
  if (pairs.length > mostListed) return [];
  return pairs.flatMap((pair) => [...pair.rows.map((row) => columnSentence(row, confidence)), deliverySentence(pair, input)]);
}

function columnSentence(row: LoftRow, confidence: number): string {
  const { column, pair, loftOnly, leftOver, leftOverInterval } = row;
  const digits = pair.shown.standardError > 0 ? digitsFor(pair.shown.standardError) : Math.max(digitsForColumn(column), 0);
  const shown = (value: number): string => formatMeasure(value, digits, column.unit);
  const bounds = (from: number, to: number): string => `${formatNumber(from, digits)} to ${formatNumber(to, digits)}`;
  const shots = `${pair.n} and ${pair.nAgainst} shots${pair.ground === "order unknown" ? "" : ` in ${pair.stints} and ${pair.stintsAgainst} stints`}`;
  const hasInterval = !Number.isNaN(pair.wide.from);
  const measured = Number.isNaN(pair.shown.difference)
    ? "nothing measured"
    : `measured ${shown(pair.shown.difference)} (${hasInterval ? `${formatShare(confidence)} interval ${bounds(pair.wide.from, pair.wide.to)}` : "no interval"}; ${shots})`;
  const alone = Number.isNaN(loftOnly.usual) ? "loft alone not known" : `loft alone ${shown(loftOnly.usual)} (model ${bounds(loftOnly.low, loftOnly.high)})`;
  const left = Number.isNaN(leftOver) ? "" : `; left over ${shown(leftOver)}${Number.isNaN(leftOverInterval.from) ? "" : ` (${bounds(leftOverInterval.from, leftOverInterval.to)})`}`;
  return `${capitalised(inWords(column.name))}, ${row.head} \u2212 ${row.against}: ${alone}; ${measured}${left}.${because(row)}`;
}

/** Why there is no verdict. */
const grounds: Readonly<Record<Ground, string>> = {
  enough: "",
  "few stints": "too few stints for a verdict",
  "one go": "hit in one go, so that fatigue and warm-up cannot be told from the heads",
  "one stint": "hit in one go, so that fatigue and warm-up cannot be told from the heads",
  "mixed with time": "the two were hit at different times, and drift cannot be told from the heads",
  "order unknown": "the hitting order is not known, and the interval is likely too narrow",
  "no scatter": "the stints do not scatter",
  "few shots": "too few shots",
  "few strikes": "too few strikes",
  "not the same places": "not hit in the same places",
  "never together": "the two have no session in common",
  "no shots": "one of them has no value",
};

function because({ pair, verdict, loftOnly }: LoftRow): string {
  if (verdict !== "no verdict" && verdict !== "undecided") return "";
  if (pair.ground !== "enough") return ` ${capitalised(grounds[pair.ground])}.`;
  if (Number.isNaN(loftOnly.usual)) return " The mean strike misses what the model needs.";
  return pair.bySession?.areUnlike === true ? " The two do not differ alike in all sessions." : " The two methods that estimate the difference do not agree.";
}

const spinLoftWords: Readonly<Record<PairStrike["spinLoft"]["from"], string>> = {
  "dynamic loft": "dynamic loft less angle of attack, as read",
  "launch and angle of attack": "estimated from launch angle and angle of attack",
  "launch alone": "estimated from the launch angle and a usual angle of attack",
};

/** Columns of the delivery whose plain differences are told, since the model takes both heads as delivered alike. */
const delivered: readonly ShotColumn[] = ["club_speed", "dynamic_loft", "angle_of_attack"];

function deliverySentence({ head, against, lofts, found }: LoftPair, input: Table): string {
  const { spinLoft, error, from } = found.spinLoft;
  const [shown, reach] = [spinLoft, error].map((angle) => degrees(Number(convertDifference(angle, "rad", "deg").toFixed(1))));
  const differences = delivered.flatMap((name) => {
    const difference = found.differenceIn(name);
    const column = findColumn(input, name);
    if (Number.isNaN(difference) || column?.kind !== "number") return [];
    const stated = name === "dynamic_loft" ? ` (stated loft ${signed(lofts[0] - lofts[1])})` : "";
    return [`${inWords(name)} ${formatMeasure(difference, 1, column.unit)}${stated}`];
  });
  const how = differences.length === 0 ? "" : ` As delivered, by plain means, ${head} \u2212 ${against}: ${listed(differences)}.`;
  return `Mean strike of ${head} and ${against}: spin loft ${shown!} (${spinLoftWords[from]}; taken as right within ${reach!}).${how}`;
}

/** What the model is and is not, and the air of its flights. */
export function modelSentences(pairs: readonly LoftPair[], isCarryTold: boolean): readonly string[] {
  if (pairs.length === 0) return [];
  const unstated = [...new Set(pairs.flatMap(({ found }) => found.air.unstated))];
  return [
    "The model: rigid heads of one mass and restitution, struck in line with their centre of mass and free of the shaft, both delivered alike. It gives the change from loft to loft, which is laid on the mean that was measured. Its range is over plausible masses, restitutions, tangential restitutions and spin lofts" +
      (isCarryTold ? " and two fits of the flight" : "") +
      "; it is no confidence interval.",
    "Lofts are as stated, not measured, and how much of a loft arrives at the ball depends on how the shaft leans. Left over is all else: the heads themselves, where the face was hit, the swing, with whatever of it was not delivered alike.",
    ...(isCarryTold ? [`Carry is for straight flights in still air, of a usual ball: its own aerodynamics are not known.${unstated.length === 0 ? "" : ` ${listed(unstated)} ${unstated.length === 1 ? "does" : "do"} not state the whole air; standard air at sea level stands in.`}`] : []),
  ];
}

function degrees(value: number): string {
  return formatMeasure(value, digitsAsStated(value), "deg");
}

function signed(value: number): string {
  return degrees(Number(value.toFixed(6)));
}
