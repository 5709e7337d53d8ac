import { afterAll, expect, test, vi } from "vitest";
import type * as RunNotebook from "../../../core/run-notebook";
import { notebookText } from "../../support/small-session";

const done: string[] = [];
const engines = "../../../core/run-notebook";

// Files share their modules: what is replaced here is loaded anew before and after.
vi.resetModules();
vi.doMock(engines, async (importOriginal) => {
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
const { repository, runIn } = await import("../../support/command-line");
afterAll(() => {
  vi.doUnmock(engines);
  vi.resetModules();
});

test("of many files that are checked each is forgotten once the next was, so that what both name is read once", async () => {
  const text = notebookText("shots: s/one.session.yaml", "query=a\nshots.count()");
  await runIn(repository({ "a.shots.md": text, "b.shots.md": text, "c.shots.md": text }), ["check", "."]);
  expect(done).toEqual(["check a.shots.md", "check b.shots.md", "forget a.shots.md", "check c.shots.md", "forget b.shots.md", "forget c.shots.md"]);
});
