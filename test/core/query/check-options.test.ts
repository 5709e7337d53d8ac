import { expect, test } from "vitest";
import type { Argument, OptionValues, Verb, Vocabulary } from "../../../core/query/vocabulary";
import { vocabulary } from "../../../core/vocabulary";
import type { Table } from "../../../core/table/table";
import { check, placed, run } from "./query-support";
import { shotTable } from "./sample-shots";

let seen: OptionValues | null = null;

/** A verb with an option of every kind, which notes what it is given. */
const probe: Verb = {
  name: "probe",
  family: "trade",
  help: { summary: "Notes its options.", example: "shots.probe()" },
  parameters: [
    {
      name: "options",
      kind: "options",
      optional: true,
      help: "Options of every kind.",
      options: {
        of: { kind: "column", of: "number", required: true, help: "the column" },
        by: { kind: "columns", of: "text", required: false, help: "the groups" },
        strikes: { kind: "choice", choices: ["as struck", "same"], required: false, help: "which strikes" },
        level: { kind: "number", above: 0, below: 1, whole: false, usual: 0.5, required: false, help: "the level" },
        times: { kind: "number", above: 0, below: Infinity, whole: true, usual: 1, required: false, help: "how often" },
        margin: { kind: "measure", unitOf: "of", required: false, help: "the margin" },
        sure: { kind: "truth", required: false, help: "whether" },
        against: { kind: "text", required: false, help: "a head" },
        least: { kind: "measure", unitOf: "ball_speed", required: false, help: "a measure of one column" },
        windows: { kind: "windows", required: false, help: "ranges" },
      },
    },
  ],
  infer: (input) => ({ schema: input, problems: [] }),
  run: (input, given: readonly Argument[]) => {
    seen = given[0]?.kind === "options" ? given[0].values : null;
    return input;
  },
};

const withProbe: Vocabulary = { ...vocabulary, verbs: new Map([...vocabulary.verbs, ["probe", probe]]) };

function checkOptions(options: string, ...expected: string[]): void {
  const body = `shots.probe(${options})`;
  expect(placed(body, check(body, { vocabulary: withProbe }).problems)).toEqual(expected);
}

function checkGiven(options: string, expected: OptionValues): void {
  run(`shots.probe(${options})`, { vocabulary: withProbe });
  expect(seen).toEqual(expected);
}

test("options reach the verb as they were given", () => {
  checkGiven('{ of: "carry" }', { of: "carry" });
  checkGiven('{ of: "carry", by: "head" }', { of: "carry", by: ["head"] });
  checkGiven('{ of: "carry", against: "Wren" }', { of: "carry", against: "Wren" });
  checkGiven('{ margin: "3 yd", of: "carry", by: ["head", "ball"], strikes: "same", level: 0.9, times: 3, sure: false }', {
    margin: { value: 3, unit: "yd" },
    of: "carry",
    by: ["head", "ball"],
    strikes: "same",
    level: 0.9,
    times: 3,
    sure: false,
  });
  checkGiven('{ of: "carry", margin: "2.5 m" }', { of: "carry", margin: { value: 2.5, unit: "m" } });
  checkGiven('{ of: "speed_ratio", margin: 0.02 }', { of: "speed_ratio", margin: 0.02 });
});

test("options that are left out, unknown or doubled", () => {
  checkOptions("", "query.missing-argument probe");
  checkOptions("{}", "query.missing-argument {}");
  checkOptions('{ of: "carry", off: 1 }', "query.unknown-option off");
  checkOptions('{ of: "carry", of: "total" }', "query.duplicate-name of");
  checkOptions('{ of: "carry" }, 3', "query.too-many-arguments 3");
  checkOptions('"carry"', 'query.expected "carry"');
});

test("options of the wrong kind", () => {
  checkOptions('{ of: "head" }', 'query.column-kind "head"');
  checkOptions("{ of: 3 }", "query.expected 3");
  checkOptions('{ of: "carry", by: "carry" }', 'query.column-kind "carry"');
  checkOptions('{ of: "carry", by: ["head", "zzz"] }', 'query.unknown-column "zzz"');
  checkOptions('{ of: "carry", by: [] }', "query.expected []");
  checkOptions('{ of: "carry", strikes: "sane" }', 'query.unknown-choice "sane"');
  checkOptions('{ of: "carry", strikes: true }', "query.expected true");
  checkOptions('{ of: "carry", level: 1 }', "query.number 1");
  checkOptions('{ of: "carry", level: "0.9" }', 'query.expected "0.9"');
  checkOptions('{ of: "carry", times: 1.5 }', "query.number 1.5");
  checkOptions('{ of: "carry", times: 0 }', "query.number 0");
  checkOptions('{ of: "carry", sure: 1 }', "query.expected 1");
  checkOptions('{ of: "carry", sure: d => true }', "query.expected d => true");
  checkOptions('{ of: "carry", against: 1 }', "query.expected 1");
});

test("a measure needs a unit that its column's converts to", () => {
  checkOptions('{ of: "carry", margin: 3 }', "query.missing-unit 3");
  checkOptions('{ of: "carry", margin: "3 mph" }', 'query.unit-mismatch "3 mph"');
  checkOptions('{ of: "carry", margin: "three yd" }', 'query.expected "three yd"');
  checkOptions('{ of: "carry", margin: "3" }', 'query.expected "3"');
  checkOptions('{ of: "speed_ratio", margin: "3 yd" }', 'query.unit-mismatch "3 yd"');
  const found = check("shots.probe({ of: 'ball_speed', margin: 1.5 })", { vocabulary: withProbe }).problems[0]!;
  expect(found.fix!.edits[0]!.text).toBe('"1.5 mph"');
});

test("a measure of a column of its own needs that column's unit", () => {
  checkGiven('{ of: "carry", least: "100 km/h" }', { of: "carry", least: { value: 100, unit: "km/h" } });
  checkOptions('{ of: "carry", least: "3 yd" }', 'query.unit-mismatch "3 yd"');
  checkOptions('{ of: "carry", least: 90 }', "query.missing-unit 90");
});

test("windows are ranges in a unit of their column, which they are turned into", () => {
  const carry = (window: string, from: number | null, to: number | null) =>
    checkGiven(`{ of: "carry", windows: { carry: ${window} } }`, { of: "carry", windows: [{ column: "carry", from, to, unit: "yd" }] });
  carry('"140 to 160 yd"', 140, 160);
  carry('"140 yd to 160 yd"', 140, 160);
  carry('"from 140 to 160 yd"', 140, 160);
  carry('"140..160yd"', 140, 160);
  carry('"140-160 yd"', 140, 160);
  carry('"-3 to -1 yd"', -3, -1);
  carry('"from 140 yd"', 140, null);
  carry('"up to 160.5 yards"', null, 160.5);
  carry('"91.44 to 182.88 m"', 100, 200);
  checkGiven('{ of: "carry", windows: { speed_ratio: "1.3 to 1.4", carry: "1 to 2 yd" } }', {
    of: "carry",
    windows: [
      { column: "speed_ratio", from: 1.3, to: 1.4, unit: null },
      { column: "carry", from: 1, to: 2, unit: "yd" },
    ],
  });
});

test("windows that are none", () => {
  const window = (text: string, expected: string) => checkOptions(`{ of: "carry", windows: { ${text} } }`, expected);
  window('carry: "140 to 160"', 'query.missing-unit "140 to 160"');
  window('carry: "14 to 18 deg"', 'query.unit-mismatch "14 to 18 deg"');
  window('carry: "140 to 160 furlongs"', 'query.expected "140 to 160 furlongs"');
  window('carry: "160 to 140 yd"', 'query.window-crossed "160 to 140 yd"');
  window('carry: "140 to 140 yd"', 'query.window-crossed "140 to 140 yd"');
  window('carry: "1 to 2 to 3 yd"', 'query.expected "1 to 2 to 3 yd"');
  window('carry: "far"', 'query.expected "far"');
  window("carry: 150", "query.expected 150");
  window('speed_ratio: "1 to 2 yd"', 'query.unit-mismatch "1 to 2 yd"');
  window('cary: "140 to 160 yd"', "query.unknown-column cary");
  window('head: "140 to 160 yd"', "query.column-kind head");
  checkOptions('{ of: "carry", windows: {} }', "query.expected {}");
  checkOptions('{ of: "carry", windows: "140 to 160 yd" }', 'query.expected "140 to 160 yd"');
  const found = check("shots.probe({ of: 'carry', windows: { carry: '140 to 160' } })", { vocabulary: withProbe }).problems[0]!;
  expect(found.fix!.edits[0]!.text).toBe('"140 to 160 yd"');
});

test("a verb called without its options shows a whole call", () => {
  const [found] = check("shots.compare()").problems;
  expect(found!.message).toBe("compare needs its options: { of: … }");
  expect(found!.hint).toBe('write it like this: shots.compare({ of: "carry", by: "head", margin: "3 yd" })');
  expect(check("shots.filter()").problems[0]!.hint).toMatch(/^write it like this: shots\.filter\(d => /);
});

test("numbers are wanted, text is", () => {
  expect(check('shots.compare({ of: "head" })').problems[0]!.message).toBe('column "head" holds text; numbers are wanted here');
  expect(check('shots.compare({ of: "carry", by: "carry" })').problems[0]!.message).toBe('column "carry" holds numbers; text is wanted here');
});

test("a chart is told apart by text, or by a number that counts stints or passes", () => {
  const found = (body: string) => check(body).problems.map((each) => each.message);
  const refused = ['column "carry" holds numbers; text is wanted here'];
  expect(found('chart.landing(shots, { by: "carry" })')).toEqual(refused);
  expect(found('chart.order(shots, { of: "carry", by: "carry" })')).toEqual(refused);
  expect(found('chart.order(shots, { of: "carry", by: "stint" })')).toEqual([]);
  expect(found('chart.landing(shots.derive({ long: d => d.carry > 150 }), { by: "long" })')).toEqual([]);
});

/** Messages and hints of a cell, for the tests of their words. */
function said(body: string, tables?: ReadonlyMap<string, Table>): string[] {
  return check(body, { vocabulary: withProbe, ...(tables === undefined ? {} : { tables }) }).problems.map(({ message, hint }) => `${message} | ${hint ?? ""}`);
}

test("a margin or a window in units of something else says what is wanted", () => {
  expect(said('shots.probe({ of: "carry", margin: "3 mph" })')).toEqual(["a margin of carry is a length; it cannot be in mph | write it in yd, m or ft"]);
  expect(said('shots.probe({ of: "carry", windows: { launch_angle: "from 16 yd" } })')).toEqual(["a window of launch_angle is an angle; it cannot be in yd | write it in deg or rad"]);
  expect(said('shots.probe({ of: "speed_ratio", margin: "3 yd" })')).toEqual(["a margin of speed_ratio is a plain number; it cannot be in yd | write it without a unit"]);
});

test("bounds of numbers are said as they are, and per cent as a share", () => {
  expect(said("shots.compare({ of: 'carry', confidence: 0.5 })")).toEqual(["0.5 is not a number above 0.5 and below 1 | write a number above 0.5 and below 1"]);
  expect(said("shots.enough({ of: 'carry', shots_per_stint: 51 })")).toEqual(["51 is not a whole number from 1 to 50 | write a whole number from 1 to 50"]);
  expect(said("shots.compare({ of: 'carry', confidence: 95 })")).toEqual(["95 is not a number above 0.5 and below 1 | write 0.95"]);
});

test("a measure without a unit shows the unit of the column that is meant unless one is named", () => {
  expect(said("shots.forgiveness({ margin: 3 })")[0]).toContain('"3 mph"');
  expect(said("shots.probe({ of: 'carry', least: 3 })", new Map([["shots", { ...shotTable(), columns: shotTable().columns.filter(({ name }) => name !== "ball_speed") }]]))[0]).toContain('"3 mph"');
});

test("a chart of a verb's table asked of shots is one problem", () => {
  const found = said("chart.enough(shots)");
  expect(found).toHaveLength(1);
  expect(found[0]).toMatch(/^chart\.enough draws the table of enough; this one has no margin, shots_to_see, shots_to_show … \(\d+ in all\) \| write it like this: chart\.enough\(shots\.enough\(/);
  expect(said("chart.intervals(shots)")).toHaveLength(1);
});
