import * as fc from "fast-check";
import { expect, test } from "vitest";
import { createCheckMemo } from "../../core/check-memo";
import { defaultLimits } from "../../core/limits";
import type { NotebookDocument } from "../../core/notebook/document";
import { createEngine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { memoryFiles } from "../support/memory-files";
import { smallFiles } from "../support/small-session";

test("what was made is kept while text and inputs are the same, and forgotten when a round did not ask for it", () => {
  const memo = createCheckMemo();
  const input = {};
  let made = 0;
  const ask = (text: string, ...inputs: readonly unknown[]): number => memo.of("t", text, inputs, () => ++made);
  expect([ask("a", input), ask("a", input), ask("a", {}), ask("b")]).toEqual([1, 1, 2, 3]);
  memo.nextRound();
  expect(ask("b")).toBe(3);
  memo.nextRound();
  expect(ask("a", input)).toBe(4);
});

test("L-02 checking a notebook again after any edits gives what a fresh check gives", async () => {
  const bodies = ["query=a\nshots", "query=b\na.derive({ x: d => d.carry })", "query=c\nb.filter(d => d.x > 1)", "chart=d table=b\n{ \"mark\": \"point\", \"encoding\": { \"x\": { \"field\": \"x\" } } }", "query=a\nshots.groupby(\"head\").count()", "query=b\na.rename({ carry: \"x\" })", "query=e\nc.oops()"];
  const files = memoryFiles(smallFiles);
  const engineOf = () => createEngine({ files, vocabulary, limits: defaultLimits, clock: () => 0 });
  const lasting = engineOf();
  await fc.assert(
    fc.asyncProperty(fc.array(fc.constantFrom(...bodies), { maxLength: 6 }), fc.constantFrom("yd-mph", "m-kmh"), async (texts, units) => {
      const cells = [`shots: s/one.session.yaml\nunits: ${units}`, ...texts].map((text, index) => ({ kind: index === 0 ? ("front" as const) : text.startsWith("chart") ? ("chart" as const) : ("query" as const), text, form: {} }));
      const document: NotebookDocument = { cells, lineEnd: "\n", mark: false };
      expect(await lasting.check(document, "n.shots.md")).toEqual(await engineOf().check(document, "n.shots.md"));
    }),
    { seed: 7, numRuns: 60 },
  );
});
