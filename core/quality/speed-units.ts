import type { HeadKind } from "../session/session-facts";
import { median } from "../stats/quantile";
import { shotColumns } from "../table/shot-columns";
import { findColumn } from "../table/table";
import type { Unit } from "../units";
import { units } from "../units";
import { headKindAt } from "./head-of-shot";
import type { SessionReadings } from "./session-readings";

/** One of two speeds in another unit than the stated one, and the speed ratio that this makes. */
export interface SpeedChoice {
  readonly column: "ball_speed" | "club_speed";
  readonly unit: Unit;
  readonly ratio: number;
}

/** What other units of one speed would make the speed ratio plausible, and why the stated ones do not. */
export interface SpeedChoices {
  readonly choices: readonly SpeedChoice[];
  readonly why: string;
}

const speedUnits: readonly Unit[] = ["mph", "km/h", "m/s"];
/** Between which the median speed ratio of a head lies, full swings or not. Common practice, no source. */
const usualRatio: Readonly<Record<HeadKind, readonly [number, number]>> = { iron: [1.05, 1.56], wedge: [0.7, 1.45], wood: [1.2, 1.56] };
const fewest = 8; // shots of a session
const fewestOfHead = 3; // shots of a head

/**
 * The units of ball or club speed that make the speed ratio of every head plausible where the stated units make that of none;
 * `null` where the stated units are plausible for a head, or shots are too few.
 *
 * @param known the ball's unit where it is to be another than the stated one, and whether it is beyond doubt.
 */
export function speedChoices(readings: SessionReadings, { ballUnit, isBallKnown }: { readonly ballUnit: Unit | null; readonly isBallKnown: boolean }): SpeedChoices | null {
  const [ball, club] = (["ball_speed", "club_speed"] as const).map((name) => findColumn(readings.table, name));
  if (ball?.kind !== "number" || club?.kind !== "number" || ball.unit === null || club.unit === null) return null;
  const heads = usualSpeeds(readings, ballUnit === null ? 1 : units[ballUnit].factor / units[ball.unit].factor);
  if (heads.length === 0) return null;
  const isPlausible = ({ kind, ball: fast, club: slow }: UsualSpeeds, [ballFactor, clubFactor]: readonly [number, number]): boolean => {
    const ratio = (fast * ballFactor) / (slow * clubFactor);
    const [low, high] = usualRatio[kind];
    const isSpeed = (column: "ball_speed" | "club_speed", value: number): boolean => {
      const [least, most] = shotColumns[column].range ?? [0, Infinity];
      return value >= least && value <= most;
    };
    return ratio >= low && ratio <= high && isSpeed("ball_speed", fast * ballFactor) && isSpeed("club_speed", slow * clubFactor);
  };
  if (heads.some((head) => isPlausible(head, [1, 1]))) return null;
  const [first] = heads;
  const ratioOf = (ballFactor: number, clubFactor: number): number => (first!.ball * ballFactor) / (first!.club * clubFactor);
  const tried: readonly OtherSpeed[] = [
    ...(isBallKnown ? [] : others(ball.unit).map(({ unit, factor }) => ({ column: "ball_speed" as const, unit, factors: [factor, 1] as const }))),
    ...others(club.unit).map(({ unit, factor }) => ({ column: "club_speed" as const, unit, factors: [1, factor] as const })),
  ];
  const choices = tried
    .filter(({ factors }) => heads.every((head) => isPlausible(head, factors)))
    .map(({ column, unit, factors }) => ({ column, unit, ratio: ratioOf(...factors) }));
  return { choices, why: `the usual speed ratio with ${first!.head ?? "these heads"} is ${ratioOf(1, 1).toFixed(2)}, which no ${first!.kind} has` };
}

interface OtherSpeed {
  readonly column: "ball_speed" | "club_speed";
  readonly unit: Unit;
  /** By which ball and club speed change. */
  readonly factors: readonly [ball: number, club: number];
}

interface UsualSpeeds {
  readonly head: string | null;
  readonly kind: HeadKind;
  /** m/s */
  readonly ball: number;
  readonly club: number;
}

/** The median speeds of each head, of shots with both; empty for fewer than 8 such shots. */
function usualSpeeds(readings: SessionReadings, ballFactor: number): readonly UsualSpeeds[] {
  const [ball, club] = [readings.values("ball_speed")!, readings.values("club_speed")!];
  const rows = new Map<number, number[]>();
  for (let i = 0; i < readings.count; i++) {
    if (!Number.isFinite(ball[i]!) || !Number.isFinite(club[i]!)) continue;
    const own = rows.get(readings.head[i]!);
    if (own === undefined) rows.set(readings.head[i]!, [i]);
    else own.push(i);
  }
  const heads = [...rows].filter(([, own]) => own.length >= fewestOfHead).sort((a, b) => b[1].length - a[1].length);
  if (heads.reduce((sum, [, own]) => sum + own.length, 0) < fewest) return [];
  return heads.map(([head, own]) => ({
    head: readings.heads[head]?.name ?? null,
    kind: headKindAt(readings, own[0]!),
    ball: ballFactor * median(own.map((i) => ball[i]!)),
    club: median(own.map((i) => club[i]!)),
  }));
}

function others(stated: Unit): readonly { readonly unit: Unit; readonly factor: number }[] {
  return speedUnits.filter((unit) => units[unit].factor !== units[stated].factor).map((unit) => ({ unit, factor: units[unit].factor / units[stated].factor }));
}
