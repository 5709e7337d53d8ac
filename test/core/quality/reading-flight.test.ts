import { expect, test } from "vitest";
import { flightOfReading } from "../../../core/quality/reading-flight";
import { simulateFlight } from "../../../core/flight/simulate";

const deg = Math.PI / 180;

test("coarser steps change a driver's, an iron's and a wedge's flight by less than a millimetre and a thousandth of a degree", () => {
  for (const [speed, launchAngle, spinRate] of [[75, 11, 250], [54, 17, 700], [36, 30, 1000]] as const) {
    const launch = { speed, launchAngle: launchAngle * deg, startDirection: 2 * deg, spinRate, spinAxis: 10 * deg };
    const [coarse, fine] = [flightOfReading(launch), simulateFlight(launch, { timeStep: 0.001 })];
    for (const part of ["carry", "offline", "peakHeight"] as const) expect(Math.abs(coarse[part] - fine[part]), part).toBeLessThan(0.001);
    expect(Math.abs(coarse.descentAngle - fine.descentAngle) / deg).toBeLessThan(0.001);
    expect(Math.abs(coarse.flightTime - fine.flightTime)).toBeLessThan(1e-4);
  }
});
