import { expect, test } from "vitest";
import { numberColumn } from "../../../core/table/table";
import { exampleMargin } from "../../../core/verbs/margins";

test("the example of a margin fits what the column holds", () => {
  expect(exampleMargin(numberColumn("carry", [100, 200], "yd"))).toBe(1);
  expect(exampleMargin(numberColumn("speed_ratio", [1.3], null))).toBe(0.02);
  expect(exampleMargin(numberColumn("feel", [50, 60], null))).toBe(2);
  expect(exampleMargin(numberColumn("own", [0, 30, null], null))).toBe(0.5);
  expect(exampleMargin(numberColumn("own", [null], null))).toBe(1);
  expect(exampleMargin(numberColumn("own", [7, 7], null))).toBe(1);
});
