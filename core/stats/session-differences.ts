import { fitBlockModel } from "./block-model";
import type { BlockData } from "./linear-fit";
import type { ShotData } from "./shot-data";

/** The p value below which a difference is not taken to be the same in all sessions. */
const unlikeLevel = 0.05;

/** A difference of two groups, session by session. */
export interface SessionDifferences {
  /** In the unit of the values. */
  readonly each: readonly { readonly session: number; readonly difference: number }[];
  /** Of the test that all are the same. */
  readonly p: number;
  /** True where that is rejected: what the sessions have in common is then no answer for any of them, nor for another. */
  readonly areUnlike: boolean;
}

/**
 * The difference of a pair in each of several sessions, and whether it is the same in all of them.
 *
 * Beside the columns of the pair's model, group × session has a column of its own for every session but the first; that
 * all of these are 0 is tested by Kenward and Roger's F. With few sessions, or few stints in each, the test misses most
 * of what differs: not being rejected says little.
 *
 * @param columns the model of the two groups' shots, with levels of sessions.
 * @param pair the shots of it: group 1 less group 0 is the difference, both in every session.
 * @param difference its weights in the first of the sessions, one a column.
 * @returns `null` for one session, and where the shots do not determine the differences.
 * Source: M. G. Kenward, J. H. Roger, Biometrics 53 (1997) 983.
 */
export function differencesBySession(columns: BlockData, { group, session }: Pick<ShotData, "group" | "session">, difference: Float64Array): SessionDifferences | null {
  const sessions = [...new Set(session)].sort((a, b) => a - b);
  const others = sessions.slice(1);
  if (others.length === 0) return null;
  const own = others.map((each) => Float64Array.from(group, (g, i) => (g === 1 && session[i] === each ? 1 : 0)));
  const fit = fitBlockModel({ ...columns, columns: [...columns.columns, ...own] });
  if (fit === null) return null;
  const before = columns.columns.length;
  const weights = (base: ArrayLike<number>, place: number | null): Float64Array => {
    const all = new Float64Array(before + own.length);
    all.set(base);
    if (place !== null) all[before + place] = 1;
    return all;
  };
  const { p } = fit.jointTest(others.map((_, place) => weights([], place)));
  if (Number.isNaN(p)) return null;
  const each = sessions.map((number, i) => ({ session: number, difference: fit.contrast(weights(difference, i === 0 ? null : i - 1)).difference }));
  return { each, p, areUnlike: p < unlikeLevel };
}
