import { array, assert, constantFrom, property, string } from "fast-check";
import { expect, test } from "vitest";
import type { ColumnSchema } from "../../../core/table/schema";
import { columnMarkdown } from "../../../server/language/column-hover";
import { hostileNames, renderedMarkdown, tagsIn } from "../../support/rendered-markdown";

const carry: ColumnSchema = { name: "carry", kind: "number", unit: "yd", origin: "measured" };

function checkShown(column: Partial<ColumnSchema>, ...parts: readonly string[]): void {
  const shown = columnMarkdown({ ...carry, ...column }, 12);
  for (const part of parts) expect(shown).toContain(part);
}

test("a shot column says kind, unit, origin and meaning", () => checkShown({}, "**`carry`**: numbers in yd, measured by the monitor", "Distance to where the ball first lands."));

test("a plausible range is in the notebook's unit", () => {
  checkShown({}, "Plausible, unless the session says otherwise: 1 to 440 yd.");
  checkShown({ unit: "m" }, "1 to 400 m.");
});

test("a column with sides says which way is positive", () => checkShown({ name: "offline" }, "Positive is right, negative left."));

test("missing values are counted against the rows", () => {
  checkShown({ missing: 2 }, "Missing: 2 of 12.");
  checkShown({ missing: 0 }, "Missing: none of 12.");
  expect(columnMarkdown({ ...carry, missing: 2 })).toContain("Missing: 2.");
});

test("lowest and highest stand where they are known", () => checkShown({ range: { low: 149, high: 161.25 } }, "Lowest and highest: 149 to 161.25 yd."));
test("one value in every row is said as one", () => checkShown({ range: { low: 2, high: 2 } }, "Every value: 2 yd."));

test("eight values are listed, and how many there are", () => {
  const values = Array.from({ length: 9 }, (_, i) => `h${i}`);
  checkShown({ name: "head", kind: "text", unit: null, values }, "`h7` … 9 in all");
  expect(columnMarkdown({ name: "head", kind: "text", unit: null, origin: "measured", values: ["Heron", "Wren"] })).toContain("Values: `Heron`, `Wren`");
});

test("a computed column with the name of another thing is not taken for it", () => {
  expect(columnMarkdown({ name: "carry", kind: "number", unit: "deg", origin: "computed" })).not.toContain("Distance");
  expect(columnMarkdown({ name: "shot", kind: "number", unit: null, origin: "computed" })).not.toContain("hitting order");
  expect(columnMarkdown({ name: "carry", kind: "number", unit: "yd", origin: "computed" })).not.toContain("Plausible");
});

test("a meaning of its own stands in place of that of the shot column", () => {
  const shown = columnMarkdown({ name: "head", kind: "text", unit: null, origin: "computed" }, undefined, "the one the row is about");
  expect(shown).toContain("The one the row is about.");
  expect(shown).not.toContain("club head");
});

test.each(hostileNames)("L-11 a column called %j is shown as it is", (name) => {
  const shown = columnMarkdown({ name, kind: "text", unit: null, origin: "measured", values: [name, "b"] });
  expect(tagsIn(shown)).toEqual(["code", "p", "strong"]);
});

test("L-11 no name or value makes anything but code", () => {
  assert(
    property(string({ unit: "binary", maxLength: 30 }), array(constantFrom("`", "[", "]", "(", "<b>", "\n", "*", "a", "&lt;", "\\"), { maxLength: 12 }), (name, pieces) => {
      const shown = columnMarkdown({ name, kind: "text", unit: null, origin: "measured", values: [pieces.join("")] }, 3);
      expect(tagsIn(shown).filter((tag) => !["p", "code", "strong", "br"].includes(tag))).toEqual([]);
      expect(renderedMarkdown(shown)).not.toContain("href");
    }),
    { seed: 11, numRuns: 200 },
  );
});

test("sessions that have a column from elsewhere are named, not too many, and none where it is computed", () => {
  const originBySession = Array.from({ length: 10 }, (_, i) => ({ session: `s${i}`, origin: i < 9 ? ("measured" as const) : ("derived" as const) }));
  checkShown({ originBySession }, "measured by the monitor in `s0`", "`s7` and 1 more; derived here from other columns in `s9`");
  checkShown({ originBySession, origin: "computed" }, "numbers in yd, computed in the notebook");
});
