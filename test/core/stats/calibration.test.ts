import { expect, test } from "vitest";
import { calibrate, scenarios } from "../../../scripts/calibration/calibrate";

/** Sessions of each truth: few, since `npm run bench -- calibration` counts a thousand. */
const sessions = 60;

function calibrationOf(name: string) {
  const scenario = scenarios.find((each) => each.name === name);
  if (scenario === undefined) throw new Error(`there is no scenario ${name}`);
  return calibrate(scenario.truth, sessions, 5000);
}

/** The most that counts of `sessions` should reach where the true share is `share`: three standard errors above. */
function most(share: number): number {
  return share + 3 * Math.sqrt((share * (1 - share)) / sessions);
}

test("heads alike but hit in different places are seldom called different at the same strikes, and often as struck", () => {
  const { anyDifferent, coverage } = calibrationOf("heads alike, strikes that differ by head");
  expect(anyDifferent.same).toBeLessThan(most(0.06));
  expect(anyDifferent.asStruck).toBeGreaterThan(most(0.06));
  expect(coverage.all).toBeGreaterThan(1 - most(0.06));
});

test("a head 5.4 yd longer is found at the same strikes in most sessions of 90 shots", () => {
  const { found, coverage } = calibrationOf("one head 5.4 yd longer, strikes that differ");
  expect(found.same).toBeGreaterThan(1 - most(0.2));
  expect(coverage.all).toBeGreaterThan(1 - most(0.06));
});

test("a head beyond the margin is hardly ever called equivalent", () => {
  const { wronglyEquivalent } = calibrationOf("one head just beyond the margin (3.3 yd), little scatter");
  expect(wronglyEquivalent).toBeLessThan(most(0.03));
});

test("no session in which each head was hit in one go gets a verdict", () => {
  expect(calibrationOf("each head in one go").anyVerdict).toBe(0);
});
