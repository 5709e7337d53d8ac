import { expect, test } from "vitest";
import { otherNames } from "../../../core/query/other-names";
import { vocabulary } from "../../../core/vocabulary";
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

/** The hint of a body's first problem. */
function checkHint(body: string, expected: RegExp): void {
  expect(check(body).problems[0]!.hint).toMatch(expected);
}

const kept = (condition: string): string => `shots.filter(d => ${condition})`;
const derived = (value: string): string => `shots.derive({ c: d => ${value} })`;

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

test("L-09 commas in a number that may mean two things are not made points, and the hint says what to write", () => {
  checkNoFix([kept("d.carry > 1,500"), kept("d.carry > 1,5,2"), kept("d.carry > 1,5 && d.carry < 1,500"), derived("d.carry * 1,500"), derived("op.abs(1,5, d.carry)")]);
  checkNoFix(['shots.compare({ of: "carry", margin: 1,500 })', 'shots.compare({ of: "carry", margin: 1,500 yd })']);
  checkMends([[kept("d.carry > 0,125"), kept("d.carry > 0.125")]]);
  checkHint(kept("d.carry > 1,500"), /1500.*1\.500/u);
  checkHint(kept("d.carry > 1,5,2"), /comma.*point/u);
});

test("what is given twice is joined, and nothing that was written is taken out without being asked for", () => {
  checkMends([
    ['shots.filter(d => d.carry > 150, d => d.head === "Wren")', 'shots.filter(d => d.carry > 150 && d.head === "Wren")'],
    ["shots.filter(d => d.carry > 150 || d.indoor, (d) => (d.offline < 9 || d.indoor), d => d.indoor ? true : false)", "shots.filter(d => (d.carry > 150 || d.indoor) && (d.offline < 9 || d.indoor) && (d.indoor ? true : false))"],
    ["shots.derive({ a: d => d.carry }, { b: d => d.carry, })", "shots.derive({ a: d => d.carry, b: d => d.carry })"],
    ['shots.rollup({ a: op.count() }, {}, { b: op.mean("carry") })', 'shots.rollup({ a: op.count(), b: op.mean("carry") })'],
    ['shots.compare({ of: "carry" }, { by: "head" })', 'shots.compare({ of: "carry", by: "head" })'],
    ['chart.landing(shots, { by: "head" }, {})', 'chart.landing(shots, { by: "head" })'],
  ]);
  checkNoFix([
    "shots.filter(d => d.carry > 150, row => row.indoor)",
    "shots.filter(d => d.carry > 150 // far\n, d => d.indoor)",
    "shots.derive({ a: d => 1 }, { a: d => 2 })",
    "shots.derive((({ a: d => 1 })), ({ b: d => 2 }))",
  ]);
  for (const body of ['shots.count("carry")', "shots.slice(0, 5, 10)", "shots.filter(d => true, 3)", 'shots.rollup({ c: op.mean("carry", "total") })', "text`${shots.count().sentences(1)}`", 'shots.orderby(op.desc("carry", "total"))', 'session("spring.session.yaml", 1)']) {
    expect(check(body).problems[0]!.fix, body).toMatchObject({ title: "Remove it", byPerson: true });
  }
  checkHint("shots.filter(d => d.carry > 150, row => row.indoor)", /&&/u);
  checkHint("shots.derive({ a: d => 1 }, { a: d => 2 })", /same braces/u);
});

test("a hint says what its fix does", () => {
  checkHint(kept("d.carry > 1,5"), /1\.5/u);
  checkHint(derived("op.abs(d.offline * 1,5)"), /1\.5/u);
  checkHint('shots.rollup({ c: op.quantile("carry", 0,9) })', /0\.9/u);
  checkHint('shots.compare("carry", "head")', /between braces: .*\{ of: /u);
  checkHint("shots.filter(d => true, 3)", /^remove this$/u);
  checkHint(kept("d.head === Wern"), /^text stands in quotes: "Wren"$/u);
  checkHint(kept("d.carry === Wren"), /^a row function can use/u);
  checkHint(kept('["Wren"].includes(d.head)'), /^write op\.any_of\(/u);
  checkHint(kept("[].includes(d.head)"), /^write op\.any_of\(/u);
  checkHint(derived("Math.abs(d.carry)"), /^write op\.abs\(/u);
  checkHint(derived("d.head.toUpperCase()"), /^write op\.upper\(/u);
  checkHint(derived("sqr(d.carry)"), /^functions are op\.name/u);
  checkHint(kept("100 < d.carry < 150"), /&&/u);
  checkHint(kept("(100 < d.carry) < 150"), /&&/u);
  checkHint(kept('d.carry > "far"'), /^numbers, text and truth values/u);
});

test("L-09 what is ordered from the greatest down stays so", () => {
  for (const [written, name] of [['"-carry"', "carry"], ['"carry desc"', "carry"], ["-d.carry", "carry"], ["-carry", "carry"], ["d => -d.carry", "carry"], ['desc("head")', "head"]] as const) {
    checkMends([[`shots.orderby("zone", ${written})`, `shots.orderby("zone", op.desc("${name}"))`]]);
  }
  checkMends([
    ['shots.orderby(["-carry", "head"])', 'shots.orderby(op.desc("carry"), "head")'],
    ['shots.orderby([d.head, desc("carry"), op.desc("total")])', 'shots.orderby("head", op.desc("carry"), op.desc("total"))'],
    ['shots.orderby("carry", "desc")', 'shots.orderby(op.desc("carry"))'],
    ['shots.orderby("head", "carry", "DESC")', 'shots.orderby("head", op.desc("carry"))'],
    ['shots.orderby("head", "ascending", "carry")', 'shots.orderby("head", "carry")'],
  ]);
  expect(check('shots.rename({ carry: "desc" }).orderby("offline", "desc")').problems).toEqual([]);
  checkNoFix(['shots.select("-carry")', 'shots.orderby("-nothing")', 'shots.select(["-carry", "head"])', 'shots.orderby(["nothing", "head"])', 'shots.orderby("desc")']);
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

test("several columns in one text become texts of their own", () => {
  checkMends([
    ['shots.select("carry, head", "zone")', 'shots.select("carry", "head", "zone")'],
    ['shots.orderby("head,carry")', 'shots.orderby("head", "carry")'],
    ['shots.describe({ of: "carry, offline" })', 'shots.describe({ of: ["carry", "offline"] })'],
    ['shots.describe({ of: ["total", "carry, offline"] })', 'shots.describe({ of: ["total", "carry", "offline"] })'],
  ]);
  checkNoFix(['shots.select("carry, nothing")', 'shots.compare({ of: "carry, offline" })']);
  expect(check('shots.rename({ carry: "carry, head" }).select("carry, head")').problems).toEqual([]);
});

test("L-09 a list that a value is looked for in becomes op.any_of", () => {
  for (const written of ['["Wren", "Heron"].includes(d.head)', 'op.includes(["Wren", "Heron"], d.head)', 'op.any_of(d.head, ["Wren", "Heron"])', 'd.head === ["Wren", "Heron"]']) {
    checkMends([[kept(written), kept('op.any_of(d.head, "Wren", "Heron")')]]);
  }
  checkMends([[kept('d.head !== ["Wren", "Heron"]'), kept('!op.any_of(d.head, "Wren", "Heron")')]]);
  checkNoFix([kept("[].includes(d.head)"), kept('d.head === ["Wren", 3 + (4)].length'), kept('["Wren"].indexOf(d.head)'), kept('d.head.includes("Wr", 2)')]);
});

test("L-09 a head without its quotes gets them, and the letters it is known by", () => {
  checkMends([
    [kept("d.head === Wren"), kept('d.head === "Wren"')],
    [kept("Heron !== d.head"), kept('"Heron" !== d.head')],
    [kept("d.head === Wern"), kept('d.head === "Wren"')],
    [kept('op.any_of(d.head, "Wren", Heron)'), kept('op.any_of(d.head, "Wren", "Heron")')],
    [kept("op.starts_with(d.head, Wr)"), kept('op.starts_with(d.head, "Wr")')],
    [`const lady = "Wren";\n${kept("d.head === lad")}`, `const lady = "Wren";\n${kept("d.head === lady")}`],
    [`const wren = "Wren";\n${kept("d.head === Wren")}`, `const wren = "Wren";\n${kept('d.head === "Wren"')}`],
  ]);
  checkNoFix([kept("d.carry === Wren"), kept("Wren === Heron")]);
});

test("L-09 a calculation with columns becomes a row function of them", () => {
  checkMends([
    ['shots.filter(head === "Wren")', kept('d.head === "Wren"')],
    ['shots.filter(150 < carry && d.head === "Wren")', kept('150 < d.carry && d.head === "Wren"')],
    ["shots.derive({ c: op.abs(offline) })", derived("op.abs(d.offline)")],
    ["const least = 150;\nshots.filter(carry > least)", `const least = 150;\n${kept("d.carry > least")}`],
  ]);
  expect(fixed('shots.filter(head.includes("W"))')).toBe(kept('d.head.includes("W")'));
  checkNoFix(["shots.filter(head)", 'shots.filter(nothing === "Wren")']);
});

test("L-09 two comparisons in one become two", () => {
  checkMends([
    [kept("100 < d.carry < 150"), kept("100 < d.carry && d.carry < 150")],
    [kept("100 < d.carry < 150 < 200"), kept("100 < d.carry && d.carry < 150 && 150 < 200")],
    [kept("1 < d.carry < d.total < 300"), kept("1 < d.carry && d.carry < d.total && d.total < 300")],
    [kept("150 >= d.carry + 1 > 100 && d.offline < 3"), kept("150 >= d.carry + 1 && (d.carry + 1) > 100 && d.offline < 3")],
  ]);
  checkNoFix([kept("(100 < d.carry) < 150"), kept("d.indoor === 100 < d.carry < 150"), kept("100 < d.carry < 150 === d.indoor"), kept("(1 < d.carry < 2) < 3"), kept("(1 < d.carry) < 2 < 3")]);
});

test("signs in another order or of another language become those of a cell", () => {
  checkMends([
    [kept("d.carry =< 150"), kept("d.carry <= 150")],
    [kept("d.carry = > 150"), kept("d.carry >= 150")],
    [kept("d.carry => 150"), kept("d.carry >= 150")],
    [kept("d.carry => d.total && d.indoor"), kept("d.carry >= d.total && d.indoor")],
    [kept('d.head <> "Wren"'), kept('d.head !== "Wren"')],
    [kept("d.indoor && not d.indoor"), kept("d.indoor && !d.indoor")],
    [kept("not (d.carry > 150)"), kept("!(d.carry > 150)")],
    ["shots.filter(d = > d.carry > 150)", kept("d.carry > 150")],
    ["shots.filter((d) -> d.carry > 150)", "shots.filter((d) => d.carry > 150)"],
    ["shots.derive({ c: d -> d.carry })", derived("d.carry")],
    [kept("d.indoor | d.carry > 3"), kept("d.indoor || d.carry > 3")],
    ["shots | filter(d => d.indoor)", kept("d.indoor")],
    ["shots.filter(d => d.indoor)\n  |> count()", "shots.filter(d => d.indoor).count()"],
  ]);
  checkNoFix([kept("not d.carry > 150"), kept("d.carry - > 150"), "shots | stock", kept("d.indoor | starts(d.head)")]);
  checkHint(kept("d.carry =< 150"), /at most is written <=/u);
});

test("one slip is one problem: other words for const, functions written out, hyphens in a name", () => {
  const far = "d => d.carry > 150 && op.any_of(d.head, \"Wren\", 'Heron')";
  checkMends([
    ["let far = shots.filter(d => d.indoor);\nfar", "const far = shots.filter(d => d.indoor);\nfar"],
    ["var far = shots; far", "const far = shots; far"],
    [`shots.filter(function (d) { return ${far.slice(5)}; })`, `shots.filter(${far})`],
    [`shots.filter(function far(d) {\n  return ${far.slice(5)}\n})`, `shots.filter(${far})`],
    [`shots.filter(d => { return ${far.slice(5)}; })`, `shots.filter(${far})`],
    [derived("d.club-speed * 2"), derived("d.club_speed * 2")],
    ["shots.filter(row => row.face-to-path > 1)", "shots.filter(row => row.face_to_path > 1)"],
    [derived("d.club_speed - d.ball-speed"), derived("d.club_speed - d.ball_speed")],
  ]);
  checkNoFix(["shots.filter(function (d) { const a = 1; return d.carry > a; })", "shots.filter(function (d, i) { return true; })", "shots.filter(d => { return d.indoor, true; })", "shots.filter(d => { return d.indoor /* in */; })", "shots.filter(d => { d.indoor })"]);
  for (const body of ["let far = shots; far", "var far = shots; far", "shots.filter(function (d) { return true })", derived("d.club-speed"), derived("d.club-speed * d.carry")]) expect(check(body).problems, body).toHaveLength(1);
  expect(check(`const total = 3;\n${derived("d.carry-total")}`).problems).toEqual([]);
  checkHint("shots.filter(function (d, i) { return true })", /a row function has one plain name/u);
});

test("what cannot be read is told by what would be accepted", () => {
  checkMends([
    ['shots.compare({ of "carry" })', 'shots.compare({ of: "carry" })'],
    ["shots.derive({ c d => d.carry, e: d => d.carry })", "shots.derive({ c: d => d.carry, e: d => d.carry })"],
    ['shots.rollup({ op.mean("carry") })', 'shots.rollup({ mean_carry: op.mean("carry") })'],
    ["shots.rollup({ n: op.count(), op.count() })", "shots.rollup({ n: op.count(), count: op.count() })"],
    [kept("d.indoor && d.carry between 3 and d.total"), kept("d.indoor && d.carry >= 3 && d.carry <= d.total")],
  ]);
  for (const [before, after] of [[kept("d.carry > 150 yd"), kept('d.carry > "150 yd"')], [kept("150yd < d.carry && d.indoor"), kept('"150 yd" < d.carry && d.indoor')]] as const) {
    expect(fixed(before)).toBe(after);
    checkMends([[after, after.replace('"150 yd"', "150")]]);
  }
  expect(check('shots.rollup({ op.mean("carry") })').problems[0]!.fix?.byPerson).toBe(true);
  checkNoFix([derived("d.carry + 3 yd"), kept("d.carry + 1 between 3 and 4"), "shots.select(carry head)"]);
  checkHint(derived("d.carry + 3 yd"), /in the column's unit and has none of its own: 3;/u);
  checkHint(kept("d.carry > 150 yd"), /beside a column a number is in the column's unit/u);
  checkHint(kept("d.carry + 1 between 3 and 4"), /compared with each/u);
  checkHint('shots.compare({ of "carry" })', /a name, a colon and a value/u);
  checkHint('shots.rollup({ op.mean("carry") })', /a name and a colon/u);
});

test("a text compared with a number is what is wrong, and a measure in it is written in the column's unit", () => {
  checkMends([
    [kept('d.carry > "150 yd"'), kept("d.carry > 150")],
    [kept('d.carry > "150 m"'), kept("d.carry > 164.0419948")],
    [kept('"45 m/s" < d.ball_speed'), kept("100.6621331 < d.ball_speed")],
  ]);
  checkNoFix([kept('d.carry > "150 rpm"'), kept('d.carry === ""'), `const far = "150 yd";\n${kept("d.carry > far")}`]);
  expect(check(kept('d.carry === ""')).problems[0]!.message).toBe("the right of === is text; a number in yd is wanted here");
});

test("L-09 functions by the names they have elsewhere become those of here", () => {
  checkMends([
    ['shots.rollup({ c: op.avg("carry") })', 'shots.rollup({ c: op.mean("carry") })'],
    ['shots.rollup({ c: op.STDEV("carry") })', 'shots.rollup({ c: op.sd("carry") })'],
    [derived("op.tan(d.launch_angle)"), derived("op.tan_deg(d.launch_angle)")],
    [derived("op.isNull(d.carry)"), derived("op.is_missing(d.carry)")],
  ]);
  checkNoFix([derived("Math.tan(d.launch_angle)"), derived("op.cube(d.carry)")]);
  expect(check(derived("op.cube(d.carry)")).problems[0]!.hint).toContain("functions are: abs, sign, round");
});

test("each name from elsewhere leads to a function that is there", () => {
  const all = [...vocabulary.rowFunctions.keys(), ...vocabulary.aggregates.keys()];
  for (const [other, here] of otherNames) {
    expect(all, other).toContain(here);
    expect(all).not.toContain(other);
  }
});

test("L-09 columns given by place become options", () => {
  checkMends([
    ['shots.compare("carry")', 'shots.compare({ of: "carry" })'],
    ["shots.compare(d => d.carry)", 'shots.compare({ of: "carry" })'],
    ["shots.describe(carry)", 'shots.describe({ of: "carry" })'],
    ['shots.compare("carry", "head")', 'shots.compare({ of: "carry", by: "head" })'],
    ['shots.compare("carry", { margin: "3 yd" })', 'shots.compare({ of: "carry", margin: "3 yd" })'],
    ['shots.describe("carry", "offline")', 'shots.describe({ of: ["carry", "offline"] })'],
  ]);
  checkNoFix(['shots.compare("head")', 'shots.compare("carry", "head", "3 yd")', 'shots.compare("carry", { of: "total" })', 'flight("130 mph")']);
});

test("L-01 one slip in an option is one problem", () => {
  const codes = (body: string): readonly string[] => check(body).problems.map(({ code }) => code);
  expect(codes('shots.compare({ off: "carry" })')).toEqual(["query.unknown-option"]);
  expect(codes('flight({ ball_sped: "130 mph", launch_angle: "17 deg", spin_rate: "6200 rpm" })')).toEqual(["query.unknown-option"]);
  expect(codes("shots.compare({ nothing: 3 })")).toEqual(["query.unknown-option"]);
  expect(codes('shots.compare({ margn: "3 yd" })')).toEqual(["query.missing-argument", "query.unknown-option"]);
  checkNoFix(['shots.compare({ of: "carry", off: "carry" })']);
});
