import { expect, test, vi } from "vitest";
import type * as RunNotebook from "../../../core/run-notebook";
import { repository, runIn } from "../../support/command-line";
import { notebookText } from "../../support/small-session";

const done = vi.hoisted((): string[] => []);

vi.mock("../../../core/run-notebook", async (importOriginal) => {
  const original = await importOriginal<typeof RunNotebook>();
  const createEngine: typeof original.createEngine = (parts) => {
    const engine = original.createEngine(parts);
    return {
      ...engine,
      check: (document, path) => (done.push(`check ${path}`), engine.check(document, path)),
      forget: (path) => (done.push(`forget ${path}`), engine.forget(path)),
    };
  };
  return { ...original, createEngine };
});

test("of many files that are checked each is forgotten once the next was, so that what both name is read once", async () => {
  const text = notebookText("shots: s/one.session.yaml", "query=a\nshots.count()");
  await runIn(repository({ "a.shots.md": text, "b.shots.md": text, "c.shots.md": text }), ["check", "."]);
  expect(done).toEqual(["check a.shots.md", "check b.shots.md", "forget a.shots.md", "check c.shots.md", "forget b.shots.md", "forget c.shots.md"]);
});
