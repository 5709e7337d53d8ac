import { expect, test } from "vitest";
import type { TextPayload } from "../../../core/present/payload";
import { valueAt } from "../../../core/table/table";
import { check, fixed, placed, run, runTable } from "../query/query-support";

const usual = 'ball_speed: "130 mph", launch_angle: "17 deg", spin_rate: "6200 rpm"';

/** The only row that a cell gives. */
function row(body: string): Record<string, number | string | boolean | null> {
  const table = runTable(body);
  expect(table.rowCount).toBe(1);
  return Object.fromEntries(table.columns.map((column) => [column.name, valueAt(column, 0)]));
}

function checkPlaced(body: string, ...expected: readonly string[]): void {
  expect(placed(body, check(body).problems)).toEqual(expected);
}

test("one flight is a row with its launch, its carry and how far the second fit is from that", () => {
  // Independent integration of the published fits in steps of 1 ms, at 1.225 kg/m³: 167.180 m and 167.356 m, peak 36.117 m, 6.9027 s,
  // descent 50.356°, landing at 24.392 m/s.
  const found = row(`flight({ ${usual} })`);
  expect(found["ball_speed"]).toBe(130);
  expect(found["carry"]).toBeCloseTo(167.18 / 0.9144, 2);
  expect(found["carry_spread"]).toBeCloseTo(0.176 / 0.9144, 2);
  expect(found["offline"]).toBeCloseTo(0, 9);
  expect(found["peak_height"]).toBeCloseTo(36.117 / 0.3048, 2);
  expect(found["flight_time"]).toBeCloseTo(6.9027, 3);
  expect(found["descent_angle"]).toBeCloseTo(50.356, 2);
  expect(found["landing_speed"]).toBeCloseTo(24.392 / 0.44704, 2);
  expect(Object.keys(found)).not.toContain("total");
});

test("a mid-iron near 34 degrees of loft carries 180 to 190 yd and runs about 5 yd (common practice, no source)", () => {
  const found = row(`flight({ ${usual}, turf: "natural turf" })`);
  expect(found["carry"]).toBeGreaterThan(180);
  expect(found["carry"]).toBeLessThan(190);
  expect((found["model_total"] as number) - (found["carry"] as number)).toBeGreaterThan(1);
  expect((found["model_total"] as number) - (found["carry"] as number)).toBeLessThan(9);
  expect(found["model_turf"]).toBe("natural turf");
});

test("the columns are those inferred, in the notebook's units", () => {
  for (const more of ["", ', spin_axis: "5 deg", start_direction: "-1 deg", turf: "slow green"']) {
    const body = `flight({ ${usual}${more} })`;
    const result = check(body).value!.result;
    const shape = (columns: readonly { readonly name: string; readonly kind: string; readonly unit?: unknown }[]) => columns.map(({ name, kind, unit }) => [name, kind, unit ?? null]);
    expect(result.type === "table" ? shape(result.schema.columns) : null).toEqual(shape(runTable(body).columns));
  }
});

test("air and wind change the flight, and are named with it", () => {
  const still = row(`flight({ ${usual} })`)["carry"] as number;
  expect(row(`flight({ ${usual}, wind_along: "-5 m/s" })`)["carry"]).toBeCloseTo(145.564 / 0.9144, 2);
  expect(row(`flight({ ${usual}, temperature: "21 degC", altitude: "1500 m" })`)["carry"]).toBeGreaterThan(still + 5);
  expect(row(`flight({ ${usual}, air: "ball test" })`)["carry"]).toBeGreaterThan(still);
  expect(runTable(`flight({ ${usual}, wind_right: "-2 m/s" })`).report!.sentences[0]).toMatch(/wind of 2 m\/s to the left, the same at every height: .* left of the target line/u);
});

test("verbs, charts, constants and texts take it as any other table", () => {
  expect(row(`flight({ ${usual} }).derive({ more: d => d.carry + 5 }).select("more")`)["more"]).toBeCloseTo(187.83, 1);
  expect(run(`const speed = "130 mph"\nconst one = flight({ ball_speed: speed, launch_angle: "17 deg", spin_rate: "6200 rpm" })\nchart.flight(one)`).value?.type).toBe("chart");
  expect(runTable(`flight({ ${usual} }).concat(flight({ ${usual.replace("130", "120")} }))`).rowCount).toBe(2);
  const text = run(`text\`It carries \${flight({ ${usual} }).one("carry", 0)}. \${flight({ ${usual} }).sentences()}\``).value as TextPayload;
  expect(text.markdown).toMatch(/^It carries 183 yd\. The ball carries 182\.8 yd in standard air at sea level/u);
});

test("its picture shows it from the side and from above", () => {
  const { picture } = runTable(`flight({ ${usual}, spin_axis: "5 deg" })`).report!;
  expect(picture!.description).toContain("carries 182.8 yd, 39.3 yd high, lands 9.7 yd right.");
});

test("what no shot has is said at its option, before anything runs", () => {
  checkPlaced('flight({ ball_speed: "300 mph", launch_angle: "80 deg", spin_rate: "20000 rpm" })', 'trade.impossible-launch "300 mph"', 'trade.impossible-launch "80 deg"', 'trade.impossible-launch "20000 rpm"');
  checkPlaced(`flight({ ${usual}, start_direction: "60 deg", spin_axis: "-91 deg" })`, 'trade.impossible-launch "60 deg"', 'trade.impossible-launch "-91 deg"');
  checkPlaced('flight({ ball_speed: "60 mph", launch_angle: "17 deg", spin_rate: "6200 rpm" })', 'trade.slow-launch "60 mph"');
  checkPlaced(`flight({ ${usual}, air: "moon" })`, 'trade.no-such-air "moon"');
  checkPlaced(`flight({ ${usual}, air: "sea level", temperature: "20 degC" })`, 'trade.air-told-twice "sea level"');
  checkPlaced(`flight({ ${usual}, wind_along: "90 mph" })`, 'trade.impossible-wind "90 mph"');
  checkPlaced(`flight({ ${usual}, turf: "moss" })`, 'query.unknown-choice "moss"');
});

test("bounds are told in the unit that was used", () => {
  const [found] = check('flight({ ball_speed: "3 m/s", launch_angle: "17 deg", spin_rate: "6200 rpm" })').problems;
  expect(`${found!.message}: ${found!.hint}`).toBe("no shot starts with a ball speed of 3 m/s: it lies between 5 m/s and 105 m/s");
  expect(check('flight({ ball_speed: "3 mph", launch_angle: "17 deg", spin_rate: "6200 rpm" })').problems[0]!.hint).toBe("it lies between 11.2 mph and 235 mph");
});

test("units are needed and must fit", () => {
  checkPlaced('flight({ ball_speed: 130, launch_angle: "17 yd", spin_rate: "fast" })', "query.missing-unit 130", 'query.unit-mismatch "17 yd"', 'query.expected "fast"');
  expect(fixed('flight({ ball_speed: 130, launch_angle: "17 deg", spin_rate: "6200 rpm" })')).toContain('ball_speed: "130 mph"');
});

test("what is left out, too much or misspelt is said", () => {
  checkPlaced("flight()", "query.missing-argument flight");
  checkPlaced("flight", "query.expected flight");
  checkPlaced("flight.filter(d => d.carry > 1)", "query.expected flight");
  checkPlaced('flight({ ball_speed: "130 mph" })', 'query.missing-argument { ball_speed: "130 mph" }', 'query.missing-argument { ball_speed: "130 mph" }');
  checkPlaced(`flight({ ${usual} }, 3)`, "query.too-many-arguments 3");
  checkPlaced("flight(shots)", "query.expected shots");
  checkPlaced(`flight({ ${usual}, balspeed: "1 mph" })`, "query.unknown-option balspeed");
  checkPlaced(`flihgt({ ${usual} })`, "query.not-allowed flihgt");
  expect(fixed(`flihgt({ ${usual} })`)).toBe(`flight({ ${usual} })`);
});

test("a cell, a constant or a row cannot be called flight, and a column can", () => {
  checkPlaced("const flight = shots\nshots", "query.reserved-name flight");
  checkPlaced("shots.filter(flight => true)", "query.reserved-name flight");
  checkPlaced("shots.derive({ flight: d => d.carry }).filter(d => d.flight > 1)");
});

test("a ball that starts downwards has no flight, which is said where its angle is", () => {
  const body = 'flight({ ball_speed: "130 mph", launch_angle: "-3 deg", spin_rate: "2500 rpm" })';
  const { value, problems } = run(body);
  expect([value, placed(body, problems)]).toEqual([null, ['trade.grounded "-3 deg"']]);
});
