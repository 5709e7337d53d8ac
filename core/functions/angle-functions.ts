import type { RowFunction, ValueType } from "../query/vocabulary";
import { commonType, pureNumber } from "./function-types";

const degree = Math.PI / 180;
const angle = { name: "angle", kind: "number" } as const;

/** Functions of angles; every angle is in degrees, as the angles of a notebook are. */
export const angleFunctions: readonly RowFunction[] = [
  {
    name: "sin_deg",
    help: { summary: "The sine of an angle in degrees.", example: "shots.derive({ up: d => d.ball_speed * op.sin_deg(d.launch_angle) })" },
    parameters: [angle],
    type: ofAngle,
    apply: (value) => Math.sin((value as number) * degree),
  },
  {
    name: "cos_deg",
    help: { summary: "The cosine of an angle in degrees.", example: "shots.derive({ forward: d => d.ball_speed * op.cos_deg(d.launch_angle) })" },
    parameters: [angle],
    type: ofAngle,
    apply: (value) => Math.cos((value as number) * degree),
  },
  {
    name: "tan_deg",
    help: { summary: "The tangent of an angle in degrees.", example: "shots.derive({ slope: d => op.tan_deg(d.descent_angle) })" },
    parameters: [angle],
    type: ofAngle,
    apply: (value) => Math.tan((value as number) * degree),
  },
  {
    name: "atan2_deg",
    help: {
      summary: "The angle in degrees, −180 to 180, of the direction that goes so far up and so far along.",
      example: "shots.derive({ bearing: d => op.atan2_deg(d.offline, d.carry) })",
    },
    parameters: [
      { name: "up", kind: "number" },
      { name: "along", kind: "number" },
    ],
    type: (given) => {
      const common = commonType(given);
      return typeof common === "string" ? common : { kind: "number", unit: "deg" };
    },
    apply: (up, along) => Math.atan2(up as number, along as number) / degree,
  },
];

function ofAngle([type]: readonly ValueType[]): ValueType | string {
  const unit = type?.unit ?? null;
  return unit === null || unit === "deg" ? pureNumber : `an angle in deg, not a number in ${unit}`;
}
