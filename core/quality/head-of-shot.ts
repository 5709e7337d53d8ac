import { headKindOf } from "../session/head-kind";
import { headDefaults } from "../session/head-defaults";
import type { HeadKind } from "../session/session-facts";
import { median, medianAbsoluteDeviation } from "../stats/quantile";
import type { SessionReadings } from "./session-readings";

/** The kind of head of a shot; an iron where that is not known. */
export function headKindAt(readings: SessionReadings, i: number): HeadKind {
  return readings.heads[readings.head[i]!]?.kind ?? headKindOf([readings.facts], null);
}

/** m from the strike reference of a shot's strike; `NaN` where it is not known. */
export function strikeDistanceAt(readings: SessionReadings, i: number): number {
  return Math.hypot(readings.values("strike_x")?.[i] ?? Number.NaN, readings.values("strike_y")?.[i] ?? Number.NaN);
}

/**
 * By how much a tolerance widens for a strike away from the middle: models of the middle say less there. 1 in the middle
 * and where the strike is not known, 1.4 at the standard miss to the toe. Common practice, no source.
 */
export function strikeWidening(readings: SessionReadings, i: number): number {
  const distance = strikeDistanceAt(readings, i) * 1000;
  if (!Number.isFinite(distance)) return 1;
  return Math.hypot(1, distance / headDefaults[headKindAt(readings, i)].standardMiss.x);
}

/** The strikes as a model needs them: across and up the face, each with its square; `null` where they are not there. */
export function strikeTerms(readings: SessionReadings): readonly (Float64Array | null)[] {
  const [x, y] = [readings.values("strike_x"), readings.values("strike_y")];
  const squared = (values: Float64Array | null): Float64Array | null => values?.map((value) => value * value) ?? null;
  return [x, squared(x), y, squared(y)];
}

/** Median and scale of a column over the shots of each head; `NaN` for a head with fewer than 5. */
export function levelsByHead(readings: SessionReadings, values: Float64Array): (i: number) => { readonly centre: number; readonly scale: number } {
  const known = new Map<number, { readonly centre: number; readonly scale: number }>();
  return (i) => {
    const head = readings.head[i]!;
    let level = known.get(head);
    if (level === undefined) {
      const own = values.filter((value, at) => readings.head[at] === head && Number.isFinite(value));
      level = own.length < 5 ? { centre: Number.NaN, scale: Number.NaN } : { centre: median(own), scale: medianAbsoluteDeviation(own) };
      known.set(head, level);
    }
    return level;
  };
}

/** The shots of each head for which `isUsable`, in hitting order; those without a head together. */
export function rowsByHead(readings: SessionReadings, isUsable: (i: number) => boolean): readonly (readonly number[])[] {
  const byHead = new Map<number, number[]>();
  for (let i = 0; i < readings.count; i++) {
    if (!isUsable(i)) continue;
    const head = readings.head[i]!;
    const rows = byHead.get(head);
    if (rows === undefined) byHead.set(head, [i]);
    else rows.push(i);
  }
  return [...byHead.values()];
}
