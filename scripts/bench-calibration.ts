import type { Goal } from "./calibration/calibrate";
import { calibrate, scenarios } from "./calibration/calibrate";

/**
 * Simulates sessions whose truth is known, compares their heads by the verb, and prints how often what it said was so,
 * beside what is asked of it.
 *
 * @param sessions of each truth.
 * @returns false when a figure is out of its bounds.
 */
export function benchCalibration(sessions: number): boolean {
  console.log(`\nCalibration of compare: ${sessions} synthetic sessions of each truth, 3 heads, margin 3 yd, 95 % intervals`);
  let isWithin = true;
  for (const { name, truth, goals } of scenarios) {
    const start = performance.now();
    const calibration = calibrate(truth, sessions);
    console.log(`\n  ${name} (${((performance.now() - start) / sessions).toFixed(0)} ms a session)`);
    for (const goal of goals) isWithin = print(goal, goal.figure(calibration), sessions) && isWithin;
  }
  return isWithin;
}

/** Prints one figure with twice its standard error and its bounds; true when it keeps them or has none. */
function print({ says, bounds }: Goal, figure: number | null, sessions: number): boolean {
  if (figure === null) {
    console.log(`    ${says.padEnd(56)} nothing to count${bounds === null ? "" : "  OUT OF BOUNDS"}`);
    return bounds === null;
  }
  const noise = 2 * Math.sqrt((figure * (1 - figure)) / sessions);
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
  const isWithin = bounds === null || (figure >= bounds[0] && figure <= bounds[1]);
  const asked = bounds === null ? "" : `  asked ${percent(bounds[0])} to ${percent(bounds[1])}${isWithin ? "" : "  OUT OF BOUNDS"}`;
  console.log(`    ${says.padEnd(56)} ${percent(figure).padStart(7)} ± ${percent(noise)}${asked}`);
  return isWithin;
}
