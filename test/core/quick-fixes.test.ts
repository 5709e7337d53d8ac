import { expect, test } from "vitest";
import { defaultLimits } from "../../core/limits";
import type { NotebookDocument } from "../../core/notebook/document";
import { problemCatalogue, type Problem, type ProblemCode } from "../../core/problem";
import { createEngine } from "../../core/run-notebook";
import { applyEdits } from "../../core/session/apply-edits";
import { correctedName } from "../../core/session/export-fixes";
import { correctedCopy } from "../../core/table/corrected-copy";
import { encodeUtf8 } from "../../core/table/utf8";
import { vocabulary } from "../../core/vocabulary";
import { memoryFiles } from "../support/memory-files";
import { smallFiles } from "../support/small-session";

/** A notebook of a front matter and cells, with the files beside it; where a problem has no file it is in the cell `in`. */
interface World {
  readonly cells: readonly (readonly ["front" | "query" | "chart", string])[];
  readonly files: Readonly<Record<string, string>>;
}

/** A world and what its text becomes: the cell or the file of the problem, or the session file that its fix edits. */
interface Case {
  readonly world: World;
  readonly after: string;
}

const front = ["front", "shots: s/one.session.yaml"] as const;

/** A body of a query cell over the small session, and what its fix makes of it. */
function body(before: string, after: string): Case {
  return { world: { cells: [front, ["query", `query=q\n${before}`]], files: smallFiles }, after: `query=q\n${after}` };
}

/** The text of a chart cell over the small session, header line included, and what its fix makes of it. */
function chart(before: string, after: string): Case {
  return { world: { cells: [front, ["chart", before]], files: smallFiles }, after };
}

/** The line of a chart cell with all that it needs. */
const chartLine = 'chart=c table=shots description="Shots."';

/** The specification of a chart with the given parts. */
function points(encoding: string, more = ""): string {
  return `${chartLine}\n{ "mark": "point", "encoding": { ${encoding} }${more} }`;
}

/** Lines of a session file for the export of the plain session, and what they are after their fix. */
function ofSession(before: string, after: string, csv = "Club,Carry\nWren,150\nWren,151\n"): Case {
  const world: World = { cells: [front, ["query", "query=q\nshots"]], files: { "s/one.session.yaml": plainSession + before, "s/small.csv": csv } };
  return { world, after: plainSession + after };
}

/** The plain session with its columns written otherwise, and what they are after their fix. */
function ofColumns(before: string, after: string, csv = "Club,Carry\nWren,150\n"): Case {
  const session = (columns: string): string => plainSession.replace("  carry: { from: Carry, unit: yd }\n", `${columns}\n`);
  return exported(csv, session(before), session(after), session(before));
}

/** A choice in the front matter that a cell uses, and what its fix makes of it. */
function choices(before: string, after: string): Case {
  const text = (choice: string): string => `${front[1]}\nchoose:\n  head: ${choice}`;
  return { world: { cells: [["front", text(before)], ["query", 'query=q\nshots.choose("head")']], files: smallFiles }, after: text(after) };
}

/** Front matter, and what its fix makes of it. */
function frontMatter(before: string, after: string, files: World["files"] = smallFiles): Case {
  return { world: { cells: [["front", before], ["query", "query=q\nshots"]], files }, after };
}

const plainSession = "session: one\nsources: { file: small.csv, order: file }\ncolumns:\n  head: Club\n  carry: { from: Carry, unit: yd }\nheads: { Wren: { kind: iron } }\n";

/** An export, and what the session says of it after its fix, given as what stands there in place of `from`. */
function exported(csv: string, from: string, to: string, session = plainSession): Case {
  expect(session).toContain(from);
  return { world: { cells: [front, ["query", "query=q\nshots"]], files: { "s/one.session.yaml": session, "s/small.csv": csv } }, after: session.replace(from, to) };
}

/** An export of which a corrected copy is made. */
function copied(csv: string): Case {
  return exported(csv, "small.csv", '"small.corrected.csv"');
}

/** A session file alone, and what its fix makes of it. */
function inSession(before: string, after: string, files: World["files"] = {}): Case {
  return { world: { cells: [front, ["query", "query=q\nshots"]], files: { "s/one.session.yaml": before, "s/small.csv": "Club,Carry\nWren,150\n", ...files } }, after };
}

/** Inputs that yield a code with a fix, by code. */
const fixed: Partial<Record<ProblemCode, readonly Case[]>> = {
  "query.syntax": [
    body("shots.select(\u201chead\u201d, \u2018carry\u2019)", 'shots.select("head", "carry")'),
    body("shots.filter(d => d.offline > \u22123)", "shots.filter(d => d.offline > -3)"),
    body("shots.filter(d => d.carry \u2265 150)", "shots.filter(d => d.carry >= 150)"),
    body("shots.compare({ of: \"carry\", margin: 3yd })", 'shots.compare({ of: "carry", margin: "3 yd" })'),
    body("shots.filter(d => d.carry > 150 and d.offline < 5)", "shots.filter(d => d.carry > 150 && d.offline < 5)"),
    body("shots.filter(d => d.carry > 150 OR d.offline < 5)", "shots.filter(d => d.carry > 150 || d.offline < 5)"),
    body('shots.describe({ of: "carry"\n', 'shots.describe({ of: "carry"})\n'),
    body('shots.describe({ of: "carry })', 'shots.describe({ of: "carry" })'),
    body("shots.count())", "shots.count()"),
  ],
  "query.not-allowed": [
    body("shots.filter(d => d.carry > 150 & d.offline < 5)", "shots.filter(d => d.carry > 150 && d.offline < 5)"),
    body("shots.filter(d => d.carry > 150 | d.offline < 5)", "shots.filter(d => d.carry > 150 || d.offline < 5)"),
    body("shots.derive({ c: d => d.carry ?? 0 })", "shots.derive({ c: d => op.if_missing(d.carry, 0) })"),
    body("shots.derive({ c: d => d?.carry })", "shots.derive({ c: d => d.carry })"),
    body('shots.derive({ c: d => d?.["carry"] })', 'shots.derive({ c: d => d["carry"] })'),
    body("shots.derive({ c: d => 1 + d.offline ** 2 })", "shots.derive({ c: d => 1 + op.pow(d.offline, 2) })"),
    body('shots.filter(d => d.head = "Wren")', 'shots.filter(d => d.head === "Wren")'),
    body("long = shots.filter(d => d.carry > 150);\nlong", "const long = shots.filter(d => d.carry > 150);\nlong"),
    body("let long = shots.filter(d => d.carry > 150);\nlong", "const long = shots.filter(d => d.carry > 150);\nlong"),
    body("var long = shots;\nlong", "const long = shots;\nlong"),
    body("shots.filter(d => d.carry > 150n)", "shots.filter(d => d.carry > 150)"),
    body("shots.filter(d => d.c\\u0061rry > 150)", "shots.filter(d => d.carry > 150)"),
    body("shots.filter(d => d.head === `Wren`)", 'shots.filter(d => d.head === "Wren")'),
    body("shots.filter(d => d.offline > +3)", "shots.filter(d => d.offline > 3)"),
    body("shots.filter(d => d.carry !== undefined)", "shots.filter(d => d.carry !== null)"),
    body("shots.derive({ c: d => Math.abs(d.offline) })", "shots.derive({ c: d => op.abs(d.offline) })"),
    body("shots.derive({ c: d => abs(d.offline) })", "shots.derive({ c: d => op.abs(d.offline) })"),
    body('shots.filter(d => d.head.startsWith("W"))', 'shots.filter(d => op.starts_with(d.head, "W"))'),
    body("shots.derive({ c: d => d.head.length })", "shots.derive({ c: d => op.length(d.head) })"),
    body("shots.filter(d => row.carry > 150)", "shots.filter(d => d.carry > 150)"),
    body('sesion("s/one.session.yaml")', 'session("s/one.session.yaml")'),
  ],
  "query.loose-equality": [body('shots.filter(d => d.head == "Wren")', 'shots.filter(d => d.head === "Wren")'), body("shots.filter(d => d.carry != null)", "shots.filter(d => d.carry !== null)")],
  "query.hidden-character": [body("shots.count() // a\u200bb", "shots.count() // ab")],
  "query.line-separator": [body("shots.count() // a\u2028b", "shots.count() // a b")],
  "query.look-alike": [body("shots.derive({ r\u043ell: d => d.carry })", "shots.derive({ roll: d => d.carry })")],
  "query.duplicate-name": [body('shots.select("head", "carry", "head")', 'shots.select("head", "carry")')],
  "query.unknown-table": [body("shot.count()", "shots.count()")],
  "query.unknown-name": [body("shots.filter(d => carry > 150)", "shots.filter(d => d.carry > 150)"), body("const limit = 150;\nshots.filter(d => d.carry > limt)", "const limit = 150;\nshots.filter(d => d.carry > limit)")],
  "query.unknown-verb": [body("shots.coutn()", "shots.count()")],
  "query.unknown-function": [body("shots.derive({ c: d => op.asb(d.offline) })", "shots.derive({ c: d => op.abs(d.offline) })")],
  "query.unknown-chart": [body("chart.landng(shots)", "chart.landing(shots)")],
  "query.unknown-column": [
    body("shots.filter(d => d.cary > 150)", "shots.filter(d => d.carry > 150)"),
    body('shots.select("cary")', 'shots.select("carry")'),
    body('shots.rename({ cary: "c" })', 'shots.rename({ carry: "c" })'),
    body('shots.join(shots.select("session", "carry"), "sesion")', 'shots.join(shots.select("session", "carry"), "session")'),
  ],
  "query.unknown-option": [body('shots.describe({ off: "carry" })', 'shots.describe({ of: "carry" })')],
  "query.unknown-choice": [body('shots.compare({ of: "carry", strikes: "as strck" })', 'shots.compare({ of: "carry", strikes: "as struck" })')],
  "query.unknown-value": [body('shots.filter(d => d.head === "Wern")', 'shots.filter(d => d.head === "Wren")')],
  "query.expected": [
    body("shots.describe({ of: carry })", 'shots.describe({ of: "carry" })'),
    body("shots.select(d.carry)", 'shots.select("carry")'),
    body("shots.filter(d.carry > 150)", "shots.filter(d => d.carry > 150)"),
    body("shots.derive({ c: d.carry * 2 })", "shots.derive({ c: d => d.carry * 2 })"),
    body("shots.rollup({ c: d => op.mean(d.carry) })", 'shots.rollup({ c: op.mean("carry") })'),
    body('shots.rollup({ c: mean("carry") })', 'shots.rollup({ c: op.mean("carry") })'),
    body("shots.rollup({ c: op.mean(d.carry) })", 'shots.rollup({ c: op.mean("carry") })'),
    body("shots.rename({ carry: c })", 'shots.rename({ carry: "c" })'),
    body("shots.count", "shots.count()"),
    body('shots.sample("5")', "shots.sample(5)"),
    body('shots.compare({ of: "carry", margin: "3" })', 'shots.compare({ of: "carry", margin: "3 yd" })'),
    body('flight({ ball_speed: "130 mph", launch_angle: "17 deg", spin_rate: "6200" })', 'flight({ ball_speed: "130 mph", launch_angle: "17 deg", spin_rate: "6200 rpm" })'),
  ],
  "query.missing-argument": [body("chart.landing()", "chart.landing(shots)")],
  "query.too-many-arguments": [
    body("shots.sample(3, 4)", "shots.sample(3)"),
    body('shots.orderby(op.desc("carry", "head"))', 'shots.orderby(op.desc("carry"))'),
    body("shots.derive({ c: d => op.abs(d.offline, 2, 3) })", "shots.derive({ c: d => op.abs(d.offline) })"),
    body("shots.count({ a: 1 })", "shots.count()"),
  ],
  "query.kind": [
    body('shots.filter(d => d.carry > "150")', "shots.filter(d => d.carry > 150)"),
    body('shots.filter(d => d.carry > "150 yd")', "shots.filter(d => d.carry > 150)"),
  ],
  "query.window-crossed": [body('shots.scorecard({ windows: { carry: "160 to 150 yd" } })', 'shots.scorecard({ windows: { carry: "150 to 160 yd" } })')],
  "query.number": [body('shots.rollup({ c: op.quantile("carry", 90) })', 'shots.rollup({ c: op.quantile("carry", 0.9) })')],
  "query.missing-unit": [
    body('shots.compare({ of: "carry", margin: 3 })', 'shots.compare({ of: "carry", margin: "3 yd" })'),
    body('flight({ ball_speed: 130, launch_angle: "17 deg", spin_rate: "6200 rpm" })', 'flight({ ball_speed: "130 mph", launch_angle: "17 deg", spin_rate: "6200 rpm" })'),
  ],
  "trade.no-such-group": [body('shots.compare({ of: "carry", against: "Wern" })', 'shots.compare({ of: "carry", against: "Wren" })')],
  "trade.no-such-air": [body('shots.standardAir({ air: "sea levl" })', 'shots.standardAir({ air: "sea level" })')],
  "path.backslash": [
    body('session("s\\\\one.session.yaml")', 'session("s/one.session.yaml")'),
    frontMatter("shots: s\\one.session.yaml", 'shots: "s/one.session.yaml"'),
    inSession("session: one\nsources: { file: x\\small.csv, head: Wren }\n", 'session: one\nsources: { file: "x/small.csv", head: Wren }\n', { "s/x/small.csv": "Club,Carry\nWren,150\n" }),
  ],
  "path.segment": [body('session("s//one.session.yaml")', 'session("s/one.session.yaml")'), frontMatter("shots: [s/./*.session.yaml]", 'shots: ["s/*.session.yaml"]'), body('sessions("s//*.session.yaml")', 'sessions("s/*.session.yaml")')],
  "run.file": [
    body('session("s/One.session.yaml")', 'session("s/one.session.yaml")'),
    frontMatter("shots: s/ONE.session.yaml", 'shots: "s/one.session.yaml"'),
    inSession("session: one\nsources: { file: Small.csv, head: Wren }\n", 'session: one\nsources: { file: "small.csv", head: Wren }\n'),
  ],

  "csv.short-row": [exported("Club,Carry,Note\nWren,150,x\nWren,151\n", "order: file", "order: file, short_rows: missing")],
  "csv.duplicate-header": [exported("Club,Carry,x,x\nWren,150,1,2\n", "order: file", "order: file, duplicate_headers: number")],
  "csv.lines-above-header": [exported("Bay 3\nClub,Carry\nWren,150\nWren,151\n", "order: file", "order: file, skip_lines: 1")],
  "csv.delimiter": [exported("Club;Carry\nWren;150\n", "order: file", "order: file, delimiter: semicolon")],
  "csv.decimal-comma": [exported("Club;Carry\nWren;150,5\n", "order: file", 'order: file, decimal: ","')],
  "csv.empty-header": [copied("Club,Carry,\nWren,150,x\n")],
  "csv.confusable-header": [exported("Club,Carry,launch_angle\u200b\nWren,150,17\n", "unit: yd }\n", 'unit: yd }\n  launch_angle: "launch_angle\u200b"\n')],
  "csv.invisible-char": [copied("Club,Carry,Note\nWren,150,x\u200b\n")],
  "csv.control-char": [copied("Club,Carry,Note\nWren,150,x\u0001\n")],
  "csv.unclosed-quote": [copied('Club,Carry,Note\nWren,150,"left\n')],
  "csv.text-after-quote": [copied('Club,Carry,Note\nWren,150,"5" left\n')],
  "csv.bare-quote": [copied('Club,Carry,Note\nWren,150,5" left\n')],
  "csv.no-shot-number": [exported("No,Club,Carry\n1,Wren,150\nlost,,151\n", "heads:", 'missing: ["lost"]\nheads:', plainSession.replace("columns:\n", 'columns:\n  shot: "No"\n'))],
  "value.not-a-number": [
    exported("Club,Carry\nWren,150\nWren,n/a\n", "heads:", 'missing: ["n/a"]\nheads:'),
    exported("Club,Carry,Side\nWren,150,3 L\n", "unit: yd }\nheads", "unit: yd, sides: L/R }\nheads", plainSession.replace("heads:", "  offline: { from: Side, unit: yd }\nheads:")),
    copied("Club,Carry\nWren,150*\n"),
  ],
  "value.out-of-range": [exported("Club,Carry\nWren,150\nWren,0\n", "unit: yd }", 'unit: yd, missing: ["0"] }')],
  "value.date": [ofSession("date: 2026/03/14\n", "date: 2026-03-14\n")],

  "session.unknown-key": [ofSession("turff: firm\n", "turf: firm\n")],
  "session.wrong-choice": [ofSession("player: { hand: Right }\n", "player: { hand: right }\n")],
  "session.wrong-measure": [ofSession("air: { pressure: 1009 hPaa }\n", "air: { pressure: 1009 hPa }\n")],
  "session.wrong-unit": [ofColumns("  carry: { from: Carry, unit: yrd }", "  carry: { from: Carry, unit: yd }")],
  "session.limits-crossed": [ofSession("plausible: { carry: [250 yd, 50 yd] }\n", "plausible: { carry: [50 yd, 250 yd] }\n")],
  "session.counted-column": [ofColumns("  carry: { from: Carry, unit: yd }\n  zone: Zone", "  carry: { from: Carry, unit: yd }")],
  "session.sides": [ofColumns("  offline: { from: Carry, unit: yd, sides: LR }", "  offline: { from: Carry, unit: yd, sides: L/R }", "Club,Carry\nWren,3 L\n")],
  "session.no-direction": [ofColumns("  carry: { from: Carry, unit: yd, sides: L/R }", "  carry: { from: Carry, unit: yd }")],
  "session.shots": [ofSession("breaks: [2-1]\n", "breaks: [1-2]\n")],
  "session.unknown-header": [ofColumns("  carry: { from: Cary, unit: yd }", '  carry: { from: "Carry", unit: yd }')],
  "session.no-such-column": [ofSession("corrections:\n  - { shots: 1, column: cary, value: 150, because: x }\n", "corrections:\n  - { shots: 1, column: carry, value: 150, because: x }\n")],
  "session.no-unit": [ofColumns("  carry: Carry", "  carry: { from: Carry, unit: yd }")],
  "session.unit-assumed": [ofColumns("  launch_angle: Carry", "  launch_angle: { from: Carry, unit: deg }", "Club,Carry\nWren,17\n")],
  "session.unknown-head": [
    exported("Club,Carry\nWren,150\nWern,151\n", "{ kind: iron }", '{ kind: iron, called: ["Wern"] }'),
    ofSession("corrections:\n  - { shots: 1, column: head, value: Wern, because: x }\n", "corrections:\n  - { shots: 1, column: head, value: Wren, because: x }\n"),
  ],
  "session.head-misspelt": [exported("Club,Carry\nWern,150\nWern,151\n", "Wren:", "Wern:")],
  "session.not-mapped": [exported("Club,Carry,Launch Angle\nWren,150,17\n", "unit: yd }\n", 'unit: yd }\n  launch_angle: "Launch Angle"\n')],

  "yaml.syntax": [ofSession("note: a: b\nturf: firm\n", 'note: "a: b"\nturf: firm\n'), ofSession("player: { hand: left\n", "player: { hand: left }\n"), frontMatter("shots: s/one.session.yaml\ntitle: a: b", 'shots: s/one.session.yaml\ntitle: "a: b"')],
  "yaml.tab": [frontMatter("shots:\ts/one.session.yaml", "shots:  s/one.session.yaml")],
  "yaml.duplicate-key": [ofSession("turf: firm\nnote: a day\nturf: firm\n", "turf: firm\nnote: a day\n")],

  "nb.unknown-key": [frontMatter("shots: s/one.session.yaml\nunit: m-ms", "shots: s/one.session.yaml\nunits: m-ms")],
  "nb.margin-column": [frontMatter("shots: s/one.session.yaml\nmargin: { cary: 3 yd }", "shots: s/one.session.yaml\nmargin: { carry: 3 yd }")],
  "nb.unknown-attribute": [chart(points('"x": { "field": "carry" }').replace("table=", "tabel="), points('"x": { "field": "carry" }'))],

  "nb.no-header": [
    chart('{ "mark": "point" }', 'chart=chart_1\n{ "mark": "point" }'),
    { world: { cells: [front, ["query", "shots.count()"]], files: smallFiles }, after: "query=cell_1\nshots.count()" },
    { world: { cells: [front, ["query", ""]], files: smallFiles }, after: "query=cell_1" },
  ],
  "nb.header-slip": [{ world: { cells: [front, ["query", "querry=y\nshots.count()"]], files: smallFiles }, after: "query=y\nshots.count()" }],
  "nb.bad-name": [chart(points('"x": { "field": "carry" }').replace("chart=c", "chart=carry-by-head"), points('"x": { "field": "carry" }').replace("chart=c", "chart=carry_by_head"))],
  "nb.no-table": [chart(points('"x": { "field": "carry" }').replace("chart=c table=shots", "chart=c"), points('"x": { "field": "carry" }')), chart(points("").replace("chart=c table=shots", 'chart="c"'), points("").replace("chart=c ", 'chart="c" '))],
  "nb.unclosed-quote": [chart(points('"x": { "field": "carry" }').replace('Shots."', "Shots."), points('"x": { "field": "carry" }'))],
  "nb.stray-word": [chart(points('"x": { "field": "carry" }').replace('"Shots."', "All the shots"), points('"x": { "field": "carry" }').replace("Shots.", "All the shots"))],
  "nb.choice-key": [choices("{ of: head, iss: any }", "{ of: head, is: any }")],
  "nb.choice-column": [frontMatter(`${front[1]}\nchoose: { it: { of: haed, is: any } }`, `${front[1]}\nchoose: { it: { of: head, is: any } }`)],
  "nb.choice-value": [choices("{ of: head, is: [Wren, Herron] }", "{ of: head, is: [Wren, Heron] }")],
  "query.unknown-named-choice": [
    {
      world: { cells: [["front", `${front[1]}\nchoose:\n  head: { of: head, is: any }`], ["query", 'query=q\nshots.choose("haed")']], files: smallFiles },
      after: 'query=q\nshots.choose("head")',
    },
  ],
  "nb.value": [
    frontMatter("shots: s/one.session.yaml\nunits: m-kmhh", "shots: s/one.session.yaml\nunits: m-kmh"),
    choices("{ of: head, is: [any] }", "{ of: head, is: any }"),
    choices("{ of: carry, from: 160 yd, to: 140 m }", "{ of: carry, from: 140 m, to: 160 yd }"),
  ],
  "nb.duplicate-session": [
    frontMatter("shots: [s/one.session.yaml, s/one.session.yaml]", "shots: [s/one.session.yaml]"),
    frontMatter('shots:\n  - s/one.session.yaml\n  - "s/one.session.yaml"\nseed: 7', "shots:\n  - s/one.session.yaml\nseed: 7"),
  ],
  "nb.margin": [
    frontMatter("shots: s/one.session.yaml\nmargin: { carry: 3 }", "shots: s/one.session.yaml\nmargin: { carry: 3 yd }"),
    frontMatter("shots: s/one.session.yaml\nmargin: { ball_speed: 2 }\nunits: m-kmh", "shots: s/one.session.yaml\nmargin: { ball_speed: 2 km/h }\nunits: m-kmh"),
  ],
  "chart.not-json": [
    chart(`${chartLine}\n{ "mark": "point", }`, `${chartLine}\n{ "mark": "point" }`),
    chart(`${chartLine}\n{ "mark": point }`, `${chartLine}\n{ "mark": "point" }`),
    chart(`${chartLine}\n{ mark: "point" }`, `${chartLine}\n{ "mark": "point" }`),
    chart(`${chartLine}\n{ "mark": { "type": "point", "filled": True } }`, `${chartLine}\n{ "mark": { "type": "point", "filled": true } }`),
    chart(`${chartLine}\n{ "mark": { "type": "point", "opacity": .5 } }`, `${chartLine}\n{ "mark": { "type": "point", "opacity": 0.5 } }`),
    chart(`${chartLine}\n{ "mark": "point" } /* why\nand how */`, `${chartLine}\n{ "mark": "point" } `),
  ],
  "chart.repeated-key": [chart(points('"x": { "field": "carry" }', ', "mark": "point"'), points('"x": { "field": "carry" }'))],
  "chart.repeated-column": [chart(`${chartLine}\n{ "transform": [{ "fold": ["carry", "offline", "carry"] }], "mark": "point" }`, `${chartLine}\n{ "transform": [{ "fold": ["carry", "offline"] }], "mark": "point" }`)],
  "chart.wrong-type": [chart(points('"x": { "field": "head", "type": "quantitative" }'), points('"x": { "field": "head", "type": "nominal" }'))],
  "chart.unknown-property": [chart(points('"x": { "field": "carry", "agregate": "mean" }'), points('"x": { "field": "carry", "aggregate": "mean" }'))],
  "chart.wrong-value": [chart(points('"x": { "field": "carry", "aggregate": "men" }'), points('"x": { "field": "carry", "aggregate": "mean" }'))],
  "chart.unknown-column": [chart(points('"x": { "field": "cary" }'), points('"x": { "field": "carry" }'))],
  "chart.refused": [
    chart(points('"x": { "field": "carry" }', ', "params": []'), points('"x": { "field": "carry" }')),
    chart(points('"x": { "field": "head", "type": "temporal" }'), points('"x": { "field": "head", "type": "ordinal" }')),
  ],
  "chart.ignored": [chart(points('"x": { "field": "carry" }', ', "name": "a"'), points('"x": { "field": "carry" }'))],
  "chart.no-description": [
    chart(points('"x": { "field": "carry" }').replace(' description="Shots."', ""), points('"x": { "field": "carry" }').replace('"Shots."', '"Points of carry (yd)."')),
  ],
  "value.kept-as-text": [exported("Club,Carry,Odd\nWren,150,1\nWren,151,2\nWren,151,-\n", "heads:", 'missing: ["-"]\nheads:')],
};

const several = "several answers are as good, and only the person knows which";
const rewrite = "nothing that is there can be kept: what is meant has to be written anew";
const data = "it is about the shots themselves, which no edit of a text changes";
const notice = "nothing is wrong: it says how something was read";
const notText = "the file cannot be read as text, or not as far as there";

/** Why a code has no fix. */
const withoutFix: Partial<Record<ProblemCode, string>> = {
  "query.empty": rewrite,
  "query.too-deep": rewrite,
  "query.too-long": rewrite,
  "query.engine-name": several,
  "query.reserved-name": several,
  "query.wrong-place": several,
  "query.not-a-result": several,
  "query.not-a-table": several,
  "query.not-a-hole": rewrite,
  "query.hole-place": several,
  "query.table-in-line": several,
  "query.text-only": several,
  "query.not-one-row": several,
  "query.no-sentences": several,
  "query.always-missing": rewrite,
  "query.unit-mismatch": several,
  "query.table-of": several,
  "query.unit-unknown": several,
  "query.function-type": several,
  "query.choice-kind": several,
  "query.choice-column": several,
  "query.choice-value": several,
  "query.no-choices": several,
  "query.column-kind": several,
  "query.duplicate-column": several,
  "query.different-columns": several,
  "query.mixed-columns": several,
  "query.column-count": several,
  "query.several-values": several,
  "query.undecided-rows": data,
  "query.none-left": data,
  "query.undefined-numbers": data,
  "query.undetermined": data,
  "query.missing-keys": data,

  "trade.no-group-column": several,
  "trade.grouped": several,
  "trade.no-shots": data,
  "trade.one-group": data,
  "trade.too-many-groups": several,
  "trade.several-players": several,
  "trade.repeated-shots": several,
  "trade.lost-columns": several,
  "trade.not-shots": several,
  "trade.computed-stint": several,
  "trade.no-session-column": several,
  "trade.no-margin": several,
  "trade.margin-unread": several,
  "trade.bad-margin": several,
  "trade.margin-unit": several,
  "trade.margins-differ": several,
  "trade.order-unknown": data,
  "trade.unequal-missing": data,
  "trade.sessions-differ": data,
  "trade.workability-columns": data,
  "trade.no-readings": several,
  "trade.nothing-to-follow": several,
  "trade.drift-without-order": data,
  "trade.too-many-stints": several,
  "trade.no-strikes": data,
  "trade.no-loss-column": several,
  "trade.bad-miss": several,
  "trade.miss-off-face": several,
  "trade.bad-low-spin": several,
  "trade.no-same-strikes": several,
  "trade.no-spread-column": several,
  "trade.no-ellipse": several,
  "trade.air-told-twice": several,
  "trade.air-without-temperature": several,
  "trade.pressure-and-altitude": several,
  "trade.impossible-air": several,
  "trade.air-not-stated": several,
  "trade.carry-air-unknown": several,
  "trade.carry-in-standard-air": several,
  "trade.nothing-in-air": several,
  "trade.no-launch": data,
  "trade.two-airs": several,
  "trade.no-lofts": several,
  "trade.several-lofts": several,
  "trade.no-spin-loft": data,
  "trade.nothing-of-loft": data,
  "trade.no-flight": data,
  "trade.impossible-launch": several,
  "trade.slow-launch": several,
  "trade.grounded": several,
  "trade.impossible-wind": several,
  "trade.height-without-wind": several,
  "trade.no-shot-column": several,
  "trade.without-session": data,
  "trade.without-shot-numbers": several,

  "path.empty": rewrite,
  "path.too-long": rewrite,
  "path.character": rewrite,
  "path.absolute": several,
  "path.outside-root": several,
  "path.reserved-name": rewrite,

  "run.too-large": data,
  "run.session-out-of-time": data,
  "run.out-of-time": data,
  "run.blocked": "what has to be mended is another cell",
  "run.no-code-generation": "it is about the place where the notebook runs",
  "run.no-front-shots": several,
  "run.no-shots": "what has to be mended is another file",
  "run.no-sessions": several,
  "run.internal": "it is a fault of the program",

  "csv.encoding": notText,
  "csv.checked-in-part": notice,
  "csv.empty": data,
  "csv.limit": notText,
  "csv.rows-filled": notice,
  "csv.long-row": several,
  "csv.bare-decimal-commas": several,
  "csv.trailing-delimiter": notice,
  "csv.lost-char": "the character that stood there cannot be brought back",
  "csv.mixed-eol": notice,
  "csv.blank-lines": notice,
  "csv.blank-rows": notice,
  "csv.units-row": notice,
  "csv.summary-or-shot": several,
  "csv.summary-row": notice,
  "csv.more-problems": "it counts other problems",
  "value.thousands-separator": several,
  "value.precision-loss": data,
  "value.side": several,

  "session.not-a-session": rewrite,
  "session.wrong-shape": several,
  "session.missing-key": several,
  "session.no-reason": "a reason is never made up",
  "session.wrong-number": several,
  "session.implausible": several,
  "session.no-such-shot": several,
  "session.renumbered": notice,
  "session.lists-renumbered": several,
  "session.overlap": several,
  "session.stated-twice": several,
  "session.direction-assumed": several,
  "session.reference-assumed": several,
  "session.no-head": several,
  "session.head-contradicted": several,
  "session.head-not-named": several,
  "session.no-heads": several,
  "session.head-not-hit": notice,
  "session.order-unknown": several,
  "session.order": several,
  "session.past-midnight": notice,
  "session.name-taken": several,
  "session.two-players": several,
  "session.cannot-edit": rewrite,
  "session.set-aside-already": notice,
  "session.signs-contradict": several,
  "session.unit-unclear": several,

  "yaml.alias": several,
  "yaml.anchor": several,
  "yaml.tag": several,
  "yaml.merge": several,
  "yaml.directive": several,
  "yaml.several-documents": several,
  "yaml.forbidden-name": several,
  "yaml.key": rewrite,
  "yaml.too-deep": rewrite,
  "yaml.too-long": rewrite,
  "yaml.more": "it counts other problems",

  "nb.cycle": several,
  "nb.duplicate-name": several,
  "nb.more-problems": "it counts other problems",
  "nb.too-large": notText,
  "nb.too-many-cells": rewrite,
  "nb.newer-format": notText,
  "nb.unclosed-fence": several,
  "nb.unclosed-front": several,
  "nb.front-not-first": several,
  "nb.not-a-cell": several,
  "nb.conflict": several,
  "nb.stray-marker": several,
  "nb.two-kinds": several,
  "nb.bad-table": several,
  "nb.duplicate-attribute": several,
  "nb.second-front": several,
  "nb.not-a-map": rewrite,
  "nb.choice-name": rewrite,
  "nb.choice-unused": notice,

  "chart.too-long": rewrite,
  "chart.too-deep": rewrite,
  "chart.not-vega-lite": rewrite,
  "chart.no-mark": several,
  "chart.beyond-limit": several,
  "chart.too-many-marks": data,
  "chart.too-many-panels": several,
  "chart.not-drawn": data,
  "chart.few-rows": data,
  "chart.cut-axis": several,
  "chart.two-scales": several,

  "schema.unit": several,
  "schema.unique": several,
};

/** Codes whose fixes have a test of their own: for whole sessions in test/core/quality. */
const elsewhere: readonly ProblemCode[] = ["session.sign-doubted", "session.unit-doubted"];

/** Every problem, with the number of the cell that it is in; −1 for one in a file. */
async function problemsOf({ cells, files }: World): Promise<readonly { readonly cell: number; readonly found: Problem }[]> {
  const document: NotebookDocument = { cells: cells.map(([kind, text]) => ({ kind, text, form: {} })), lineEnd: "\n", mark: false };
  const engine = createEngine({ files: memoryFiles(files), vocabulary, limits: defaultLimits, clock: () => 0 });
  const checked = await engine.check(document, "n.shots.md");
  return [...checked.cells.flatMap(({ index, problems }) => problems.map((found) => ({ cell: index, found }))), ...checked.fileProblems.map((found) => ({ cell: -1, found }))];
}

/** The world after a fix, and the text that it changed. */
function withFix({ cells, files }: World, cell: number, found: Problem): { readonly world: World; readonly text: string } {
  const { edits, file = found.file, copyOf } = found.fix!;
  if (cell >= 0) {
    const text = applyEdits(cells[cell]![1], edits);
    return { world: { files, cells: cells.map(([kind, own], i) => [kind, i === cell ? text : own]) }, text };
  }
  const text = applyEdits(files[file!]!, edits);
  const copy = copyOf === undefined ? {} : { [correctedName(copyOf.file, 1)]: correctedCopy(encodeUtf8(files[copyOf.file]!), copyOf.reading, [found])! };
  return { world: { cells, files: { ...files, ...copy, [file!]: text } }, text };
}

async function checkFix(code: ProblemCode, { world, after }: Case): Promise<void> {
  const before = await problemsOf(world);
  const at = before.find(({ found }) => found.code === code && found.fix !== undefined);
  expect(at, `${code} with a fix, among ${before.map(({ found }) => `${found.code} ${found.message}`).join("; ")}`).toBeDefined();
  const { world: changed, text } = withFix(world, at!.cell, at!.found);
  expect(text).toBe(after);
  const left = await problemsOf(changed);
  const said = ({ found }: { readonly found: Problem }): string => `${found.code} ${found.message}`;
  expect(left.map(said)).not.toContain(said(at!));
  expect(left.filter(({ found }) => found.severity === "error").map(said).filter((each) => !before.map(said).includes(each))).toEqual([]);
}

for (const [code, cases] of Object.entries(fixed) as [ProblemCode, readonly Case[]][]) {
  test(`L-09 the fix of ${code} removes it and brings no other`, async () => {
    for (const each of cases) await checkFix(code, each);
  });
}

test("L-09 every code has a fix that is tested, or a reason why it has none", () => {
  const codes = Object.keys(problemCatalogue) as ProblemCode[];
  const open = codes.filter((code) => fixed[code] === undefined && withoutFix[code] === undefined && !elsewhere.includes(code));
  expect(open).toEqual([]);
  const both = codes.filter((code) => fixed[code] !== undefined && withoutFix[code] !== undefined);
  expect(both).toEqual([]);
});

test("an export is never edited by a fix", async () => {
  for (const { world } of Object.values(fixed).flat()) {
    for (const { found } of await problemsOf(world)) {
      if (found.fix === undefined || found.file?.endsWith(".csv") !== true) continue;
      expect(found.fix.file?.endsWith(".session.yaml"), found.code).toBe(true);
    }
  }
});
