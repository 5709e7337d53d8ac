const day = 86_400;

/** Times of day, put on one line. */
export interface ClockLine {
  /** Seconds that sort as the shots were hit; beyond a day for those after midnight. */
  readonly seconds: Float64Array;
  readonly pastMidnight: boolean;
}

/**
 * Times of day without a date as times that sort, or `null` when a clock of 12 hours would put them in another order.
 *
 * On the circle of a day a session is what the longest pause leaves. When that pause is half a day or more and lies
 * between two times of the same day, the session went past midnight. Times that may be those of a clock of 12 hours
 * (1 to 12, no AM or PM) must be in one order either way: 12:58, 1:00 are not.
 * @param times seconds from midnight.
 * @param maybeHalfDay true when all of the times may be of a clock of 12 hours.
 */
export function onOneLine(times: Float64Array, maybeHalfDay: boolean): ClockLine | null {
  if (times.length === 0) return { seconds: times, pastMidnight: false };
  const whole = longestPause(times, day);
  const pastMidnight = whole.pause >= day / 2 && whole.next > least(times);
  if (maybeHalfDay) {
    const half = longestPause(times.map((time) => time % (day / 2)), day / 2);
    if (half.next !== least(times) % (day / 2)) return null;
  }
  return { seconds: pastMidnight ? times.map((time) => (time < whole.next ? time + day : time)) : times, pastMidnight };
}

function least(times: Float64Array): number {
  return times.reduce((low, time) => Math.min(low, time), Infinity);
}

/** The longest stretch without a time on a circle of the given length, and the time after it. */
function longestPause(times: Float64Array, circle: number): { readonly pause: number; readonly next: number } {
  const sorted = times.slice().sort();
  let pause = sorted[0]! + circle - sorted.at(-1)!;
  let next = sorted[0]!;
  for (let i = 1; i < sorted.length; i++) {
    const before = sorted[i]! - sorted[i - 1]!;
    if (before > pause) [pause, next] = [before, sorted[i]!];
  }
  return { pause, next };
}
