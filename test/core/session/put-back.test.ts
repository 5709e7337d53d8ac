import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { combineTables } from "../../../core/session/combine-sessions";
import { loadShots } from "../../../core/session/load-shots";
import { applyEdits } from "../../../core/session/apply-edits";
import { setAsideEdits } from "../../../core/session/set-aside-edit";
import { withPutBack } from "../../../core/session/put-back";
import { readSession } from "../../../core/session/read-session";
import { inUnits } from "../../../core/table/convert-units";
import type { Table } from "../../../core/table/table";
import { makeTable, missingCount, valueAt } from "../../../core/table/table";
import { load, values } from "./load-check";

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A session as it is, and as it would be had its list `set_aside` never been written. */
function bothWays(text: string, files: ReadonlyMap<string, Uint8Array>): { readonly aside: Table; readonly whole: Table } {
  const session = readSession(text).value!;
  return { aside: loadShots(session, files).value!, whole: loadShots({ ...session, setAside: [] }, files).value! };
}

/** All values of a table, column by column. */
function plain(table: Table): Readonly<Record<string, readonly unknown[]>> {
  return Object.fromEntries(table.columns.map((column) => [column.name, Array.from({ length: table.rowCount }, (_, row) => valueAt(column, row))]));
}

const columns = `columns:
  shot: "No"
  head: Club
  ball_speed: { from: Ball, unit: mph }
  club_speed: { from: Speed, unit: mph }
  face_angle: { from: Face, unit: deg }
  club_path: { from: Path, unit: deg }
  spin_rate: { from: Spin, unit: rpm }
  spin_axis: { from: Axis, unit: deg }
  strike_x: { from: X, unit: mm }
  strike_y: { from: Y, unit: mm }
  carry: { from: Carry, unit: yd }
heads:
  Wren: { kind: iron, strike_reference: { x: 1 mm, y: -9 mm } }
  Heron: { kind: iron, strike_reference: { x: 0 mm, y: -8 mm } }
`;
const header = "No,Club,Ball,Speed,Face,Path,Spin,Axis,X,Y,Carry\n";
const first = "1,Wren,118,87,1.5,-0.5,6000,4,3,-10,163\n2,Wren,119,88,2,1,6100,5,4,-4,165\n5,Heron,121,88,-1,1,5900,-6,-12,-20,168\n";
const second = "9,Heron,120,87,0,0.5,5800,-1,1,-8,166\n12,Wren,117,86,-2,-3,6200,2,14,-9,160\n";
const all = `set_aside:
  - { shot: 2, column: club_speed, because: a }
  - { shots: 5-9, column: [face_angle, spin_axis, strike_y], because: b }
  - { shot: 12, column: all, because: c }
`;
const session = (player: string, aside = all, sources = "{ file: a.csv, order: shot }"): string => `session: s\nplayer: ${player}\nsources: ${sources}\n${columns}${aside}`;
const oneFile = new Map([["a.csv", bytes(header + first + second)]]);

test("values put back, derived ones among them, make the table that it would be had nothing been set aside", () => {
  for (const player of ["{ name: P1, hand: right }", "{ name: P1, hand: left, mirror: true }"]) {
    const { aside, whole } = bothWays(session(player), oneFile);
    expect(plain(aside)).not.toEqual(plain(whole));
    const back = withPutBack(aside);
    expect(plain(back.table)).toEqual(plain(whole));
    expect(back).toMatchObject({ count: 1 + 2 * 3 + 9, shots: 4, elsewhere: 0 });
  }
});

test("values put back are in the frame of the table: from the strike reference, mirrored, with their unit", () => {
  const [facts] = bothWays(session("{ name: P1, hand: left, mirror: true }"), oneFile).aside.sessions;
  expect(facts!.putBack!.filter(({ shot }) => shot === 5)).toEqual([
    { shot: 5, column: "face_angle", value: 1, unit: "deg" },
    { shot: 5, column: "face_to_path", value: 2, unit: "deg" },
    { shot: 5, column: "strike_y", value: -12, unit: "mm" },
    { shot: 5, column: "strike_distance", value: Math.hypot(12, 12), unit: "mm" },
    { shot: 5, column: "zone", value: "low heel", unit: null },
    { shot: 5, column: "back_spin", value: 5900 * Math.cos(Math.PI / 30), unit: "rpm" },
    { shot: 5, column: "side_spin", value: 5900 * Math.sin(Math.PI / 30), unit: "rpm" },
    { shot: 5, column: "spin_axis", value: 6, unit: "deg" },
  ]);
});

test("values that stay missing are not put back: those that cannot be read", () => {
  const { aside } = bothWays(session("{ name: P1 }", "set_aside: { shot: 2, column: carry, because: a }\n"), new Map([["a.csv", bytes(header + first.replace(",165", ",?!"))]]));
  expect(aside.sessions[0]!.setAsideValues).toMatchObject([{ shot: 2, recorded: null }]);
  expect(aside.sessions[0]!.putBack).toEqual([]);
  expect(withPutBack(aside).table).toBe(aside);
});

test("values put back survive a change of units", () => {
  const { aside, whole } = bothWays(session("{ name: P1 }"), oneFile);
  expect(plain(withPutBack(inUnits(aside, "m-kmh")).table)).toEqual(plain(inUnits(whole, "m-kmh")));
});

test("shots from two files, and two sessions whose shots have the same numbers, get back their own values", () => {
  const files = new Map([["a.csv", bytes(header + second)], ["b.csv", bytes(header + first)]]);
  const sources = "[{ file: a.csv, order: session shot }, { file: b.csv, order: session shot }]";
  const one = bothWays(session("{ name: P1 }", all, sources), files);
  expect(values(one.aside, "shot")).toEqual([1, 2, 5, 9, 12]);
  expect(plain(withPutBack(one.aside).table)).toEqual(plain(one.whole));
  const other = bothWays(session("{ name: P1 }", "set_aside: { shots: 1-2, column: strike_x, because: a }\n").replace("session: s", "session: t").replaceAll("mph", "m/s"), oneFile);
  const [aside, whole] = [combineTables([one.aside, other.aside]).value!, combineTables([one.whole, other.whole]).value!];
  const rounded = (table: Table): unknown => JSON.parse(JSON.stringify(plain(table), (_, value: unknown) => (typeof value === "number" ? Number(value.toPrecision(12)) : value)));
  expect(rounded(withPutBack(aside).table)).toEqual(rounded(whole));
});

test("the facts of what is put back no longer count it as set aside, and say that it is there", () => {
  const { table } = withPutBack(bothWays(session("{ name: P1 }"), oneFile).aside);
  expect(table.sessions[0]).toMatchObject({ setAside: [], setAsideValues: [], putBack: [], hasPutBack: true });
});

test("with nothing set aside, and for a table that lost its shot numbers, the table stays the same", () => {
  const { aside, whole } = bothWays(session("{ name: P1 }"), oneFile);
  expect(whole.sessions[0]).not.toHaveProperty("putBack");
  expect(withPutBack(whole).table).toBe(whole);
  const lost = makeTable(aside.columns.filter(({ name }) => name !== "shot"), aside.rowCount, aside);
  expect(withPutBack(lost)).toMatchObject({ count: 0, table: lost });
});

test("a column that a query computed stays as it is, and shots without a row are counted apart", () => {
  const { aside } = bothWays(session("{ name: P1 }"), oneFile);
  const computed = { ...aside, columns: aside.columns.map((column) => (column.name === "club_speed" ? { ...column, origin: "computed" as const } : column)) };
  expect(missingCount(withPutBack(computed).table.columns.find(({ name }) => name === "club_speed")!)).toBe(2);
  const { table } = load(session("{ name: P1 }"), { "a.csv": header + first + second });
  const rows = Int32Array.from([0, 1]);
  const few = makeTable(table.columns.map((column) => (column.kind === "text" ? { ...column, codes: column.codes.slice(0, 2) } : { ...column, values: column.values.slice(0, 2) } as typeof column)), rows.length, table);
  expect(withPutBack(few)).toMatchObject({ count: 1, shots: 1, elsewhere: 15 });
});

test("the sample sessions with their values put back are what their exports hold", () => {
  const folder = path.resolve(import.meta.dirname, "..", "..", "..", "sample-notebooks", "sessions");
  for (const [name, count] of [["spring-bay-1", 7], ["autumn-range-1", 1], ["summer-net-1", 0]] as const) {
    const text = readFileSync(path.join(folder, `${name}.session.yaml`), "utf8");
    const files = new Map(readSession(text).value!.sources.map(({ file }) => [file, new Uint8Array(readFileSync(path.join(folder, file)))]));
    const { aside, whole } = bothWays(text, files);
    const back = withPutBack(aside);
    expect(back.count, name).toBe(count);
    expect(plain(back.table), name).toEqual(plain(whole));
  }
});

test("a value that is set aside twice counts once, with the first reason, whether it can be read or not", () => {
  const twice = "set_aside:\n  - { shots: 2-5, column: carry, because: first }\n  - { shot: 2, column: all, because: again }\n";
  for (const carry of [",165", ",?!"]) {
    const { aside } = bothWays(session("{ name: P1 }", twice), new Map([["a.csv", bytes(header + first.replace(",165", carry))]]));
    expect(aside.sessions[0]!.setAsideValues!.filter(({ column }) => column === "carry").map(({ shot, because }) => [shot, because])).toEqual([[2, "first"], [5, "first"]]);
  }
});

test("what is written into a session file is missing when it is loaded, and can be put back", () => {
  const before = session("{ name: P1 }", "");
  const text = applyEdits(before, setAsideEdits(before, [{ shots: [12, 9, 5], columns: ["carry", "spin_rate"], because: 'half: "5" # of the rest' }]).value!);
  expect(text).toContain('- { shots: [5, 9, 12], column: [carry, spin_rate], because: "half: \\"5\\" # of the rest" }');
  const { aside, whole } = bothWays(text, oneFile);
  expect([values(aside, "carry"), values(aside, "spin_rate"), values(aside, "back_spin")!.slice(2)]).toEqual([[163, 165, null, null, null], [6000, 6100, null, null, null], [null, null, null]]);
  expect(plain(withPutBack(aside).table)).toEqual(plain(whole));
});

test("the head of a shot is corrected and not set aside", () => {
  const { value, problems } = setAsideEdits(session("{ name: P1 }", ""), [{ shots: [1], columns: ["head"], because: "another one" }]);
  expect([value, problems.map((found) => found.code)]).toEqual([null, ["session.wrong-choice"]]);
});
