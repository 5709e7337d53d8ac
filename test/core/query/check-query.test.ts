import { expect, test } from "vitest";
import type { Schema } from "../../../core/table/schema";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { check, fixed, listsOf, placed, runTable } from "./query-support";

/** Expects the body to have exactly these problems, each written as its code and the text it is placed on. */
function checkProblems(body: string, ...expected: string[]): void {
  expect(placed(body, check(body).problems), body).toEqual(expected);
}

/** Expects the body to be without problems. */
function checkFine(body: string): void {
  checkProblems(body);
}

const row = (expression: string): string => `shots.filter(d => ${expression})`;
const derived = (expression: string): string => `shots.derive({ x: d => ${expression} })`;

test("cells that are fine", () => {
  checkFine("shots");
  checkFine("shots;");
  checkFine("// a remark\nshots /* another */");
  checkFine("const fast = 85\nconst quick = shots.filter(d => d.club_speed > fast);\nquick.groupby('head').count()");
  checkFine('session("spring.session.yaml").count()');
  checkFine('sessions("sessions/*.session.yaml").filter(d => d.anything > 3)');
  checkFine('chart.landing(shots, { by: "head" })');
  checkFine(row('(d.head === "Wren" || d.head !== "Heron") && !(d.carry <= 150) && d.note === null'));
  checkFine(derived('d.carry > 150 ? "long" : d.carry > 140 ? "middle" : null'));
  checkFine(row("d.indoor"));
  checkFine("shots.filter(shot => shot.carry > 1_50.5e0)");
});

test("Q-10 unknown names are told with the nearest, and the fix replaces the token alone", () => {
  checkProblems("shots.fliter(d => d.carry > 1)", "query.unknown-verb fliter");
  checkProblems(row("d.carri > 1"), "query.unknown-column carri");
  checkProblems(row('d["Ball Speed"] > 1'), 'query.unknown-column "Ball Speed"');
  checkProblems(row("op.abss(d.carry) > 1"), "query.unknown-function abss");
  checkProblems('shots.rollup({ m: op.meen("carry") })', "query.unknown-function meen");
  checkProblems('shots.select("haed")', 'query.unknown-column "haed"');
  checkProblems('shots.orderby(op.desc("carri"))', 'query.unknown-column "carri"');
  checkProblems('shots.rename({ cary: "length" })', "query.unknown-column cary");
  checkProblems("stok.count()", "query.unknown-table stok");
  checkProblems("chart.landings(shots)", "query.unknown-chart landings");
  checkProblems('chart.landing(shots, { bye: "head" })', "query.unknown-option bye");
  checkProblems('const limit = 3\nshots.filter(d => d.carry > limt)', "query.unknown-name limt");
  checkProblems(row("carry > 1"), "query.unknown-name carry");
  expect(fixed("shots.fliter(d => d.carry > 1)")).toBe("shots.filter(d => d.carry > 1)");
  expect(fixed(row("d.carri > 1"))).toBe(row("d.carry > 1"));
  expect(fixed(row('d["ball speed"] > 1'))).toBe(row("d.ball_speed > 1"));
  expect(fixed("shots.select('haed')")).toBe('shots.select("head")');
  expect(fixed(row("carry > 1"))).toBe(row("d.carry > 1"));
  expect(fixed(row("d.carry == 1"))).toBe(row("d.carry === 1"));
  expect(fixed(row("d.carry != 1"))).toBe(row("d.carry !== 1"));
  expect(fixed('shots.rename({ cary: "length" })')).toBe('shots.rename({ carry: "length" })');
  const hint = check("shots.fliter()").problems[0]!.hint;
  expect(hint).toContain("did you mean filter?");
  expect(hint).toContain("pivot");
});

test("columns are looked up in the table and nowhere else", () => {
  checkProblems(row("d.shots > 1"), "query.unknown-column shots");
  checkProblems(row("shots.carry > 1"), "query.not-allowed carry");
  checkProblems("shots.filter(d => stock.filter(e => true))", "query.not-allowed filter");
  checkProblems(row("e.carry > 1"), "query.not-allowed carry");
});

test("kinds are never mixed", () => {
  checkProblems(row("d.carry"), "query.kind d.carry");
  checkProblems(row('d.carry > "150"'), 'query.kind "150"');
  checkProblems(row('"150" < d.carry'), 'query.kind "150"');
  checkProblems(row("d.head > 1"), "query.kind 1");
  checkProblems(row("d.head > d.carry"), "query.kind >");
  checkProblems(row("d.indoor > true"), "query.kind >");
  checkProblems(row("!d.carry"), "query.kind d.carry");
  checkProblems(row("d.carry && d.indoor"), "query.kind d.carry");
  checkProblems(derived("-d.head"), "query.kind d.head");
  checkProblems(derived('d.head + "x"'), "query.kind d.head", 'query.kind "x"');
  checkProblems(derived('d.indoor ? d.carry : "none"'), 'query.kind d.indoor ? d.carry : "none"');
  checkProblems(derived("d.carry ? 1 : 2"), "query.kind d.carry");
  checkProblems(derived("null"), "query.always-missing null");
  checkProblems(derived("d.indoor ? null : null"), "query.always-missing d.indoor ? null : null");
  checkProblems(derived("d.carry + null"), "query.kind null");
  checkProblems(row("d.carry < null"), "query.kind null");
  checkProblems(derived("op.abs(d.head)"), "query.kind d.head");
  checkProblems(derived("op.abs(null)"), "query.kind null");
  checkFine(derived("op.if_missing(null, d.carry)"));
  checkProblems('shots.rollup({ m: op.mean("head") })', 'query.column-kind "head"');
  checkProblems("shots.rollup({ m: op.mean(d => d.head) })", "query.kind d.head");
  checkFine('shots.rollup({ m: op.mean(d => d.total - d.carry), n: op.distinct(d => op.lower(d.head)) })');
});

test("units that do not agree are pointed out at the operator", () => {
  checkProblems(derived("d.carry + d.peak_height"), "query.unit-mismatch +");
  checkProblems(derived("d.carry - d.ball_speed"), "query.unit-mismatch -");
  checkProblems(row("d.carry > d.ball_speed"), "query.unit-mismatch >");
  checkProblems(row("d.carry === d.peak_height"), "query.unit-mismatch ===");
  checkProblems(derived("d.indoor ? d.carry : d.peak_height"), "query.unit-mismatch d.indoor ? d.carry : d.peak_height");
  checkProblems(derived("op.max(d.carry, d.peak_height)"), "query.function-type max");
  checkProblems(derived("op.log(d.carry)"), "query.function-type log");
  checkProblems(derived("op.exp(d.carry)"), "query.function-type exp");
  checkProblems(derived("op.sin_deg(d.carry)"), "query.function-type sin_deg");
  checkProblems(row("d.carry > d.speed_ratio"), "query.unit-unknown >");
  checkFine(row("d.carry > 150 && d.ball_speed > -3"));
  checkFine(derived("op.log(d.ball_speed / d.club_speed)"));
});

/** Expects the new column of a row expression to have this kind and unit. */
function checkType(expression: string, kind: string, unit: string | null): void {
  const { value, problems } = check(derived(expression));
  expect(problems, expression).toEqual([]);
  const schema = value!.result as { readonly schema: Schema };
  const column = schema.schema.columns.find(({ name }) => name === "x");
  expect([column?.kind, column?.unit], expression).toEqual([kind, unit]);
}

test("units of what is calculated", () => {
  checkType("d.carry + 1", "number", "yd");
  checkType("1 - d.carry", "number", "yd");
  checkType("-d.carry", "number", "yd");
  checkType("d.carry * 2", "number", "yd");
  checkType("2 * d.carry", "number", "yd");
  checkType("d.carry / 2", "number", "yd");
  checkType("d.carry % 2", "number", "yd");
  checkType("d.carry % d.total", "number", "yd");
  checkType("d.carry / d.total", "number", null);
  checkType("2 / d.carry", "number", null);
  checkType("d.carry * d.carry", "number", null);
  checkType("d.carry / d.ball_speed", "number", null);
  checkType("d.carry * d.speed_ratio", "number", "yd");
  checkType("d.speed_ratio * d.carry", "number", "yd");
  checkType("1 + 2", "number", null);
  checkType("(1 + 2) + d.carry", "number", "yd");
  checkType("d.indoor ? d.carry : 3", "number", "yd");
  checkType("d.indoor ? null : d.carry", "number", "yd");
  checkType("op.if_missing(d.carry, 0)", "number", "yd");
  checkType("op.hypot(d.carry, d.offline)", "number", "yd");
  checkType("op.round(d.carry, 1)", "number", "yd");
  checkType("op.sign(d.carry)", "number", null);
  checkType("op.sqrt(d.carry)", "number", null);
  checkType("op.atan2_deg(d.offline, d.carry)", "number", "deg");
  checkType("d.head", "text", null);
  checkType("op.length(d.head)", "number", null);
  checkType("d.carry > 1", "truth", null);
  checkType("d.carry === null", "truth", null);
});

test("text that a column never holds is pointed out with the nearest that it does", () => {
  checkProblems(row('d.head === "Wrenn"'), 'query.unknown-value "Wrenn"');
  checkProblems(row('"heron" !== d.head'), 'query.unknown-value "heron"');
  checkProblems(row('op.any_of(d.head, "Wren", "Plovr")'), 'query.unknown-value "Plovr"');
  checkFine(row('op.lower(d.head) === "wren"'));
  expect(fixed(row('d.head === "Wrenn"'))).toBe(row('d.head === "Wren"'));
  checkProblems('shots.filter(d => d.head === "Wren").filter(d => d.head === "Heron")', 'query.unknown-value "Heron"');
  checkProblems('shots.derive({ far: d => d.carry > 150 ? "far" : "near" }).filter(d => d.far === "fat")', 'query.unknown-value "fat"');
});

test("a verb's arguments", () => {
  checkProblems("shots.filter()", "query.missing-argument filter");
  checkProblems("shots.filter(true)", "query.expected true");
  checkProblems("shots.filter(d => true, 3)", "query.too-many-arguments 3");
  checkProblems("shots.ungroup(3)", "query.too-many-arguments 3");
  checkProblems("shots.derive({})", "query.expected {}");
  checkProblems("shots.derive({ x: 3 })", "query.expected 3");
  checkProblems("shots.derive({ x: d => 1, x: d => 2 })", "query.duplicate-name x");
  checkProblems("shots.select()", "query.missing-argument select");
  checkProblems('shots.select("head", "head")', 'query.duplicate-name "head"');
  checkProblems("shots.select(head)", "query.expected head");
  checkProblems("shots.slice(-1)", "query.number -1");
  checkProblems("shots.slice(1.5)", "query.number 1.5");
  checkProblems('shots.slice("1")', 'query.expected "1"');
  checkProblems("shots.rename({ carry: 3 })", "query.expected 3");
  checkProblems('shots.rename({ carry: "total" })', 'query.duplicate-column { carry: "total" }');
  checkProblems("shots.join(heads)", "query.missing-argument join");
  checkProblems('shots.join(3, "head")', "query.not-a-table 3");
  checkProblems('shots.join(heads, "loft")', 'query.unknown-column "loft"');
  checkProblems('shots.join(heads, "zone")', 'query.unknown-column "zone"');
  checkProblems('shots.pivot("head")', "query.missing-argument pivot");
  checkProblems('shots.pivot("head", "carry", "total")', 'query.column-count "head", "carry", "total"');
  checkProblems('shots.fold("carry", "peak_height")', 'query.mixed-columns "carry", "peak_height"');
  checkProblems('shots.concat(heads.derive({ ball: d => 1 }))', "query.different-columns heads.derive({ ball: d => 1 })");
  checkProblems("shots.orderby(op.desc())", "query.missing-argument op.desc()");
  checkProblems('shots.orderby(op.desc("carry", 1))', "query.too-many-arguments 1");
  checkProblems('shots.orderby(op.asc("carry"))', 'query.expected op.asc("carry")');
});

test("a function's arguments", () => {
  checkProblems(derived("op.abs()"), "query.missing-argument op.abs()");
  checkProblems(derived("op.abs(1, 2)"), "query.too-many-arguments 2");
  checkProblems(derived("op.any_of(d.head)"), "query.missing-argument op.any_of(d.head)");
  checkProblems(derived('op.any_of(d.head, "Wren", 3)'), "query.function-type any_of");
  checkProblems(derived('op.mean("carry")'), "query.wrong-place mean");
  checkProblems("shots.rollup({ x: op.abs(1) })", "query.wrong-place abs");
  checkProblems("shots.rollup({ x: op.mean() })", "query.missing-argument op.mean()");
  checkProblems('shots.rollup({ x: op.mean("carry", 1) })', "query.too-many-arguments 1");
  checkProblems('shots.rollup({ x: op.count("carry") })', 'query.too-many-arguments "carry"');
  checkProblems('shots.rollup({ x: op.quantile("carry") })', 'query.missing-argument op.quantile("carry")');
  checkProblems('shots.rollup({ x: op.quantile("carry", 2) })', "query.number 2");
  checkProblems("shots.rollup({ x: d => op.mean(d.carry) })", "query.expected d => op.mean(d.carry)");
  expect(fixed("shots.rollup({ x: d => op.mean(d.carry) })")).toBe('shots.rollup({ x: op.mean("carry") })');
  expect(fixed("shots.rollup({ x: op.mean(d.carry) })")).toBe('shots.rollup({ x: op.mean("carry") })');
});

test("a constant stands for a plain value or a table", () => {
  expect(listsOf(runTable('const least = -(-155)\nshots.filter(d => d.carry >= least).select("carry")'))).toEqual({ carry: [155, 158, 157, 156, 155] });
  expect(runTable('const name = "head"\nshots.groupby(name).count()').rowCount).toBe(3);
  expect(runTable("const a = shots\nconst b = a.slice(0, 4)\nconst c = b.slice(0, 2)\nc.concat(b)").rowCount).toBe(6);
  checkProblems("const b = a\nconst a = shots\nb", "query.unknown-table a");
  checkProblems("const a = shots.filter(d => d.carri > 1)\na.select('zzz')", "query.unknown-column carri");
});

test("one mistake is said once: what follows it is open", () => {
  checkProblems("shots.derive({ x: d => d.carri }).filter(d => d.x > 1).select('x').rollup({ m: op.mean('x') })", "query.unknown-column carri");
});

test("a cell whose columns are not known yet takes anything", () => {
  const body = 'later.filter(d => d.a > 1 && d.b === "x").groupby("c").rollup({ m: op.mean("d") }).derive({ e: d => d.m * 2, f: d => d.q })';
  const { value, problems } = check(body, { cells: ["shots", "later"] });
  expect(problems).toEqual([]);
  expect(value!.result).toMatchObject({ type: "table", schema: { open: true } });
});

test("places are in the whole cell, header line included", () => {
  const found = check("shots\n  .filter(d =>\n d.carri > 1)").problems[0]!;
  expect(found.range).toEqual({ start: { line: 4, column: 4 }, end: { line: 4, column: 9 } });
});

test("Q-16 letters that look like others, and characters that cannot be seen", () => {
  checkProblems(row("d.\u0441arry > 1"), "query.look-alike \u0441arry", "query.unknown-column \u0441arry");
  checkProblems("\u0455hots", "query.look-alike \u0455hots", "query.unknown-table \u0455hots");
  checkProblems(row('d.head === "Wr\u202een"'), "query.hidden-character \u202e", 'query.unknown-value "Wr\u202een"');
  checkProblems("shots // \u2067 remark", "query.hidden-character \u2067");
  checkProblems("shots\u2028", "query.line-separator \u2028");
  expect(check(row("d.\u0441arry > 1")).problems[0]!.message).toContain("U+0441");
});

test("Q-17 columns of any name, by a key in quotes", () => {
  const names = ["Ball Speed (mph)", "Grösse", "🦅", 'a"b', "a'b", "a`b", "${x}", "</script>", "a\nb", "a]b", "a.b", "", "class", "of"];
  const tables = new Map([
    [
      "shots",
      makeTable([...names.map((name, index) => numberColumn(name, [index, 1])), textColumn("head", ["Wren", "Heron"])], 2),
    ],
  ]);
  for (const [index, name] of names.entries()) {
    const key = JSON.stringify(name);
    const body = `shots.filter(d => d[${key}] === ${index}).select(${key}).rename({ ${key}: "x" })`;
    expect(listsOf(runTable(body, { tables })).x, name).toContain(index);
  }
  expect(listsOf(runTable("shots.filter(d => d.class === 12).derive({ new: d => d.of + 1 }).select('new')", { tables }))).toEqual({ new: [14] });
});

test("references and paths are given with their places", () => {
  const { value } = check('const a = stock.join(heads, "head")\na.concat(session("spring.session.yaml")).filter(d => d.heads === null)');
  expect(value!.references.map(({ name }) => name)).toEqual(["stock", "heads"]);
  expect(value!.paths.map(({ path, function: from }) => [path, from])).toEqual([["spring.session.yaml", "session"]]);
});

test("a session is named by its file", () => {
  checkProblems("session()", "query.expected session");
  checkProblems("session(shots)", "query.expected shots");
  checkProblems('session("shots")', 'query.expected "shots"');
  checkProblems('session("a.session.yaml", 1)', "query.too-many-arguments 1");
});

test("options are checked from their description", () => {
  checkProblems('chart.landing(shots, { by: "hed" })', 'query.unknown-column "hed"');
  checkProblems("chart.landing(shots, { by: 3 })", "query.expected 3");
  checkProblems("chart.landing(shots, shots)", "query.expected shots");
  checkProblems("chart.landing(shots, {}, 3)", "query.too-many-arguments 3");
  checkProblems("chart.landing()", "query.missing-argument landing");
  checkProblems('chart.landing(shots.select("head"))', 'query.unknown-column shots.select("head")', 'query.unknown-column shots.select("head")');
});
