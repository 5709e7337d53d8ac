import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { defaultLimits, type Limits } from "../../core/limits";
import { createProfileLoader, profileOf, schemaOfProfile, type ProfiledSession } from "../../core/profile-loader";
import { createSessionLoader, loadSession, type LoadedSession } from "../../core/session-loader";
import { schemaOf } from "../../core/table/schema";
import { columnLength } from "../../core/table/table";
import type { UnitSystem } from "../../core/units";
import { memoryFiles } from "../support/memory-files";
import { smallExport, smallFiles, smallSession } from "../support/small-session";

type Texts = Readonly<Record<string, string | Uint8Array>>;

const nothingLoaded = { load: () => Promise.reject(new Error("nothing is loaded")), keepUsed: () => undefined };

/** What both loaders make of the same sessions, the one from their rows and the other from profiles sent to another thread. */
async function combineBoth(files: Texts, units: UnitSystem = "yd-mph", limits: Limits = defaultLimits): Promise<{ real: ReturnType<typeof combined>; profiled: ReturnType<typeof combined> }> {
  const whole = createSessionLoader(memoryFiles(files), limits);
  const sessions: LoadedSession[] = [];
  for (const name of Object.keys(files)) if (name.endsWith(".session.yaml")) sessions.push(await whole.load(name));
  const profiles = createProfileLoader(nothingLoaded, limits);
  const sent = sessions.map((session) => structuredClone(profileOf(session)));
  return { real: combined(whole.combine(sessions, units)), profiled: combined(profiles.combine(sent, units)) };
}

function combined({ value, problems }: ReturnType<ReturnType<typeof createSessionLoader>["combine"]>): { schema: unknown; names: unknown; problems: unknown } {
  const names = value?.table.columns.map(({ name, kind, origin }) => [name, kind, origin]);
  return { schema: value?.schema ?? null, names, problems };
}

/** Expects that profiles combine as the sessions do, and returns the schema. */
async function checkEqual(files: Texts, units?: UnitSystem, limits?: Limits): Promise<unknown> {
  const { real, profiled } = await combineBoth(files, units, limits);
  expect(profiled).toEqual(real);
  return real.schema;
}

/** A session whose columns are those of a table of texts, all but shot and head kept under their headers. */
function keptSession(name: string, lines: readonly string[]): Texts {
  const session = smallSession(name, `${name}.csv`).replace(/^ {2}(?:ball_speed|carry|offline):.*\n/gmu, "");
  return { [`${name}.session.yaml`]: session, [`${name}.csv`]: `${lines.join("\n")}\n` };
}

test("profiles of the sample sessions have the schema that their rows have, alone and together, in all units", async () => {
  const folder = path.resolve(import.meta.dirname, "../../sample-notebooks/sessions");
  const files = Object.fromEntries(readdirSync(folder).map((name) => [name, new Uint8Array(readFileSync(path.join(folder, name)))]));
  for (const units of ["yd-mph", "m-kmh", "m-ms"] as const) expect(await checkEqual(files, units)).not.toBeNull();
  for (const name of Object.keys(files).filter((each) => each.endsWith(".session.yaml"))) {
    const others = Object.fromEntries(Object.entries(files).filter(([each]) => each === name || !each.endsWith(".session.yaml")));
    expect(await checkEqual(others, "m-kmh")).not.toBeNull();
  }
});

test("sessions in other units and with other columns have the schema that their rows have", async () => {
  const metric = smallSession("two", "b.csv").replace("unit: mph", "unit: km/h").replaceAll("unit: yd", "unit: m").replace("  offline: { from: Side, unit: m, positive: right }\n", "");
  const files = { ...smallFiles, "s/two.session.yaml": metric, "s/b.csv": smallExport.replace("152.0", "") };
  const schema = (await checkEqual(files, "m-ms")) as { columns: { name: string; missing: number; range?: { low: number; high: number } }[] };
  const column = (name: string): unknown => schema.columns.find((each) => each.name === name);
  expect(column("offline")).toMatchObject({ unit: "m", missing: 12, range: { low: expect.closeTo(-4.572, 9), high: expect.closeTo(5.4864, 9) } });
  expect(column("carry")).toMatchObject({ missing: 1, range: { low: expect.closeTo(136.2456, 9), high: 161 } });
});

test("a column that is numbers here and text there has the same values, up to as many as are listed", async () => {
  const of = (count: number): Texts => ({
    ...keptSession("a", ["No,Club,Tee (mm)", ...Array.from({ length: count }, (_, i) => `${i + 1},Wren,${30 + i / 4}`)]),
    ...keptSession("b", ["No,Club,Tee (mm)", "1,Heron,low", "2,Heron,", "3,Heron,30"]),
  });
  for (const count of [3, 198, 199, 200, 250]) {
    const schema = (await checkEqual(of(count))) as { columns: { name: string; values?: string[] }[] };
    expect(schema.columns.find((column) => column.name === "Tee (mm)")!.values?.length).toBe(count + 2 <= 200 ? count + 2 : undefined);
  }
});

test("more than 200 texts are not listed, and no more go with a profile", async () => {
  const files = keptSession("a", ["No,Club,Tag", ...Array.from({ length: 201 }, (_, i) => `${i + 1},Wren,t${i}`)]);
  const schema = (await checkEqual(files)) as { columns: { name: string; values?: string[] }[] };
  expect(schema.columns.find((column) => column.name === "Tag")).not.toHaveProperty("values");
  const { table } = profileOf(await loadSession("a.session.yaml", memoryFiles(files), { limits: defaultLimits }));
  expect(table!.columns.find((column) => column.name === "Tag")).toMatchObject({ labels: { length: 200 } });
});

test("a session that is there twice, two players and too many rows are said as for rows", async () => {
  const twice = { ...smallFiles, "s/two.session.yaml": smallSession("one") };
  expect((await combineBoth(twice)).profiled.problems).toMatchObject([{ code: "schema.unique" }]);
  await checkEqual(twice);
  const players = { ...smallFiles, "s/two.session.yaml": smallSession("two", "small.csv", "P2") };
  expect((await combineBoth(players)).profiled.problems).toMatchObject([{ code: "session.two-players" }]);
  await checkEqual(players);
  const few = { ...defaultLimits, rows: 20 };
  const many = { ...smallFiles, "s/two.session.yaml": smallSession("two") };
  expect((await combineBoth(many, "yd-mph", few)).profiled.problems).toMatchObject([{ code: "run.too-large", facts: { count: 24 } }]);
  await checkEqual(many, "yd-mph", few);
});

test("sessions without shots combine to nothing, as their rows do", async () => {
  expect(await checkEqual({ "s/one.session.yaml": smallSession("one") })).toBeNull();
  expect(await checkEqual({})).toBeNull();
});

test("any small sessions have the schema that their rows have", async () => {
  const field = fc.oneof(fc.constantFrom("", "0", "-0", "-1", "1.5", "n/a", "low", "007"), fc.integer({ min: -3, max: 3 }).map(String));
  const session = fc.array(fc.tuple(field, field), { minLength: 1, maxLength: 5 });
  await fc.assert(
    fc.asyncProperty(session, session, fc.constantFrom<UnitSystem>("yd-mph", "m-kmh"), async (a, b, units) => {
      const lines = (header: string, rows: typeof a): string[] => [header, ...rows.map(([x, y], i) => `${i + 1},Wren,${x},${y}`)];
      await checkEqual({ ...keptSession("a", lines("No,Club,X (yd),Y", a)), ...keptSession("b", lines("No,Club,Y,X (yd)", b)) }, units);
    }),
    { seed: 11, numRuns: 100 },
  );
});

test("a profile has no rows and none of the lists that grow with them", async () => {
  const files = { ...smallFiles, "s/one.session.yaml": `${smallSession("one")}set_aside: [{ shot: 3, column: carry, because: a reason }]\ncorrections: [{ shots: 4, column: head, value: Wren, because: a reason }]\n` };
  const loaded = await loadSession("s/one.session.yaml", memoryFiles(files), { limits: defaultLimits });
  expect(loaded.table!.sessions[0]).toMatchObject({ setAsideValues: { length: 1 }, putBack: { length: 1 }, corrections: { length: 1 } });
  const { table, counts, ...rest } = profileOf(loaded);
  expect(table!.columns.map(columnLength)).toEqual(table!.columns.map(() => 0));
  expect([table!.rowCount, counts!.rowCount, counts!.isPart]).toEqual([0, 12, false]);
  const { setAsideValues: _values, putBack: _back, corrections: _corrections, ...facts } = loaded.table!.sessions[0]!;
  expect(table!.sessions).toEqual([facts]);
  const { table: _table, ...same } = loaded;
  expect(rest).toEqual(same);
});

test("the schema of one profile is that of its session, in its own units", async () => {
  const loaded = await loadSession("s/one.session.yaml", memoryFiles(smallFiles), { limits: defaultLimits });
  expect(schemaOfProfile(profileOf(loaded))).toEqual(schemaOf(loaded.table!));
  const nothing: ProfiledSession = profileOf(await loadSession("s/none.session.yaml", memoryFiles({}), { limits: defaultLimits }));
  expect([nothing.fault, nothing.counts, schemaOfProfile(nothing)]).toEqual(["missing", null, null]);
});

test("a session of which a part was read claims neither counts nor values, but the names of sessions", async () => {
  const profile = async (name: string, exportBytes?: number): Promise<ProfiledSession> =>
    profileOf(await loadSession(`s/${name}.session.yaml`, memoryFiles({ ...smallFiles, "s/two.session.yaml": smallSession("two") }), { limits: defaultLimits, ...(exportBytes === undefined ? {} : { exportBytes }) }));
  const { combine } = createProfileLoader(nothingLoaded, defaultLimits);
  const { value } = combine([await profile("one", 100), await profile("two")], "yd-mph");
  expect(value!.schema).not.toHaveProperty("rowCount");
  expect(value!.schema.columns.filter((column) => column.missing !== undefined || column.range !== undefined)).toEqual([]);
  expect(value!.schema.columns.flatMap(({ name, values }) => (values === undefined ? [] : [[name, values]]))).toEqual([["session", ["one", "two"]]]);
});
