import { expect, test } from "vitest";
import { commentsOf } from "../../../core/query/comments";

test("comments are found in their order, and not inside of quotes and texts", () => {
  expect(commentsOf('// one\na /* two */ .select("// no") // three')).toEqual([" one", " two ", " three"]);
  expect(commentsOf("text`// no ${a /* yes */.one(\"b\")} /* no */`")).toEqual([" yes "]);
  expect(commentsOf("a")).toEqual([]);
});
