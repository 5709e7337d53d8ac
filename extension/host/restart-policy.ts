/** Crashes are counted over so many milliseconds. */
export const crashWindow = 3 * 60_000;

/** So many crashes within the window, and the server is not started again by itself. */
export const mostCrashes = 5;

/** What follows a crash. */
export interface AfterCrash {
  /** The crashes that still count, this one last: times in milliseconds. */
  readonly crashes: readonly number[];
  /** Milliseconds until the server is started again; `null` when it is not. */
  readonly pause: number | null;
}

/**
 * What is to be done after a crash at the time `now`: the server is started again at once, after the next crash in a
 * second, then in two, in four, and after the fifth within three minutes not at all.
 *
 * @param earlier the crashes that counted before, in milliseconds of the same clock.
 * @example afterCrash([], 0) // { crashes: [0], pause: 0 }
 */
export function afterCrash(earlier: readonly number[], now: number): AfterCrash {
  const crashes = [...earlier.filter((time) => now - time < crashWindow), now];
  if (crashes.length >= mostCrashes) return { crashes, pause: null };
  return { crashes, pause: crashes.length === 1 ? 0 : 1000 * 2 ** (crashes.length - 2) };
}
