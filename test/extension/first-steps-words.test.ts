import { expect, test } from "vitest";
import { readFrontMatter } from "../../core/notebook/read-front-matter";
import { missingInWords, newFrontMatter } from "../../extension/host/first-steps-words";

function checkSessions(session: string | null, expected: readonly string[]): void {
  const { value, problems } = readFrontMatter(newFrontMatter(session));
  expect(problems).toEqual([]);
  expect(value.shots.map(({ path }) => path)).toEqual(expected);
}

test("a new notebook takes the session that it was given", () => checkSessions("sessions/spring-bay-1.session.yaml", ["sessions/spring-bay-1.session.yaml"]));
test("a path that YAML would read otherwise is in quotes", () => checkSessions("my bay #1/1.session.yaml", ["my bay #1/1.session.yaml"]));
test("a new notebook without a session names none", () => checkSessions(null, []));

test("one missing session is named, of several the first with their count", () => {
  expect(missingInWords(["a.session.yaml"]).short).toBe("a.session.yaml is not there. Bring in an export…");
  expect(missingInWords(["a.session.yaml", "b.session.yaml"]).short).toBe("a.session.yaml and 1 more are not there. Bring in an export…");
});
