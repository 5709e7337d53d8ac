import type { ShotData } from "../../../core/stats/shot-data";

/** One shot: [group, stint, value] or [group, stint, value, session]. */
export type Shot = readonly [group: number, stint: number, value: number, session?: number];

/** Shots in hitting order as data for a model, without strikes. */
export function shotsFrom(shots: readonly Shot[], groupCount = 2): ShotData {
  const session = Int32Array.from(shots, ([, , , each]) => each ?? 0);
  const before = session.map((each, i) => session.slice(0, i).filter((other) => other === each).length);
  const count = session.map((each) => session.filter((other) => other === each).length);
  return {
    groupCount,
    group: Int32Array.from(shots, ([group]) => group),
    session,
    stint: Float64Array.from(shots, ([, stint]) => stint),
    time: Float64Array.from(shots, (_, i) => (count[i]! < 2 ? 0 : before[i]! / (count[i]! - 1))),
    value: Float64Array.from(shots, ([, , value]) => value),
    strike: null,
  };
}
