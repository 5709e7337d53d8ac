import type { BlockData } from "./linear-fit";
import type { ShotData } from "./shot-data";

/** The columns of a mean model, and where the groups' own stand among them. */
export interface MeanModel extends BlockData {
  /** Columns 0 to `groupCount` − 1 are the groups' indicators. Those after it: sessions, then trends. */
  readonly groupCount: number;
  /** Places of the trends among the columns, one a session in which time goes on. */
  readonly trends: readonly number[];
}

/**
 * The mean model Y = μ of the group + a level of the session + a trend of the session + stint + shot.
 *
 * Columns: one indicator a group; one a session but the first; one trend a session, 0 to 1 over the shots used and
 * centred on its mean in the session, so that a group's coefficient is its level half-way through. Blocks are the
 * stints, told apart by session and number.
 */
export function meanModel(data: ShotData): MeanModel {
  const { groupCount, group, session, stint, time, value } = data;
  const n = value.length;
  const column = (of: (i: number) => number): Float64Array => Float64Array.from({ length: n }, (_, i) => of(i));
  const sessions = [...new Set(session)].sort((a, b) => a - b);
  const groups = Array.from({ length: groupCount }, (_, g) => column((i) => (group[i] === g ? 1 : 0)));
  const levels = sessions.slice(1).map((s) => column((i) => (session[i] === s ? 1 : 0)));
  const trends = sessions.flatMap((s) => {
    let count = 0;
    let total = 0;
    for (let i = 0; i < n; i++) {
      if (session[i] !== s) continue;
      count++;
      total += time[i]!;
    }
    const middle = total / count;
    const trend = column((i) => (session[i] === s ? time[i]! - middle : 0));
    return trend.some((t) => t !== 0) ? [trend] : [];
  });
  const numbers = new Map<string, number>();
  const block = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    const key = `${session[i]!} ${stint[i]!}`;
    let known = numbers.get(key);
    if (known === undefined) numbers.set(key, (known = numbers.size));
    block[i] = known;
  }
  const before = groups.length + levels.length;
  return {
    columns: [...groups, ...levels, ...trends],
    value,
    block,
    blockCount: numbers.size,
    groupCount,
    trends: trends.map((_, i) => before + i),
  };
}
