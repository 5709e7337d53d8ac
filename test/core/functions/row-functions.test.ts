import { expect, test } from "vitest";
import { rowFunctions } from "../../../core/functions/registry";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { listsOf, run, runTable } from "../query/query-support";

const nothing = makeTable([numberColumn("none", [null]), textColumn("no_text", [null])], 1);
const tables = new Map([["shots", nothing]]);

/** The value of a row expression over a row in which everything is missing. */
function valueOf(expression: string): unknown {
  return listsOf(runTable(`shots.derive({ x: d => ${expression} })`, { tables }))["x"]![0];
}

/** One list of expressions and values for each function, so that none is without a test. */
const cases: Record<string, readonly (readonly [expression: string, value: unknown])[]> = {
  abs: [["op.abs(-3)", 3], ["op.abs(d.none)", null]],
  sign: [["op.sign(-3)", -1], ["op.sign(0)", 0], ["op.sign(d.none)", null]],
  round: [
    ["op.round(2.5)", 3],
    ["op.round(-2.5)", -3],
    ["op.round(2.345, 2)", 2.35],
    ["op.round(1e300, 3)", 1e300],
    ["op.round(1.5, d.none)", null],
    ["op.round(d.none, 1)", null],
  ],
  floor: [["op.floor(-1.2)", -2], ["op.floor(d.none)", null]],
  ceil: [["op.ceil(1.2)", 2], ["op.ceil(d.none)", null]],
  min: [["op.min(3, -1, 2)", -1], ["op.min(3)", 3], ["op.min(3, d.none)", null]],
  max: [["op.max(3, -1, 2)", 3], ["op.max(3, d.none)", null]],
  sqrt: [["op.sqrt(9)", 3], ["op.sqrt(-1)", null], ["op.sqrt(d.none)", null]],
  pow: [["op.pow(2, 10)", 1024], ["op.pow(-8, 1 / 3)", null], ["op.pow(0, -1)", null], ["op.pow(d.none, 0)", null]],
  hypot: [["op.hypot(3, 4)", 5], ["op.hypot(3, d.none)", null]],
  log: [["op.log(1)", 0], ["op.log(0)", null], ["op.log(-1)", null]],
  exp: [["op.exp(0)", 1], ["op.exp(1000)", null]],
  sin_deg: [["op.round(op.sin_deg(30), 12)", 0.5]],
  cos_deg: [["op.round(op.cos_deg(60), 12)", 0.5]],
  tan_deg: [["op.round(op.tan_deg(45), 12)", 1]],
  atan2_deg: [["op.atan2_deg(1, 1)", 45], ["op.atan2_deg(0, -1)", 180], ["op.atan2_deg(d.none, 1)", null]],
  lower: [['op.lower("WREN Ä")', "wren ä"], ["op.lower(d.no_text)", null]],
  // In Turkish the capital of i has a dot; the result here does not depend on where it runs.
  upper: [['op.upper("title")', "TITLE"]],
  trim: [['op.trim("  a b ")', "a b"]],
  length: [['op.length("🦅a")', 2], ['op.length("")', 0], ["op.length(d.no_text)", null]],
  starts_with: [['op.starts_with("low toe", "low")', true], ['op.starts_with("low toe", "toe")', false], ['op.starts_with(d.no_text, "")', null]],
  ends_with: [['op.ends_with("low toe", "toe")', true], ['op.ends_with("low toe", "low")', false]],
  includes: [['op.includes("a.b", ".")', true], ['op.includes("ab", ".")', false]],
  any_of: [["op.any_of(3, 1, 3)", true], ['op.any_of("a", "b")', false], ["op.any_of(d.none, 1)", null], ["op.any_of(true, false, true)", true]],
  is_missing: [["op.is_missing(d.none)", true], ["op.is_missing(0)", false], ["op.is_missing(null)", true]],
  if_missing: [["op.if_missing(d.none, 3)", 3], ["op.if_missing(2, 3)", 2], ["op.if_missing(d.none, d.none)", null], ['op.if_missing(d.no_text, "a")', "a"]],
};

test.each(Object.entries(cases))("%s", (_, pairs) => {
  for (const [expression, value] of pairs) expect(valueOf(expression), expression).toEqual(value);
});

test("every function has a test", () => {
  expect(Object.keys(cases).sort()).toEqual(rowFunctions.map(({ name }) => name).sort());
});

test("a result outside a function's range is missing and counted; a missing argument is not", () => {
  expect(run("shots.derive({ x: d => op.log(0), y: d => op.log(d.none) })", { tables }).problems.map(({ code }) => code)).toEqual(["query.undefined-numbers"]);
});

test("no function throws, whatever values of its kinds it is given", () => {
  const values = { number: [0, -1, 2.5, 1e308, -0], text: ["", "a", "🦅", "\ud800"], truth: [true, false], any: [0, "a", false] };
  for (const { name, apply, parameters, takesMissing } of rowFunctions) {
    const choices = parameters.map(({ kind }) => (takesMissing === true ? [...values[kind], null] : values[kind]));
    for (const a of choices[0]!) {
      expect(() => apply(a), name).not.toThrow();
      for (const b of choices[1] ?? []) expect(() => apply(a, b), name).not.toThrow();
    }
  }
});
