import type { Ball } from "./ball";
import { standardBall } from "./ball";
import type { Delivery } from "./d-plane";
import { faceNormal, pathDirection } from "./d-plane";
import type { Launch } from "./launch";
import type { Matrix, Vector } from "./vector";
import { add, azimuthOf, cross, dot, elevationOf, length, levelRightOf, scale, solve, subtract, unit } from "./vector";

/** A head as a rigid body, free at impact: SI. */
export interface HeadBody {
  /** kg */
  readonly mass: number;
  /** kg·m² about the three axes of the face: heel to toe, up the face, along its normal. */
  readonly inertia: readonly [heelToToe: number, upTheFace: number, normal: number];
  /** m from the face back to the centre of mass, along the normal. */
  readonly depth: number;
}

/** Where the ball meets the face: m from the projection of the centre of mass on it, + toe and + up. */
export interface StrikePoint {
  readonly toe: number;
  readonly high: number;
}

/** How ball and face behave where they touch. */
export interface Contact {
  /** Coefficient of restitution along the normal, 0..1. */
  readonly restitution: number;
  /** Coefficient of restitution along the face: 0 rolling when it leaves (the default), above 0 sprung back. */
  readonly tangentialRestitution?: number;
  /** Friction coefficient; without one the ball never slides. */
  readonly friction?: number;
}

/** All that an impact needs. */
export interface Impact {
  readonly delivery: Delivery;
  readonly head: HeadBody;
  readonly strike: StrikePoint;
  readonly contact: Contact;
  readonly ball?: Ball;
}

/** What an impact gives: SI and radians. */
export interface ImpactResult {
  /** The launch; its spin axis is the tilt about the direction of launch, its spin rate the whole spin. */
  readonly launch: Launch;
  /** Ball speed divided by club speed. */
  readonly speedRatio: number;
  /** m/s */
  readonly ballVelocity: Vector;
  /** rad/s */
  readonly ballSpin: Vector;
  /** m/s, of the head's centre of mass */
  readonly headVelocity: Vector;
  /** rad/s */
  readonly headSpin: Vector;
  /** True when friction did not suffice to stop the sliding. */
  readonly slides: boolean;
  /** False when the direction of sliding had not settled. */
  readonly converged: boolean;
}

/**
 * Launch and spin after an impact anywhere on a flat face, by the balance of momentum of two rigid bodies.
 *
 * The impulse P on the ball solves K·P = u − u*, with u the speed of approach at the contact, u* the wanted speed of
 * parting (−e along the normal, −e_t along the face) and K the compliance of ball and head at the contact. Where
 * friction is too small for it, P lies on the friction cone, along what is still wanting of u* in the plane of the face
 * (the sliding that remains, when e_t is 0). The head is free: shaft and hands have no say in half a millisecond.
 * Bulge and roll are left out, and so is any fall of restitution towards the edge of a face: give the local one.
 * For a right-hander; a toe strike curves left. Where a delivery misses a value, or the spin loft is 90° or more, so
 * that the face never closes in on the ball, every number is `NaN` and `converged` false.
 *
 * Source: rigid-body impact as in Penner 2001, Am. J. Phys. 69:1073, and Cross & Nathan 2007, Am. J. Phys. 75:658.
 */
export function impact(given: Impact): ImpactResult {
  const { delivery, head, strike, contact, ball = standardBall } = given;
  const normal = faceNormal(delivery);
  const toToe = levelRightOf(delivery.faceAngle);
  const axes: Matrix = [toToe, cross(toToe, normal), normal];
  const headArm = add(add(scale(axes[0], strike.toe), scale(axes[1], strike.high)), scale(normal, head.depth));
  const ballArm = scale(normal, -ball.radius);
  const approach = scale(pathDirection(delivery), delivery.clubSpeed);

  const headTurn = (moment: Vector): Vector => turnOf(axes, head.inertia, moment);
  const ballTurn = (moment: Vector): Vector => scale(moment, 1 / ball.inertia);
  /** K·impulse: the change of the relative speed at the contact. */
  const yielding = (impulse: Vector): Vector => {
    const turning = add(
      cross(headTurn(cross(headArm, impulse)), headArm),
      cross(ballTurn(cross(ballArm, impulse)), ballArm),
    );
    return add(scale(impulse, 1 / ball.mass + 1 / head.mass), turning);
  };

  const { impulse, slides, converged } = impulseOf(approach, normal, yielding, contact);
  const ballVelocity = scale(impulse, 1 / ball.mass);
  const ballSpin = ballTurn(cross(ballArm, impulse));
  return {
    launch: launchOf(ballVelocity, ballSpin),
    speedRatio: length(ballVelocity) / delivery.clubSpeed,
    ballVelocity,
    ballSpin,
    headVelocity: subtract(approach, scale(impulse, 1 / head.mass)),
    headSpin: scale(headTurn(cross(headArm, impulse)), -1),
    slides,
    converged,
  };
}

/** The turning rate that a moment gives a body with the given principal inertias about the given axes. */
function turnOf(axes: Matrix, inertia: readonly [number, number, number], moment: Vector): Vector {
  return axes.reduce<Vector>((sum, axis, i) => add(sum, scale(axis, dot(axis, moment) / inertia[i]!)), [0, 0, 0]);
}

/** Launch of a ball from its velocity and spin; the spin's part along the flight counts in the rate alone. */
function launchOf(velocity: Vector, spin: Vector): Launch {
  const startDirection = azimuthOf(velocity);
  const right = levelRightOf(startDirection);
  const above = cross(right, unit(velocity));
  return {
    speed: length(velocity),
    launchAngle: elevationOf(velocity),
    startDirection,
    spinRate: length(spin),
    spinAxis: Math.atan2(-dot(spin, above), dot(spin, right)),
  };
}

interface Impulse {
  readonly impulse: Vector;
  readonly slides: boolean;
  readonly converged: boolean;
}

const mostRounds = 500; // the direction of friction settles in some 50

/** The impulse on the ball that fulfils the law of the contact; `yielding` multiplies with the compliance K. */
function impulseOf(approach: Vector, normal: Vector, yielding: (impulse: Vector) => Vector, contact: Contact): Impulse {
  const { restitution, tangentialRestitution = 0, friction = Infinity } = contact;
  const closing = dot(approach, normal);
  if (!(closing > 0)) return { impulse: [Number.NaN, Number.NaN, Number.NaN], slides: false, converged: false };
  const sideways = subtract(approach, scale(normal, closing));
  const wanted = add(scale(normal, -restitution * closing), scale(sideways, -tangentialRestitution));
  // K is symmetric, so that its columns serve as rows.
  const compliance: Matrix = [yielding([1, 0, 0]), yielding([0, 1, 0]), yielding([0, 0, 1])];
  const sticking = solve(compliance, subtract(approach, wanted));
  const pressing = dot(sticking, normal);
  if (length(subtract(sticking, scale(normal, pressing))) <= friction * pressing)
    return { impulse: sticking, slides: false, converged: true };

  const sliding = (direction: Vector): Vector => {
    const cone = add(normal, scale(direction, friction));
    return scale(cone, ((1 + restitution) * closing) / dot(normal, yielding(cone)));
  };
  // Friction points along what it leaves undone of the wanted speed along the face. The step towards that direction is
  // halved whenever it turns back, as it does where the gear effect of a toe strike is strong.
  let direction = unit(sideways);
  let turn: Vector = [0, 0, 0];
  let share = 0.5;
  for (let round = 0; round < mostRounds; round++) {
    const undone = subtract(subtract(approach, yielding(sliding(direction))), wanted);
    const next = subtract(unit(subtract(undone, scale(normal, dot(undone, normal)))), direction);
    if (length(next) < 1e-12) return { impulse: sliding(direction), slides: true, converged: true };
    if (dot(next, turn) < 0) share /= 2;
    turn = next;
    direction = unit(add(direction, scale(turn, share)));
  }
  return { impulse: sliding(direction), slides: true, converged: false };
}
