import { expect, test } from "vitest";
import { check, fixed } from "./query-support";

/** A body and what its first fix makes of it: a body in which nothing is wrong. */
type Mend = readonly [before: string, after: string];

function checkMends(mends: readonly Mend[]): void {
  for (const [before, after] of mends) {
    expect(fixed(before)).toBe(after);
    expect(check(after).problems, after).toEqual([]);
  }
}

function checkNoFix(bodies: readonly string[]): void {
  for (const body of bodies) {
    expect(check(body).problems.map(({ severity }) => severity), body).toContain("error");
    expect(check(body).problems.flatMap(({ fix }) => fix ?? []), body).toEqual([]);
  }
}

test("L-09 a decimal comma becomes a point, and nothing of the number is lost", () => {
  checkMends([
    ["shots.filter(d => d.carry > 1,5)", "shots.filter(d => d.carry > 1.5)"],
    ["shots.filter(d => d.carry > 1,5 && d.carry < 200,5)", "shots.filter(d => d.carry > 1.5 && d.carry < 200.5)"],
    ["shots.filter(d => op.abs(d.offline * 1,5) > 2)", "shots.filter(d => op.abs(d.offline * 1.5) > 2)"],
    ['shots.rollup({ c: op.quantile("carry", 0,9) })', 'shots.rollup({ c: op.quantile("carry", 0.9) })'],
    ["shots.derive({ c: d => op.hypot(d.offline * 1,5, d.carry) })", "shots.derive({ c: d => op.hypot(d.offline * 1.5, d.carry) })"],
    ["shots.derive({ c: d => d.carry * 1,5 })", "shots.derive({ c: d => d.carry * 1.5 })"],
    ["shots.derive({ c: d => d.carry * 1,5 * 2, e: d => d.carry })", "shots.derive({ c: d => d.carry * 1.5 * 2, e: d => d.carry })"],
    ['shots.compare({ of: "carry", confidence: 0,95 })', 'shots.compare({ of: "carry", confidence: 0.95 })'],
    ['shots.compare({ of: "carry", margin: 1,5 yd })', 'shots.compare({ of: "carry", margin: "1.5 yd" })'],
  ]);
});

test("L-09 what is ordered from the greatest down stays so", () => {
  for (const [written, name] of [['"-carry"', "carry"], ['"carry desc"', "carry"], ["-d.carry", "carry"], ["-carry", "carry"], ["d => -d.carry", "carry"], ['desc("head")', "head"]] as const) {
    checkMends([[`shots.orderby("zone", ${written})`, `shots.orderby("zone", op.desc("${name}"))`]]);
  }
  checkNoFix(['shots.select("-carry")', 'shots.orderby("-nothing")']);
});

test("L-09 columns named by a row function or in a list become names in quotes", () => {
  checkMends([
    ["shots.groupby(d => d.head)", 'shots.groupby("head")'],
    ["shots.orderby(row => row.carry)", 'shots.orderby("carry")'],
    ['shots.groupby(["head", "zone"])', 'shots.groupby("head", "zone")'],
    ["shots.select([d.head, carry])", 'shots.select("head", "carry")'],
    ["shots.describe({ of: d => d.carry })", 'shots.describe({ of: "carry" })'],
  ]);
  checkNoFix(["shots.groupby(op.mean)", "shots.groupby(d => d.carry > 150)"]);
});
