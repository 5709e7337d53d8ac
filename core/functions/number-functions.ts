import type { RowFunction } from "../query/vocabulary";
import { commonType, likeFirst, numberParameter, pureNumber, pureOnly } from "./function-types";

/** Digits after the point that `round` takes. */
const mostDigits = 12;

/** Functions of numbers. */
export const numberFunctions: readonly RowFunction[] = [
  {
    name: "abs",
    help: { summary: "The number without its sign.", example: "shots.derive({ miss: d => op.abs(d.offline) })" },
    parameters: [numberParameter],
    type: likeFirst,
    apply: (value) => Math.abs(value as number),
  },
  {
    name: "sign",
    help: { summary: "1 for a positive number, −1 for a negative one, 0 for 0.", example: "shots.derive({ side: d => op.sign(d.offline) })" },
    parameters: [numberParameter],
    type: () => pureNumber,
    apply: (value) => Math.sign(value as number),
  },
  {
    name: "round",
    help: {
      summary: "The number rounded to so many digits after the point, halves away from 0; to a whole number when digits are left out.",
      example: "shots.derive({ near: d => op.round(d.carry, 1) })",
    },
    parameters: [numberParameter, { name: "digits", kind: "number", optional: true }],
    type: ([value, digits]) => (digits === undefined || digits.unit === null ? (value ?? pureNumber) : "digits is a plain number"),
    apply: (value, digits = 0) => {
      if (!(Number.isInteger(digits) && (digits as number) >= 0 && (digits as number) <= mostDigits)) return Number.NaN;
      return rounded(value as number, digits as number);
    },
  },
  {
    name: "floor",
    help: { summary: "The greatest whole number that is not above the number.", example: "shots.derive({ whole: d => op.floor(d.carry) })" },
    parameters: [numberParameter],
    type: likeFirst,
    apply: (value) => Math.floor(value as number),
  },
  {
    name: "ceil",
    help: { summary: "The least whole number that is not below the number.", example: "shots.derive({ whole: d => op.ceil(d.carry) })" },
    parameters: [numberParameter],
    type: likeFirst,
    apply: (value) => Math.ceil(value as number),
  },
  {
    name: "min",
    help: { summary: "The least of the numbers; missing when one of them is.", example: "shots.derive({ short: d => op.min(d.carry, d.total) })" },
    parameters: [{ name: "value", kind: "number", rest: true }],
    type: commonType,
    apply: (...values) => Math.min(...(values as number[])),
  },
  {
    name: "max",
    help: { summary: "The greatest of the numbers; missing when one of them is.", example: "shots.derive({ long: d => op.max(d.carry, d.total) })" },
    parameters: [{ name: "value", kind: "number", rest: true }],
    type: commonType,
    apply: (...values) => Math.max(...(values as number[])),
  },
  {
    name: "sqrt",
    help: {
      summary: "The square root; missing for a negative number. The root of a quantity has no unit that a column is shown in.",
      example: "shots.derive({ root: d => op.sqrt(d.speed_ratio) })",
    },
    parameters: [numberParameter],
    type: () => pureNumber,
    apply: (value) => Math.sqrt(value as number),
  },
  {
    name: "pow",
    help: { summary: "The number raised to a power.", example: "shots.derive({ square: d => op.pow(d.speed_ratio, 2) })" },
    parameters: [numberParameter, { name: "power", kind: "number" }],
    type: ([, power]) => (power === undefined || power.unit === null ? pureNumber : "the power is a plain number"),
    apply: (value, power) => (value as number) ** (power as number),
  },
  {
    name: "hypot",
    help: {
      summary: "The length of the straight line that goes so far one way and so far across it.",
      example: "shots.derive({ from_centre: d => op.hypot(d.strike_x, d.strike_y) })",
    },
    parameters: [numberParameter, { name: "across", kind: "number" }],
    type: commonType,
    apply: (value, across) => Math.hypot(value as number, across as number),
  },
  {
    name: "log",
    help: {
      summary: "The natural logarithm of a number without a unit; missing for 0 and below.",
      example: "shots.derive({ ratio: d => op.log(d.ball_speed / d.club_speed) })",
    },
    parameters: [numberParameter],
    type: pureOnly,
    apply: (value) => Math.log(value as number),
  },
  {
    name: "exp",
    help: { summary: "The number e raised to a number without a unit.", example: "shots.derive({ grown: d => op.exp(d.speed_ratio) })" },
    parameters: [numberParameter],
    type: pureOnly,
    apply: (value) => Math.exp(value as number),
  },
];

function rounded(value: number, digits: number): number {
  const scale = 10 ** digits;
  const scaled = Math.abs(value) * scale;
  // Beyond 2^53 there are no digits after the point left to round.
  return scaled > Number.MAX_SAFE_INTEGER ? value : (Math.sign(value) * Math.round(scaled)) / scale;
}
