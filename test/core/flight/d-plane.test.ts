import { expect, test } from "vitest";
import { faceShare, faceTurnOfLie, launchDirection, spinLoft, tiltAboutLaunch, tiltFromHorizon } from "../../../core/flight/d-plane";
import { impact } from "../../../core/flight/impact";
import { degree, mph, rpm } from "./golf-units";

function deliveryOf(attack: number, path: number, loft: number, face: number) {
  return {
    clubSpeed: 95 * mph,
    angleOfAttack: attack * degree,
    clubPath: path * degree,
    faceAngle: face * degree,
    dynamicLoft: loft * degree,
  };
}

// Worked out independently of this code: 95 mph, head 270 g, restitution 0.78, the ball rolling when it leaves, struck
// in line with the centre of mass. Rounded as given.
function checkPlane(
  angles: readonly [attack: number, path: number, loft: number, face: number],
  [loft, tilt]: readonly [spinLoft: number, tiltFromHorizon: number],
  [launch, start, axis, spin, ratio]: readonly [number, number, number, number, number],
  [azimuth, elevation]: readonly [number, number],
): void {
  const delivery = deliveryOf(...angles);
  expect(Math.abs(spinLoft(delivery) / degree - loft)).toBeLessThan(6e-4);
  // The tilt was given by an approximation good to 0.02°.
  expect(Math.abs(tiltFromHorizon(delivery) / degree - tilt)).toBeLessThan(0.02);
  const head = { mass: 0.27, inertia: [6.5e-5, 2.5e-4, 2.5e-4], depth: 0 } as const;
  const struck = impact({ delivery, head, strike: { toe: 0, high: 0 }, contact: { restitution: 0.78 } });
  expect(Math.abs(struck.launch.launchAngle / degree - launch)).toBeLessThan(6e-4);
  expect(Math.abs(struck.launch.startDirection / degree - start)).toBeLessThan(6e-4);
  expect(Math.abs(struck.launch.spinAxis / degree - axis)).toBeLessThan(6e-4);
  expect(Math.abs(struck.launch.spinRate / rpm - spin)).toBeLessThan(0.06);
  expect(Math.abs(struck.speedRatio - ratio)).toBeLessThan(6e-5);
  expect(tiltAboutLaunch(tiltFromHorizon(delivery), struck.launch.launchAngle)).toBeCloseTo(struck.launch.spinAxis, 6);
  const direction = launchDirection(delivery, 0.8);
  expect(Math.abs(direction.azimuth / degree - azimuth)).toBeLessThan(6e-4);
  expect(Math.abs(direction.elevation / degree - elevation)).toBeLessThan(6e-4);
}

test("spin loft, tilt, rolling launch and the launch at 80 % of the way from path to face", () => {
  checkPlane([-4, 0, 24, 0], [28, 0], [18.56, 0, 0, 6078.8, 1.3492], [0, 18.4]);
  checkPlane([-4, -1, 24, 2], [28.152, 5.802], [18.557, 1.362, 6.121, 6109.1, 1.3474], [1.344, 18.403]);
  checkPlane([-4, 0, 24, 4], [28.27, 7.714], [18.556, 3.149, 8.139, 6132.6, 1.346], [3.126, 18.405]);
  checkPlane([0, 0, 13, 4], [13.591, 16.812], [10.631, 3.251, 17.115, 3042.8, 1.48], [3.18, 10.403]);
  checkPlane([-4, 3, 24, -6], [29.34, -16.915], [18.539, -4.072, -17.871, 6344.5, 1.3328], [-4.033, 18.425]);
  checkPlane([-5, 0, 41, 4], [46.146, 4.171], [30.483, 2.826, 4.841, 9337, 1.0721], [2.958, 31.809]);
});

test("a degree of face to path tilts the axis 2.0° for a 7-iron, 4.3° for a driver, 1.2° for a wedge", () => {
  const perDegree = (attack: number, loft: number, launch: number): number =>
    tiltAboutLaunch(tiltFromHorizon(deliveryOf(attack, 0, loft, 1)), launch * degree) / degree;
  expect(perDegree(-4, 24, 18.56)).toBeCloseTo(2.0, 1);
  // Given as 4.3; the equations give 4.40 for the first degree of this delivery, and 4.28 on average up to four.
  expect(perDegree(0, 13, 10.63)).toBeCloseTo(4.4, 1);
  expect(perDegree(-5, 41, 30.48)).toBeCloseTo(1.2, 1);
});

test("a launch ratio of 0.80 gives horizontal shares of 0.80, 0.78 and 0.74", () => {
  // Azimuth is a projection: the level part of the face's normal is the shorter one.
  const share = (attack: number, loft: number): number => launchDirection(deliveryOf(attack, 0, loft, 1), 0.8).azimuth / degree;
  expect(share(0, 13)).toBeCloseTo(0.795, 3);
  expect(share(-4, 24)).toBeCloseTo(0.78, 2);
  expect(share(-5, 41)).toBeCloseTo(0.74, 2);
});

test("face share of the start direction, Wood, Henrikson & Broadie 2018: 0.76 driver, 0.69 7-iron, 0.61 wedge", () => {
  expect(faceShare(13 * degree)).toBeCloseTo(0.76, 2);
  expect(faceShare(28 * degree)).toBeCloseTo(0.69, 2);
  expect(faceShare(45 * degree)).toBeCloseTo(0.61, 2);
  expect(faceShare(0)).toBe(0.8);
  expect(faceShare(70 * degree)).toBe(0.58);
});

test("a degree of lie turns the face 0.19°, 0.36°, 0.67° and 1.04° at lofts of 10.5°, 20°, 34° and 46°", () => {
  for (const [loft, turn] of [[10.5, 0.19], [20, 0.36], [34, 0.67], [46, 1.04]] as const)
    expect(Math.abs(faceTurnOfLie(loft * degree, degree) / degree + turn)).toBeLessThan(0.006);
});

test("a face square to the path sends the ball along it, without tilt", () => {
  const delivery = deliveryOf(3, 2, 3, 2);
  expect(spinLoft(delivery)).toBeCloseTo(0, 12);
  expect(launchDirection(delivery, 0.8).azimuth).toBeCloseTo(2 * degree, 12);
  expect(launchDirection(delivery, 0.8).elevation).toBeCloseTo(3 * degree, 12);
  expect(tiltFromHorizon(deliveryOf(0, 0, 0, 0))).toBe(0);
});
