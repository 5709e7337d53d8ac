import type { ShotData } from "../../../core/stats/shot-data";
import { normals } from "./check-values";

/** What an invented session with strikes is like. */
export interface InventedStrikes {
  readonly heads: number;
  readonly perStint: number;
  readonly passes: number;
  /** Ball speed lost by each head for the square of one mm across, in mph; 0.012 unless told. Up, twice that. */
  readonly fallOff?: readonly number[];
  /** Ball speed that each further head gains for one mm to the toe, in mph. */
  readonly tilt?: number;
  /** By how many mm each head's strikes are moved to the toe. */
  readonly aim?: readonly number[];
  readonly shotSd?: number;
  readonly seed?: number;
}

/** Ball speeds in mph of heads hit in rotation, with strikes that scatter by 8 mm across and 5.5 mm up. */
export function inventedStrikes(session: InventedStrikes): ShotData {
  const { heads, perStint, passes, fallOff = [], tilt = 0, aim = [], shotSd = 1, seed = 1 } = session;
  const normal = normals(seed);
  const n = heads * perStint * passes;
  const stint = Float64Array.from({ length: n }, (_, i) => Math.floor(i / perStint) + 1);
  const group = Int32Array.from(stint, (number) => (number - 1) % heads);
  const x = Float64Array.from(group, (head) => (aim[head] ?? 0) + 8 * normal());
  const y = Float64Array.from(group, () => 5.5 * normal());
  const levels = Array.from({ length: heads * passes }, () => 0.5 * normal());
  const value = Float64Array.from(group, (head, i) => {
    const loss = (fallOff[head] ?? 0.012) * (x[i]! ** 2 + 2 * y[i]! ** 2);
    return 140 + head + levels[stint[i]! - 1]! + tilt * head * x[i]! - loss + shotSd * normal();
  });
  return { groupCount: heads, group, session: new Int32Array(n), stint, time: Float64Array.from({ length: n }, (_, i) => i / (n - 1)), value, strike: { x, y } };
}
