import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { repository, runIn } from "../../support/command-line";
import { smallExport, smallSession } from "../../support/small-session";
import { tempFolder } from "../../support/temp-folder";

const samples = path.resolve(import.meta.dirname, "../../../sample-notebooks");
const usual = ["--ball-speed", "130 mph", "--launch-angle", "17 deg", "--spin-rate", "6200 rpm"];

/** What is written as JSON. */
interface Json {
  readonly fairstrike: number;
  readonly session: string | null;
  readonly problems: readonly { readonly code: string }[];
  readonly result: { readonly columns: readonly { readonly name: string; readonly unit: string | null }[]; readonly rows: readonly (readonly (number | string | null)[])[]; readonly row_count: number } | null;
}

/** The first row of what a call writes as JSON, by column. */
async function firstRow(given: readonly string[], folder = tempFolder()): Promise<Record<string, number | string | null>> {
  const { code, out, said } = await runIn(folder, ["flight", ...given, "--json", "-"]);
  expect(code, said).toBe(0);
  const { result } = JSON.parse(out) as Json;
  return Object.fromEntries(result!.columns.map(({ name }, i) => [name, result!.rows[0]![i]!]));
}

/** Expects a call to be refused as wrong usage, with these words. */
async function checkUsage(given: readonly string[], words: string, folder = tempFolder()): Promise<void> {
  const finished = await runIn(folder, ["flight", ...given]);
  expect([finished.code, finished.out]).toEqual([2, ""]);
  expect(finished.said).toContain(words);
  expect(finished.said).not.toContain(folder);
}

test("one shot is told with its carry, the spread of the fits and the method", async () => {
  const { code, out, said } = await runIn(tempFolder(), ["flight", ...usual]);
  expect([code, said]).toEqual([0, ""]);
  expect(out).toContain("The ball carries 182.8 yd in standard air at sea level (1.225 kg/m³), still air");
  expect(out).toContain("By Ferguson, McNally & McPhee 2022 the carry is 0.2 yd from that.");
  expect(out).toContain("Method: Point mass");
  expect(out).not.toContain("turf");
});

test("wind, air, aim and turf are told by options; a minus may stand behind a space", async () => {
  const row = await firstRow([...usual, "--wind-along", "-5 m/s"]);
  expect(row["carry"]).toBeCloseTo(145.564 / 0.9144, 2);
  expect(await firstRow([...usual, "--wind-along=-5 m/s"])).toEqual(row);
  const aimed = await firstRow([...usual, "--start-direction", "2 deg", "--spin-axis", "-8 deg", "--turf", "natural turf"]);
  expect(aimed["offline"]).toBeCloseTo(-8.36 / 0.9144, 2);
  expect(aimed["model_turf"]).toBe("natural turf");
  expect((await firstRow([...usual, "--temperature", "25 degC", "--altitude", "1500 m"]))["carry"]).toBeGreaterThan(190);
  expect((await firstRow([...usual, "--air", "ball test"]))["carry"]).toBeGreaterThan(183);
});

test("units are the notebook's systems", async () => {
  const row = await firstRow([...usual, "--units", "m-ms"]);
  expect(row["carry"]).toBeCloseTo(167.18, 2);
  await checkUsage([...usual, "--units", "metric"], "--units is one of yd-mph, m-kmh, m-ms");
});

test("every shot of a session is modelled, as the verb does it", async () => {
  const { code, out, said } = await runIn(samples, ["flight", "sessions/spring-bay-1.session.yaml", "--json", "-"]);
  const json = JSON.parse(out) as Json;
  expect([code, json.fairstrike, json.session, json.result!.row_count]).toEqual([0, 1, "spring-bay-1.session.yaml", 102]);
  expect(json.result!.columns.map(({ name }) => name)).toEqual(expect.arrayContaining(["carry", "model_carry", "model_carry_spread", "model_descent_angle"]));
  expect(said).toContain("sessions/spring-bay-1.session.yaml: 0 errors");
  const words = await runIn(samples, ["flight", "sessions/spring-bay-1.session.yaml", "--turf", "slow green"]);
  expect(words.out).toMatch(/Carry of Wren: \d+\.\d yd modelled, \d+\.\d yd recorded, over 34 shots/u);
  expect(words.out).toContain("model_total is for slow green and no other");
});

test("results go into a file, and never into what they come from", async () => {
  const folder = tempFolder();
  const { code, out } = await runIn(folder, ["flight", ...usual, "--json", "one.json"]);
  expect(code).toBe(0);
  expect(out).toContain("The ball carries");
  expect((JSON.parse(readFileSync(path.join(folder, "one.json"), "utf8")) as Json).session).toBeNull();
  await checkUsage([...usual, "--json", "s.csv"], "may be somebody's input", folder);
  expect(existsSync(path.join(folder, "s.csv"))).toBe(false);
});

test("M-01 what is missing, unknown or impossible is refused with 2, at its option", async () => {
  await checkUsage([], "one flight needs --ball-speed and --launch-angle and --spin-rate; or name a session file");
  await checkUsage(usual.slice(0, 4), "one flight needs --spin-rate;");
  await checkUsage([...usual.slice(2), "--ball-speed", "130"], "--ball-speed: a number with its unit, such as \"130 mph\" is wanted here");
  await checkUsage([...usual.slice(2), "--ball-speed", "130 yd"], "--ball-speed: ball speed is a speed; it cannot be in yd");
  await checkUsage([...usual.slice(2), "--ball-speed", "300 mph"], "--ball-speed: no shot starts with a ball speed of 300 mph; it lies between");
  await checkUsage([...usual.slice(2), "--ball-speed", "60 mph"], "--ball-speed: a ball speed of 60 mph is slower");
  await checkUsage([...usual, "--air", "moon"], "--air: there is no air \"moon\"");
  await checkUsage([...usual, "--turf", "moss"], "--turf: there is no choice \"moss\"");
  await checkUsage([...usual, "--speed", "3"], "--speed");
  await checkUsage([...usual, "--wind-along"], "--wind-along");
  await checkUsage([...usual, "--spin-axis", '5" }); shots('], "--spin-axis: a number with its unit");
});

test("M-01 a session that is none, or has options of one shot, is refused with 2", async () => {
  const folder = repository({});
  await checkUsage(["x.session.yaml"], 'there is no file "x.session.yaml"', folder);
  await checkUsage(["s/small.csv"], "is no session file; its name would end in .session.yaml", folder);
  await checkUsage(["s/one.session.yaml", "s/two.session.yaml"], "one session at a time", folder);
  await checkUsage(["s/one.session.yaml", "--ball-speed", "130 mph"], "--ball-speed is for one shot", folder);
});

test("a session without launches, or with errors, ends with 1", async () => {
  const folder = repository({
    "s/bad.session.yaml": `${smallSession("bad")}\nair: { temperature: warm }\n`,
    "s/full.session.yaml": smallSession("full", "full.csv").replace("  carry:", "  launch_angle: { from: La, unit: deg }\n  spin_rate: { from: Spin, unit: rpm }\n  carry:"),
    "s/full.csv": smallExport.split("\n").map((line, i) => (line === "" ? "" : i === 0 ? `${line},La,Spin` : `${line},18,6400${i === 3 ? "x" : ""}`)).join("\n"),
  });
  const none = await runIn(folder, ["flight", "s/one.session.yaml"]);
  expect([none.code, none.out]).toEqual([1, ""]);
  expect(none.said).toContain("the table has no launch_angle or spin_rate in a unit that fits");
  const full = await runIn(folder, ["flight", "s/full.session.yaml"]);
  expect(full.code).toBe(1);
  expect(full.said).toContain("s/full.csv:4:");
  expect(full.out.replaceAll(/\s+/gu, " ")).toContain("Without a complete launch (ball speed, launch angle, spin rate) and so without a flight: 1 of 6 shots of Wren.");
  expect((await runIn(folder, ["flight", "s/bad.session.yaml"])).code).toBe(1);
});

test("its help says how it is called", async () => {
  const { code, out } = await runIn(tempFolder(), ["flight", "--help"]);
  expect(code).toBe(0);
  expect(out).toContain('usage: fairstrike flight --ball-speed "130 mph" --launch-angle "17 deg" --spin-rate "6200 rpm" [--start-direction "1 deg"] [--spin-axis "5 deg"]');
  expect(out).toContain("fairstrike flight SESSION");
});
