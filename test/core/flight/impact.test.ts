import * as fc from "fast-check";
import { expect, test } from "vitest";
import { standardBall } from "../../../core/flight/ball";
import { centredImpact, usualRestitution } from "../../../core/flight/centred-impact";
import type { Delivery } from "../../../core/flight/d-plane";
import { spinLoft } from "../../../core/flight/d-plane";
import type { Contact, HeadBody, ImpactResult } from "../../../core/flight/impact";
import { impact } from "../../../core/flight/impact";
import type { Vector } from "../../../core/flight/vector";
import { add, cross, directionOf, dot, length, levelRightOf, scale, subtract } from "../../../core/flight/vector";
import { degree, mph, rpm } from "./golf-units";

const gramCentimetre2 = 1e-7; // kg·m²

function ironDelivery(speed = 90, attack = -4, loft = 24, path = 0, face = 0): Delivery {
  return {
    clubSpeed: speed * mph,
    angleOfAttack: attack * degree,
    clubPath: path * degree,
    faceAngle: face * degree,
    dynamicLoft: loft * degree,
  };
}

/** An iron's head: 270 g, 650 g·cm² about heel to toe, 2500 up the face; the third, 2500, hardly matters. */
function ironHead(depth: number): HeadBody {
  const inertia = [650 * gramCentimetre2, 2500 * gramCentimetre2, 2500 * gramCentimetre2] as const;
  return { mass: 0.27, inertia, depth: depth / 1000 };
}

function strikeIron(depth: number, toe: number, high: number): ImpactResult {
  const delivery = ironDelivery();
  const restitution = usualRestitution(delivery.clubSpeed * Math.cos(28 * degree));
  return impact({ delivery, head: ironHead(depth), strike: { toe: toe / 1000, high: high / 1000 }, contact: { restitution } });
}

// Worked out independently of this code: 90 mph, attack −4°, loft 24°, usual restitution. There the inertias were taken
// about the vertical and the level axis, here about the axes of the face, hence 2 % of room.
function checkToe(depth: number, toe: number, axis: number, start: number, ratio?: number): void {
  const centred = strikeIron(depth, 0, 0);
  const struck = strikeIron(depth, toe, 0);
  expect(Math.abs(struck.launch.spinAxis / degree - axis)).toBeLessThan(0.006 + 0.01 * Math.abs(axis));
  expect(Math.abs(struck.launch.startDirection / degree - start)).toBeLessThan(0.006);
  if (ratio !== undefined) expect(Math.abs(struck.speedRatio - centred.speedRatio - ratio)).toBeLessThan(1.5e-4);
}

test("horizontal gear effect: a toe strike draws, the more the deeper the centre of mass", () => {
  checkToe(4, 5, -0.57, 0.06, -0.0052);
  checkToe(4, 10, -1.14, 0.12, -0.0204);
  checkToe(8, 5, -1.15, 0.12);
  checkToe(8, 10, -2.29, 0.24);
  checkToe(14, 5, -2.06, 0.21);
  checkToe(14, 10, -4.07, 0.42);
});

function checkHigh(high: number, launch: number, spin: number, ratio: number): void {
  const centred = strikeIron(8, 0, 0);
  const struck = strikeIron(8, 0, high);
  expect(Math.abs((struck.launch.launchAngle - centred.launch.launchAngle) / degree - launch)).toBeLessThan(0.01);
  expect(Math.abs((struck.launch.spinRate - centred.launch.spinRate) / rpm - spin)).toBeLessThan(3);
  expect(Math.abs(struck.speedRatio - centred.speedRatio - ratio)).toBeLessThan(6e-4);
}

test("gear effect of irons is linear across the face: 0.11 to 0.41 degrees of axis for each mm, by depth", () => {
  for (const [depth, perMillimetre] of [[4, 0.11], [8, 0.23], [14, 0.41]] as const) {
    for (const toe of [2, 5, 10, -5, -10]) expect(-strikeIron(depth, toe, 0).launch.spinAxis / degree / toe).toBeCloseTo(perMillimetre, 2);
  }
});

test("vertical gear effect of an iron 8 mm deep: high launches higher with less spin, low the other way", () => {
  checkHigh(6, 0.38, -530, -0.032);
  checkHigh(-6, -0.62, 535, -0.023);
});

test("a driver's toe strike, from the head of Proceedings 2020, 49(1), 47, table 1", () => {
  const head: HeadBody = { mass: 0.204, inertia: [2843 * gramCentimetre2, 5679 * gramCentimetre2, 4085 * gramCentimetre2], depth: 0.0423 };
  const strike = (toe: number): ImpactResult =>
    impact({ delivery: ironDelivery(105, 0, 13), head, strike: { toe, high: 0 }, contact: { restitution: 0.83 } });
  const centred = strike(0).speedRatio;
  expect(strike(0.01).launch.spinAxis / degree).toBeCloseTo(-12.8, 1);
  expect(strike(0.01).speedRatio / centred - 1).toBeCloseTo(-0.006, 3);
  expect(strike(0.02).speedRatio / centred - 1).toBeCloseTo(-0.025, 3);
});

/** Share of the face in the start direction and of the loft in the launch angle, for small face to path. */
function checkShares(
  tangential: number,
  [speed, attack, loft, mass]: readonly [number, number, number, number],
  horizontal: number,
  vertical?: number,
): void {
  const delivery = ironDelivery(speed, attack, loft, 0, 1);
  const restitution = usualRestitution(delivery.clubSpeed * Math.cos(spinLoft(delivery)));
  const { launch } = impact({ delivery, head: { ...ironHead(0), mass }, strike: { toe: 0, high: 0 }, contact: { restitution, tangentialRestitution: tangential } });
  expect(Math.abs(launch.startDirection / degree - horizontal)).toBeLessThan(0.004);
  if (vertical !== undefined) expect(Math.abs((launch.launchAngle / degree - attack) / (loft - attack) - vertical)).toBeLessThan(0.003);
}

test("tangential restitution lowers the face's share of the start direction", () => {
  [0.785, 0.764, 0.744, 0.723].forEach((share, i) => checkShares(i / 10, [95, -4, 24, 0.27], share, [0.803, 0.784, 0.764, 0.745][i]));
  [0.801, 0.781, 0.761, 0.742].forEach((share, i) => checkShares(i / 10, [105, 0, 13, 0.2], share));
  [0.71, 0.685, 0.661, 0.638].forEach((share, i) => checkShares(i / 10, [80, -5, 41, 0.3], share));
});

test("tangential restitution of 0.1, 0.2, 0.3 raises 136 rpm for each mph and sin(spin loft) to 150, 164, 177", () => {
  for (const [tangentialRestitution, constant] of [[0, 136.3], [0.1, 150], [0.2, 164], [0.3, 177]] as const) {
    const { launch } = impact({ delivery: ironDelivery(), head: ironHead(0), strike: { toe: 0, high: 0 }, contact: { restitution: 0.78, tangentialRestitution } });
    expect(Math.abs(launch.spinRate / rpm / 90 / Math.sin(28 * degree) - constant)).toBeLessThan(0.6);
  }
});

const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });

interface Case {
  readonly delivery: Delivery;
  readonly head: HeadBody;
  readonly strike: { readonly toe: number; readonly high: number };
  readonly contact: Contact;
}

const cases: fc.Arbitrary<Case> = fc
  .record({
    delivery: fc.tuple(between(60, 115), between(-8, 5), between(8, 55), between(-6, 6), between(-6, 6)).map((d) => ironDelivery(...d)),
    head: between(0, 40).map(ironHead),
    strike: fc.record({ toe: between(-0.02, 0.02), high: between(-0.012, 0.012) }),
    restitution: between(0.6, 0.85),
    tangentialRestitution: between(0, 0.4),
    friction: fc.option(between(0.05, 0.6), { nil: undefined }),
  })
  .map(({ restitution, tangentialRestitution, friction, ...rest }) => ({
    ...rest,
    contact: { restitution, tangentialRestitution, ...(friction === undefined ? {} : { friction }) },
  }));

function checkAll(property: fc.IProperty<[Case]>): void {
  fc.assert(property, { seed: 54, numRuns: 200, endOnFailure: true });
}

/** Motion after impact of the ball's and the head's surface at the contact, and the face's axes. */
function contactAfter({ delivery, head, strike }: Case, result: ImpactResult) {
  const normal = directionOf(delivery.faceAngle, delivery.dynamicLoft);
  const toToe = levelRightOf(delivery.faceAngle);
  const arm = add(add(scale(toToe, strike.toe), scale(cross(toToe, normal), strike.high)), scale(normal, head.depth));
  const ofBall = add(result.ballVelocity, cross(result.ballSpin, scale(normal, -standardBall.radius)));
  const ofHead = add(result.headVelocity, cross(result.headSpin, arm));
  return { normal, arm, slip: subtract(ofHead, ofBall) };
}

test("momentum and moment of momentum are conserved", () => {
  checkAll(
    fc.property(cases, (given) => {
      const result = impact(given);
      const { delivery, head } = given;
      const before = scale(directionOf(delivery.clubPath, delivery.angleOfAttack), head.mass * delivery.clubSpeed);
      const after = add(scale(result.ballVelocity, standardBall.mass), scale(result.headVelocity, head.mass));
      expect(length(subtract(after, before))).toBeLessThan(1e-12 * length(before) * 100);
      // About the point of contact the head's spin and the ball's must balance what both centres carry.
      const { normal, arm } = contactAfter(given, result);
      const impulse = scale(result.ballVelocity, standardBall.mass);
      const ballMoment = scale(result.ballSpin, standardBall.inertia);
      expect(length(subtract(ballMoment, cross(scale(normal, -standardBall.radius), impulse)))).toBeLessThan(1e-12);
      expect(length(subtract(headMoment(given, result), scale(cross(arm, impulse), -1)))).toBeLessThan(1e-12);
    }),
  );
});

function headMoment({ delivery, head }: Case, { headSpin }: ImpactResult): Vector {
  const normal = directionOf(delivery.faceAngle, delivery.dynamicLoft);
  const toToe = levelRightOf(delivery.faceAngle);
  const axes = [toToe, cross(toToe, normal), normal] as const;
  return axes.reduce<Vector>((sum, axis, i) => add(sum, scale(axis, head.inertia[i]! * dot(headSpin, axis))), [0, 0, 0]);
}

test("energy is never gained", () => {
  checkAll(
    fc.property(cases, (given) => {
      const result = impact(given);
      const ball = standardBall.mass * length(result.ballVelocity) ** 2 + standardBall.inertia * length(result.ballSpin) ** 2;
      const head = given.head.mass * length(result.headVelocity) ** 2 + dot(headMoment(given, result), result.headSpin);
      expect(ball + head).toBeLessThanOrEqual(given.head.mass * given.delivery.clubSpeed ** 2 * (1 + 1e-12));
    }),
  );
});

test("face and ball part along the normal at e times the closing speed, and roll or slide within the friction cone", () => {
  checkAll(
    fc.property(cases, (given) => {
      const result = impact(given);
      const { normal, slip } = contactAfter(given, result);
      const closing = given.delivery.clubSpeed * dot(directionOf(given.delivery.clubPath, given.delivery.angleOfAttack), normal);
      expect(dot(slip, normal)).toBeCloseTo(-given.contact.restitution * closing, 8);
      const along = (v: Vector): Vector => subtract(v, scale(normal, dot(v, normal)));
      const friction = length(along(result.ballVelocity)) / dot(result.ballVelocity, normal);
      expect(friction).toBeLessThanOrEqual((given.contact.friction ?? Infinity) * (1 + 1e-9));
      expect(result.converged).toBe(true);
      if (!result.slides) return;
      expect(friction).toBeCloseTo(given.contact.friction!, 9);
      // The impulse of friction on the ball points along the sliding that remains, sprung back by e_t.
      const closingAlong = along(scale(directionOf(given.delivery.clubPath, given.delivery.angleOfAttack), given.delivery.clubSpeed));
      const undone = add(along(slip), scale(closingAlong, given.contact.tangentialRestitution!));
      expect(length(cross(along(result.ballVelocity), undone))).toBeLessThan(1e-6);
      expect(dot(result.ballVelocity, undone)).toBeGreaterThanOrEqual(0);
    }),
  );
});

test("a centred strike slides just where friction is less than what the closed form says is needed", () => {
  checkAll(
    fc.property(cases, ({ delivery, head, contact: { restitution, tangentialRestitution = 0 } }) => {
      const closed = centredImpact({ clubSpeed: delivery.clubSpeed, spinLoft: spinLoft(delivery), headMass: head.mass, restitution, tangentialRestitution });
      const slides = (share: number): boolean => {
        const friction = closed.frictionNeeded * share;
        return impact({ delivery, head: { ...head, depth: 0 }, strike: { toe: 0, high: 0 }, contact: { restitution, tangentialRestitution, friction } }).slides;
      };
      expect(slides(1.001)).toBe(false);
      expect(slides(0.999)).toBe(true);
    }),
  );
});

test("in line with the centre of mass, however deep, it is the closed form of Penner 2001", () => {
  checkAll(
    fc.property(cases, ({ delivery, head, contact }) => {
      const { restitution, tangentialRestitution = 0 } = contact;
      // The rolling impulse of a centred strike must itself pass through the centre of mass: depth 0.
      const result = impact({ delivery, head: { ...head, depth: 0 }, strike: { toe: 0, high: 0 }, contact: { restitution, tangentialRestitution } });
      const closed = centredImpact({ clubSpeed: delivery.clubSpeed, spinLoft: spinLoft(delivery), headMass: head.mass, restitution, tangentialRestitution });
      expect(result.launch.speed).toBeCloseTo(closed.ballSpeed, 9);
      expect(result.launch.spinRate).toBeCloseTo(closed.spinRate, 7);
    }),
  );
});

test("a mirrored delivery and strike launch mirrored", () => {
  checkAll(
    fc.property(cases, (given) => {
      const { delivery, strike } = given;
      const mirrored = {
        ...given,
        delivery: { ...delivery, clubPath: -delivery.clubPath, faceAngle: -delivery.faceAngle },
        strike: { ...strike, toe: -strike.toe },
      };
      const one = impact(given).launch;
      const other = impact(mirrored).launch;
      expect(other.startDirection).toBeCloseTo(-one.startDirection, 9);
      expect(other.spinAxis).toBeCloseTo(-one.spinAxis, 9);
      expect(other.launchAngle).toBeCloseTo(one.launchAngle, 9);
      expect(other.spinRate).toBeCloseTo(one.spinRate, 6);
    }),
  );
});

test("a face without friction gives no spin", () => {
  const { launch, slides } = impact({ delivery: ironDelivery(), head: ironHead(8), strike: { toe: 0.01, high: 0 }, contact: { restitution: 0.78, friction: 0 } });
  expect(slides).toBe(true);
  expect(launch.spinRate).toBe(0);
  expect(launch.launchAngle).toBeCloseTo(24 * degree, 9);
});

test("a face that never closes in, or a missing value, gives no launch", () => {
  const parts = { head: ironHead(8), strike: { toe: 0, high: 0 }, contact: { restitution: 0.78, friction: 0.3 } };
  for (const delivery of [ironDelivery(90, -20, 75), { ...ironDelivery(), faceAngle: Number.NaN }]) {
    const result = impact({ delivery, ...parts });
    expect(result.launch.speed).toBeNaN();
    expect(result.launch.spinRate).toBeNaN();
    expect(result.converged).toBe(false);
  }
});
