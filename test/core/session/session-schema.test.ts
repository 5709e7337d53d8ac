import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { parseDocument } from "yaml";
import { readSession } from "../../../core/session/read-session";
import { keysOf, sessionKeyHelp } from "../../../core/session/session-keys";
import { sessionSchema, sessionSchemaText } from "../../../core/session/session-schema";
import { mappableColumns, sessionShapes } from "../../../core/session/session-shapes";
import { schemaFaults } from "../../support/json-schema";

const schema = sessionSchema() as Readonly<Record<string, unknown>>;
const samples = new URL("../../../sample-notebooks/sessions/", import.meta.url);
const least = "session: s1\nsources: s1.csv\n";

/** What the schema refuses of a text as a reader of YAML 1.2 sees it; a text that is no YAML is refused as such. */
function refused(text: string): readonly string[] {
  const document = parseDocument(text, { merge: false });
  return document.errors.length > 0 ? ["not YAML"] : schemaFaults(schema, document.toJS());
}

/** Schema and reading agree: neither has anything against a session with these lines. */
function checkAccepted(lines: string): void {
  expect(readSession(`${least}${lines}\n`).problems.filter(({ severity }) => severity === "error").map(({ message }) => message), lines).toEqual([]);
  expect(refused(`${least}${lines}\n`), lines).toEqual([]);
}

/** Schema and reading agree: both refuse a session with these lines. */
function checkRefused(lines: string): void {
  expect(readSession(`${least}${lines}\n`).problems.some(({ severity }) => severity === "error"), lines).toBe(true);
  expect(refused(`${least}${lines}\n`), lines).not.toEqual([]);
}

test("the committed schema is what the tables in core say: run `npm run reference`", () => {
  expect(readFileSync(new URL("../../../schemas/session.schema.json", import.meta.url), "utf8")).toBe(sessionSchemaText());
});

test("the schema's name is no address, and every reference in it leads somewhere", () => {
  const text = sessionSchemaText();
  expect(schema["$id"]).toBe("urn:fairstrike:session");
  expect(text.match(/https?:\/\/[^/"]+/gu)).toEqual(["https://json-schema.org"]);
  const names = Object.keys(schema["$defs"] as object);
  for (const [, name] of text.matchAll(/"#\/\$defs\/([^"]+)"/gu)) expect(names).toContain(name);
});

test("every key has a shape, and every key of the schema has its help", () => {
  expect(Object.keys(sessionShapes).sort()).toEqual(Object.keys(sessionKeyHelp).sort());
  const text = sessionSchemaText();
  for (const map of ["session", "head", "source", "correction"] as const)
    for (const key of keysOf(map)) expect(text).toContain(JSON.stringify((sessionKeyHelp[map] as Record<string, string>)[key]));
});

test("every sample session is valid", () => {
  const names = readdirSync(samples).filter((name) => name.endsWith(".session.yaml"));
  expect(names.length).toBeGreaterThan(2);
  for (const name of names) expect(refused(readFileSync(new URL(name, samples), "utf8")), name).toEqual([]);
});

test("short forms, long forms and spellings that are read are valid", () => {
  checkAccepted("date: 2026-03-14\ndata: synthetic\nplayer: P1\nball: B1\ncarry_is: unknown\nnote: 7\nturf: firm");
  checkAccepted("columns: { shot: No, carry: { from: 12, unit: Yards }, offline: { from: Side, unit: YD, sides: r/l }, strike_y: { from: Y, sides: { up: U, down: D } } }");
  checkAccepted("columns: { strike_y: { from: Y, positive: up, missing: ['-', n/a] }, strike_x: { from: X, sides: { toe: T, heel: H } } }");
  checkAccepted("heads: { Wren: { kind: iron, club: 7, loft: 34°, lie: 62 Degrees, length: '37 \"', called: 7i, strike_reference: { y: -9 mm } } }");
  checkAccepted("air: { temperature: 21 °C, pressure: 1009 MBAR, humidity: 45 per cent, altitude: 980 ft }");
  checkAccepted("heads:\ncolumns:\nshots:\nset_aside:\nair:\nmonitor:\ncalculated:\nmissing:\nbreaks:\nzones:\nmargin:\n");
  checkAccepted("shots: { shots: 1-6, note: x }\nbreaks: [7, '9–12, 40']\ncalculated: carry\nmissing: '-'");
  checkAccepted("set_aside: [{ shot: 4, column: all, because: a bird }, { shots: [1-2, 9], column: [carry, total], because: 5 }]");
  checkAccepted("corrections: { shots: 3, column: Bay, value: 2, because: typed wrongly }");
  checkAccepted("reading_error: { ball_speed: 0.5 %, side_spin: 10 %, carry: 1 m }\nplausible: { carry: [50 yd, 250 m], speed_ratio: [0.7, 1.5] }\nmargin: { carry: 3 yd }");
  checkAccepted("zones: { width: 14 mm, iron: { height: 5 mm } }\nmisses: { x: 12 mm, wood: { y: 0.3 in } }");
  expect(refused("session: s\nsources: [a.csv, { file: b.csv, order: session shot, head: Wren, decimal: ',', skip_lines: 2, units_row: false, short_rows: missing }]")).toEqual([]);
});

test("V-12 wrong shapes, keys and choices are refused", () => {
  for (const lines of ["heads: Wren", "columns: [a]", "date: [2026]", "corrections:\n  - 5", "colums: {}", "player: { nmae: P1 }", "data: real", "carry_is: rolled", "player: { hand: up }"])
    checkRefused(lines);
  for (const lines of ["heads: { Wren: {} }", "heads: { Wren: { kind: irn } }", "heads: { Wren: }", "columns: { carry: { unit: yd } }", "columns: { zone: Zone }", "columns: { speed: S }", "columns: { carry: }"])
    checkRefused(lines);
  for (const lines of ["breaks: 0", "breaks: x", "breaks: [1-]", "shots: [{ note: x }]", "ball: { count: 0 }", "ball: { count: many }", "player: { mirror: perhaps }"]) checkRefused(lines);
  expect(refused("date: 2026-03-14")).toEqual([": required session", ": required sources"]);
});

test("measures, units and directions that a key cannot have are refused", () => {
  for (const lines of ["air: { temperature: 21 }", "air: { temperature: 21 yd }", "heads: { Wren: { kind: iron, loft: 34 mm } }", "margin: { carry: 3 deg }", "margin: { feel: 3 }", "margin: { head: 3 yd }"])
    checkRefused(lines);
  for (const lines of ["columns: { carry: { from: C, unit: mph } }", "columns: { speed_ratio: { from: R, unit: mph } }", "columns: { carry: { from: C, sides: L/R } }", "columns: { offline: { from: S, sides: T/H } }", "columns: { offline: { from: S, positive: toe } }", "columns: { offline: { from: S, sides: { left: A } } }"])
    checkRefused(lines);
  for (const lines of ["plausible: { carry: 250 yd }", "plausible: { carry: [1 yd] }", "reading_error: { ball_speed: fast }", "reading_error: { stint: 1 % }", "reading_error: { feel: 10 % }", "calculated: [head]", "calculated: shot"]) checkRefused(lines);
});

test("nothing is set aside or corrected without shots, column and reason", () => {
  for (const key of ["shot: 4", "column: carry", "because: x"]) {
    const all = ["shot: 4", "column: carry", "because: x"];
    checkRefused(`set_aside: [{ ${all.filter((each) => each !== key).join(", ")} }]`);
    checkRefused(`corrections: [{ ${[...all, "value: 1 yd"].filter((each) => each !== key).join(", ")} }]`);
  }
  checkRefused("set_aside: [{ shot: 4, column: head, because: x }]");
});

test("Y-02 Y-06 what our YAML refuses is no valid session either", () => {
  checkRefused("columns: { __proto__: x }");
  checkRefused("heads: { __proto__: { kind: iron } }");
  checkRefused("margin: { constructor: 3 yd }");
  checkRefused("<<: { turf: firm }");
  checkRefused("turf: firm\nturf: soft");
  checkRefused("\tturf: firm");
});

test("Y-05 texts that look like other types are texts", () => {
  checkAccepted("player: no\nball: { model: 012 }\nheads: { 1.20: { kind: iron, club: 1.20 } }\nturf: 2024-01-02");
});

test("every column that can be mapped is in the schema, and no other", () => {
  const { columns } = schema["properties"] as Record<string, { properties: object }>;
  expect(Object.keys(columns!.properties)).toEqual(mappableColumns);
});
