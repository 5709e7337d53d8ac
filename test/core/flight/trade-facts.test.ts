// What people of the trade hold to be so: common practice, no source, every one of them. Where a model of this project
// and such a fact part, one of them is wrong.
import { expect, test } from "vitest";
import { runAfterLanding, turfs } from "../../../core/flight/bounce";
import { centredImpact } from "../../../core/flight/centred-impact";
import type { Delivery } from "../../../core/flight/d-plane";
import type { ImpactResult } from "../../../core/flight/impact";
import { impact } from "../../../core/flight/impact";
import { aerodynamicFits } from "../../../core/flight/aerodynamics";
import { simulateFlight } from "../../../core/flight/simulate";
import { headDefaults } from "../../../core/session/head-defaults";
import { degree, launchOf, mph, rpm, yard } from "./golf-units";

const gramCentimetre2 = 1e-7; // kg·m²

/** A 7-iron of 34° stated, 24° delivered, struck at 95 mph on its way down; mm from the centre of mass along the face. */
function strikeIron(high: number, changes: Partial<Delivery> = {}): ImpactResult {
  const delivery = { clubSpeed: 95 * mph, angleOfAttack: -4 * degree, clubPath: 0, faceAngle: 0, dynamicLoft: 24 * degree, ...changes };
  const head = { mass: 0.27, inertia: [650 * gramCentimetre2, 2500 * gramCentimetre2, 2500 * gramCentimetre2], depth: 0.008 } as const;
  return impact({ delivery, head, strike: { toe: 0, high: high / 1000 }, contact: { restitution: 0.78, tangentialRestitution: 0.15 } });
}

// A 7-iron's launch and spin at that speed: 16 to 17°, 5500 to 6200 rpm.
const midIrons = [launchOf(130, 17, 6200), launchOf(130, 17, 5800), launchOf(130, 16, 5500)] as const;

test("common practice, no source: a mid-iron at 130 mph ball speed carries 180 to 190 yd", () => {
  for (const launch of midIrons) {
    for (const fit of aerodynamicFits) {
      const carry = simulateFlight(launch, { fit }).carry / yard;
      expect(carry).toBeGreaterThan(180);
      expect(carry).toBeLessThan(190);
    }
  }
});

test("common practice, no source: it runs about 5 yd", () => {
  const runs = midIrons.flatMap((launch) => {
    const landing = simulateFlight(launch);
    return [turfs["natural turf"], turfs["artificial turf"]].map((turf) => runAfterLanding(landing, turf) / yard);
  });
  // Turfs differ by a factor of two: softer ones stop it in 2 yd, firm ones let it run 9.
  expect(Math.min(...runs)).toBeGreaterThan(1);
  expect(Math.max(...runs)).toBeLessThan(10);
  expect(Math.abs(runs.reduce((total, run) => total + run, 0) / runs.length - 5)).toBeLessThan(1.5);
});

test("common practice, no source: its speed ratio is near 1.34", () => {
  // 130 mph of ball speed at 97 mph; spin lofts of 27 to 29°, and restitutions of usual irons.
  const ratios = [27, 28, 29].flatMap((loft) =>
    [0.76, 0.78].map((restitution) => centredImpact({ clubSpeed: 97 * mph, spinLoft: loft * degree, headMass: 0.27, restitution }).speedRatio),
  );
  for (const ratio of ratios) expect(Math.abs(ratio - 1.34)).toBeLessThan(0.025);
  expect(130 / 97).toBeCloseTo(1.34, 2);
});

test("common practice, no source: even a very thin strike keeps its carry within about 10 yd", () => {
  const { y } = headDefaults.iron.strikeReference;
  const centred = simulateFlight(strikeIron(0).launch).carry / yard;
  // 12 mm below the middle of the face is thin, 16 mm very thin; the centred strike is in line with the centre of mass.
  const losses = [-12, -14, -16].map((below) => centred - simulateFlight(strikeIron(below - y).launch).carry / yard);
  for (const loss of losses) {
    expect(loss).toBeGreaterThan(0);
    expect(loss).toBeLessThan(10);
  }
});

test("common practice, no source: a very thin strike launches lower and spins more, and is as plausible as any", () => {
  const [centred, thin] = [strikeIron(0), strikeIron(-7)];
  expect(thin.launch.launchAngle).toBeLessThan(centred.launch.launchAngle);
  expect(thin.launch.spinRate).toBeGreaterThan(centred.launch.spinRate);
  const [low, high] = headDefaults.iron.speedRatio;
  expect(thin.speedRatio).toBeGreaterThan(low);
  expect(thin.speedRatio).toBeLessThan(high);
});

test("common practice, no source: a degree of loft is worth a few hundred rpm at most", () => {
  const spin = (loft: number, tangentialRestitution: number): number =>
    centredImpact({ clubSpeed: 95 * mph, spinLoft: loft * degree, headMass: 0.27, restitution: 0.78, tangentialRestitution }).spinRate / rpm;
  for (const tangential of [0, 0.15, 0.3]) {
    for (const loft of [13, 20, 28, 35, 45]) {
      const worth = spin(loft + 1, tangential) - spin(loft, tangential);
      expect(worth).toBeGreaterThan(100);
      expect(worth).toBeLessThan(300);
    }
  }
});

test("common practice, no source: a face open to the path curves the ball right, whatever the face reads to the target", () => {
  const curve = (path: number, face: number): number => {
    const { launch } = strikeIron(0, { clubPath: path * degree, faceAngle: face * degree });
    const flight = simulateFlight(launch);
    return flight.offline - flight.carry * Math.sin(launch.startDirection);
  };
  for (const path of [-8, -4, 0, 4, 8]) {
    for (const open of [1, 3, 6]) {
      expect(curve(path, path + open)).toBeGreaterThan(0);
      expect(curve(path, path - open)).toBeLessThan(0);
    }
  }
  // A face 3° left of the target and a path 7° left of it: the ball starts left and comes back.
  expect(strikeIron(0, { clubPath: -7 * degree, faceAngle: -3 * degree }).launch.startDirection).toBeLessThan(0);
  expect(curve(-7, -3)).toBeGreaterThan(0);
});
