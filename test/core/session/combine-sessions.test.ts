import { expect, test } from "vitest";
import { combineTables } from "../../../core/session/combine-sessions";
import { marginOf } from "../../../core/session/margin";
import { inUnits } from "../../../core/table/convert-units";
import type { Table } from "../../../core/table/table";
import { findColumn, makeTable, numberColumn } from "../../../core/table/table";
import { load, values } from "./load-check";

function table(name: string, csv: string, unit = "yd", more = ""): Table {
  const session = `session: ${name}\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, carry: { from: Carry, unit: ${unit} } }\nheads: { Wren: { kind: iron }, Heron: { kind: wood } }\n${more}`;
  return load(session, { "a.csv": csv }).table;
}

const one = table("s1", "Club,Carry,x\nWren,150,1\nHeron,151,2\n");

test("sessions are put under one another by column name, in the unit of the first", () => {
  const two = table("s2", "Carry,Club,y\n100,Wren,north\n", "m");
  const { value, problems } = combineTables([one, two]);
  expect(problems).toEqual([]);
  expect(values(value!, "session")).toEqual(["s1", "s1", "s2"]);
  expect(values(value!, "shot")).toEqual([1, 2, 1]);
  expect(values(value!, "head")).toEqual(["Wren", "Heron", "Wren"]);
  expect(values(value!, "x")).toEqual([1, 2, null]);
  expect(values(value!, "y")).toEqual([null, null, "north"]);
  expect(findColumn(value!, "carry")).toMatchObject({ unit: "yd" });
  expect(values(value!, "carry")![2]).toBeCloseTo(109.3613298, 6);
  expect(value!.sessions.map((session) => session.name)).toEqual(["s1", "s2"]);
});

test("a column of numbers in one session and of text in another becomes text", () => {
  const { value } = combineTables([one, table("s2", "Club,Carry,x\nWren,150,high\n")]);
  expect(values(value!, "x")).toEqual(["1", "2", "high"]);
});

test("V-11 a session twice gives no table", () => {
  const { value, problems } = combineTables([one, one]);
  expect(value).toBeNull();
  expect(problems.map((p) => p.code)).toEqual(["schema.unique"]);
  expect(problems[0]!.message).toContain("session s1 is there twice");
});

test("two players together are said", () => {
  const { value, problems } = combineTables([table("s1", "Club,Carry\nWren,1\n", "yd", "player: P1\n"), table("s2", "Club,Carry\nWren,1\n", "yd", "player: P2\n")]);
  expect(value!.rowCount).toBe(2);
  expect(problems.map((p) => p.code)).toEqual(["session.two-players"]);
});

test("no tables, and one", () => {
  expect(combineTables([])).toEqual({ value: null, problems: [] });
  expect(combineTables([one]).value).toBe(one);
});

test("a table in a notebook's units: by what a shot column measures, by the unit of any other", () => {
  const of = makeTable(
    [
      numberColumn("peak_height", [30], "yd"),
      numberColumn("carry", [100, null].slice(0, 1), "m"),
      numberColumn("ball_speed", [50], "m/s"),
      numberColumn("speed_ratio", [1.4]),
      numberColumn("Run-up", [10], "ft"),
      numberColumn("Height (m)", [27], "m"),
      numberColumn("Air", [20], "degC"),
    ],
    1,
  );
  const shown = inUnits(of, "yd-mph").columns.map((column) => (column.kind === "number" ? `${Number(column.values[0]!.toFixed(4))} ${String(column.unit)}` : ""));
  expect(shown).toEqual(["90 ft", "109.3613 yd", "111.8468 mph", "1.4 null", "10 ft", "27 m", "68 degF"]);
  expect(of.columns[0]).toMatchObject({ unit: "yd" });
  const same = inUnits(of, "yd-mph");
  expect(inUnits(same, "yd-mph")).toBe(same);
});

test("missing stays missing in any unit", () => {
  const of = makeTable([numberColumn("carry", [null, 100], "m")], 2);
  expect(values(inUnits(of, "yd-mph"), "carry")).toEqual([null, expect.closeTo(109.3613, 4)]);
});

test("margins: the notebook's, the session's, the default", () => {
  const stated = table("s1", "Club,Carry\nWren,1\n", "yd", "margin: { carry: 5 m }\n").sessions;
  expect(marginOf("carry", { carry: { value: 1, unit: "yd" } }, stated)).toEqual({ value: 1, unit: "yd" });
  expect(marginOf("carry", {}, stated)).toEqual({ value: 5, unit: "m" });
  expect(marginOf("ball_speed", {}, stated)).toEqual({ value: 1, unit: "mph" });
  expect(marginOf("feel", {}, stated)).toBeNull();
  expect(marginOf("constructor", {}, stated)).toBeNull();
});
