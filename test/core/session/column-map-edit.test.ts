import { expect, test } from "vitest";
import { applyEdits } from "../../../core/session/apply-edits";
import type { ColumnStatement } from "../../../core/session/column-map-edit";
import { columnMapEdit } from "../../../core/session/column-map-edit";

const left: ColumnStatement = { key: "positive", value: "left" };
const metres: ColumnStatement = { key: "unit", value: "m" };

/** The entry `offline` under `columns` becomes `expected`; `null` where no edit is safe. Everything around it stays. */
function checkEntry(entry: string, statement: ColumnStatement, expected: string | null, lineEnd = "\n"): void {
  const around = (each: string): string => `# one\nsources: a.csv\ncolumns:\n  carry: Carry # two\n  offline: ${each}\n  # three\n  total: Total\nheads: { Wren: { kind: iron } }\n`.replaceAll("\n", lineEnd);
  const text = around(entry);
  const edit = columnMapEdit(text, "offline", statement);
  if (expected === null) expect(edit).toBeNull();
  else expect(edit === null ? null : applyEdits(text, [edit])).toBe(around(expected));
}

test("a header alone becomes a map, in its own quotes or in new ones where braces need them", () => {
  checkEntry("Side", left, "{ from: Side, positive: left }");
  checkEntry("Side # yards", left, "{ from: Side, positive: left } # yards");
  checkEntry("Off line (yd)", metres, "{ from: Off line (yd), unit: m }");
  checkEntry("'Side'", metres, "{ from: 'Side', unit: m }");
  checkEntry('"Side, m"', metres, '{ from: "Side, m", unit: m }');
  checkEntry("Aside [m]", left, '{ from: "Aside [m]", positive: left }');
  checkEntry("Side, right +", left, '{ from: "Side, right +", positive: left }');
});

test("a key is added to a map between braces, over one line or several, comma at the end or not", () => {
  checkEntry("{ from: Side, unit: yd }", left, "{ from: Side, unit: yd, positive: left }");
  checkEntry("{ from: Side, unit: yd, }", left, "{ from: Side, unit: yd, positive: left, }");
  checkEntry("{ from: Side,\n    unit: yd # yards\n    }", left, "{ from: Side,\n    unit: yd, positive: left # yards\n    }");
});

test("a key is added to a map on lines of its own, under its header, with the file's line ends", () => {
  checkEntry("\n    from: Side\n    unit: yd # yards", left, "\n    from: Side\n    positive: left\n    unit: yd # yards");
  checkEntry("\n    unit: yd\n    from: Side # the one from the line", left, "\n    unit: yd\n    from: Side # the one from the line\n    positive: left");
  checkEntry("\n    from: Side\n    unit: yd", left, "\n    from: Side\n    positive: left\n    unit: yd", "\r\n");
});

test("a value that is there is changed", () => {
  checkEntry("{ from: Side, positive: right, unit: yd }", left, "{ from: Side, positive: left, unit: yd }");
  checkEntry("\n    from: Side\n    positive: right # ?\n    unit: yd", left, "\n    from: Side\n    positive: left # ?\n    unit: yd");
  checkEntry("{ from: Side, unit: yd, sides: L/R }", metres, "{ from: Side, unit: m, sides: L/R }");
});

test("nothing is changed where letters tell the sides, the column is not there, or the direction is stated already", () => {
  checkEntry("{ from: Side, sides: L/R }", left, null);
  checkEntry("{ from: Side, positive: left }", left, null);
  checkEntry("{ unit: yd }", left, null);
  checkEntry("[Side]", left, null);
  expect(columnMapEdit("sources: a.csv\n", "offline", left)).toBeNull();
  expect(columnMapEdit("sources: a.csv\ncolumns: { carry: Carry }\n", "offline", left)).toBeNull();
  expect(columnMapEdit("columns: [", "offline", left)).toBeNull();
});

test("a byte order mark stays, and columns may be written between braces", () => {
  const text = "\ufeffsources: a.csv\ncolumns: { carry: Carry, offline: Side }\n";
  const edit = columnMapEdit(text, "offline", metres)!;
  expect(applyEdits(text, [edit])).toBe("\ufeffsources: a.csv\ncolumns: { carry: Carry, offline: { from: Side, unit: m } }\n");
});
