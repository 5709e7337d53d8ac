import type { Delivery } from "../../core/flight/d-plane";
import type { HeadBody } from "../../core/flight/impact";
import { impact } from "../../core/flight/impact";
import type { Launch } from "../../core/flight/launch";
import { degree, millimetre } from "./golf-units";

/** The name of an invented head. */
export type HeadName = "Wren" | "Heron" | "Plover";

/** An invented head. Masses, inertias, depths and restitutions are plausible assumptions: no source. */
export interface Head {
  readonly name: HeadName;
  /** rad */
  readonly loft: number;
  readonly body: HeadBody;
  /** Restitution at the best place of the face. */
  readonly restitution: number;
  /** How much of the restitution is lost 12 mm to either side, and 8 mm above or below. */
  readonly loss: { readonly sideways: number; readonly upright: number };
  /** m, where the centre of mass lies behind the face, from the strike reference: + toe, + up. */
  readonly centre: { readonly toe: number; readonly high: number };
}

const gramCentimetre2 = 1e-7; // kg·m²

/** The three heads of the samples: a blade, a cavity back, and a hollow body that is a degree and a half stronger. */
export const heads: Readonly<Record<HeadName, Head>> = {
  Wren: {
    name: "Wren",
    loft: 34 * degree,
    body: { mass: 0.27, inertia: inertia(560, 2200), depth: 4 * millimetre },
    restitution: 0.77,
    loss: { sideways: 0.045, upright: 0.035 },
    centre: { toe: -1.5 * millimetre, high: 0 },
  },
  Heron: {
    name: "Heron",
    loft: 34 * degree,
    body: { mass: 0.27, inertia: inertia(650, 2550), depth: 7 * millimetre },
    restitution: 0.781,
    loss: { sideways: 0.03, upright: 0.028 },
    centre: { toe: -0.5 * millimetre, high: 0 },
  },
  Plover: {
    name: "Plover",
    loft: 32.5 * degree,
    body: { mass: 0.272, inertia: inertia(720, 2900), depth: 12 * millimetre },
    restitution: 0.8,
    loss: { sideways: 0.02, upright: 0.024 },
    centre: { toe: 0.5 * millimetre, high: -0.5 * millimetre },
  },
};

function inertia(heelToToe: number, upTheFace: number): HeadBody["inertia"] {
  // The third axis hardly matters; along the normal an iron is about as hard to turn as about the vertical.
  return [heelToToe * gramCentimetre2, upTheFace * gramCentimetre2, upTheFace * gramCentimetre2];
}

/** A strike in m from the head's strike reference, + toe and + up. */
export interface Strike {
  readonly x: number;
  readonly y: number;
}

const tangentialRestitution = 0.1; // raises 136 rpm for each mph and sin(spin loft) to 150, what irons commonly show
const friction = 0.45; // a grooved face and a soft cover: Henrikson et al. 2020, Proceedings 49(1):27, found 0.40

/** The launch of a ball that `head` delivers so and strikes there. */
export function strikeBall(head: Head, delivery: Delivery, strike: Strike): Launch {
  const toe = strike.x - head.centre.toe;
  const high = strike.y - head.centre.high;
  const { sideways, upright } = head.loss;
  const lost = sideways * (toe / (12 * millimetre)) ** 2 + upright * (high / (8 * millimetre)) ** 2;
  const restitution = head.restitution - Math.min(0.25, lost);
  const contact = { restitution, tangentialRestitution, friction };
  return impact({ delivery, head: head.body, strike: { toe, high }, contact }).launch;
}
