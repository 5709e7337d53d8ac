import { expect, test } from "vitest";
import { shotPicker } from "../../../core/present/pick-shots";
import { presentTable } from "../../../core/present/present-table";
import { readSetAsideMessage } from "../../../core/present/set-aside-message";
import type { Column, Table } from "../../../core/table/table";
import { makeTable, numberColumn, textColumn } from "../../../core/table/table";
import { loadedTable } from "../../support/loaded-table";
import { smallExport, smallSession } from "../../support/small-session";

const loaded = loadedTable(smallSession("one"), { "small.csv": smallExport });
const shots: Table = { ...loaded, sessions: loaded.sessions.map((session) => ({ ...session, file: "s/one.session.yaml" })) };
const pickerOf = (columns: readonly Column[], rows: number, sessions = shots.sessions) => shotPicker(presentTable(makeTable(columns, rows, { sessions }), 200));

test("the shots of a session can be set aside by column or whole, derived columns not", () => {
  const picker = shotPicker(presentTable(shots, 200))!;
  expect(picker.choices).toEqual(["ball_speed", "carry", "offline", "all"]);
  const { rows } = presentTable(shots, 200);
  expect(picker.nameOf(rows[3]!)).toBe("shot 4 of one");
  expect(picker.requests([rows[4]!, rows[3]!, rows[4]!], "carry", "a bird")).toEqual([
    { file: "s/one.session.yaml", requests: [{ shots: [4, 5], columns: ["carry"], because: "a bird" }] },
  ]);
  expect(picker.requests([rows[0]!], "all", "no swing")[0]?.requests[0]?.columns).toBe("all");
});

test("a table that has no shots behind its rows has nothing to set aside", () => {
  expect(pickerOf([numberColumn("carry", [150], "yd", "measured")], 1)).toBeNull();
  expect(pickerOf([numberColumn("shot", [1]), numberColumn("carry", [150], "yd", "measured")], 1, [])).toBeNull();
  expect(pickerOf([numberColumn("shot", [1])], 1)).toBeNull();
});

test("of a table of doubts each row sets aside the value that it doubts, once, and none that is set aside already", () => {
  const doubts = [
    textColumn("session", ["one", "one", "one"]),
    numberColumn("shot", [4, 5, 5]),
    textColumn("column", ["carry", "carry", "ball_speed"]),
    numberColumn("recorded", [158, 157, 115]),
    textColumn("state", ["suspect", "suspect", "set aside"]),
  ];
  const picker = pickerOf(doubts, 3)!;
  const { rows } = presentTable(makeTable(doubts, 3, { sessions: shots.sessions }), 200);
  expect(picker.choices).toEqual(["doubted", "all"]);
  expect(rows.map(picker.canPick)).toEqual([true, true, false]);
  expect(picker.nameOf(rows[0]!)).toBe("shot 4 of one, carry");
  expect(picker.requests(rows, "doubted", "misread")[0]?.requests).toEqual([
    { shots: [4, 5], columns: ["carry"], because: "misread" },
    { shots: [5], columns: ["ball_speed"], because: "misread" },
  ]);
});

test("only what a table of ours sends is taken for a request", () => {
  const message = { type: "set-aside", question: 1, files: [{ file: "s/one.session.yaml", requests: [{ shots: [4], columns: ["carry"], because: "x" }] }] };
  expect(readSetAsideMessage(JSON.parse(JSON.stringify(message)))).toEqual(message);
  const withRequest = (request: unknown): unknown => ({ ...message, files: [{ file: "s/one.session.yaml", requests: [request] }] });
  for (const wrong of [
    null,
    { ...message, type: "other" },
    { ...message, files: [] },
    { ...message, files: [{ file: "s/small.csv", requests: message.files[0]!.requests }] },
    withRequest({ shots: [4.5], columns: ["carry"], because: "x" }),
    withRequest({ shots: [4], columns: ["head"], because: "x" }),
    withRequest({ shots: [4], columns: [], because: "x" }),
    withRequest({ shots: [4], columns: ["carry"] }),
  ])
    expect(readSetAsideMessage(wrong)).toBeNull();
});
