/** Quiet that an export must have before it is read, in milliseconds. */
export const quietMilliseconds = 1000;
/** The same while its last line has no end: it may be half written, or the file may end so. */
export const unfinishedMilliseconds = 4000;

/** What has happened to a notebook whose exports are followed: times in milliseconds of one clock. */
export interface Pace {
  /** The last change of a file. */
  readonly changed: number;
  /** The end of the last run; `null` before the first. */
  readonly ended: number | null;
  /** How long that run took. */
  readonly took: number;
  /** True where the last line of an export has no end. */
  readonly isUnfinished: boolean;
}

/**
 * Milliseconds from `now` until what is out of date is run again: after a pause of quiet, and never more often than a run
 * takes.
 *
 * @example waitFor({ changed: 0, ended: null, took: 0, isUnfinished: false }, 400) // 600
 */
export function waitFor({ changed, ended, took, isUnfinished }: Pace, now: number): number {
  const quiet = changed + (isUnfinished ? unfinishedMilliseconds : quietMilliseconds);
  return Math.max(0, quiet - now, ended === null ? 0 : ended + took - now);
}
