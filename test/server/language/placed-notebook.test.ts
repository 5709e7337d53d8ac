import * as fc from "fast-check";
import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import type { NotebookDocument } from "../../../core/notebook/document";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { problem } from "../../../core/problem";
import { createEngine } from "../../../core/run-notebook";
import { vocabulary } from "../../../core/vocabulary";
import { makeView } from "../../../server/language/make-view";
import { placedCells, placedText, type PlacedNotebook } from "../../../server/language/placed-notebook";
import { memoryFiles } from "../../support/memory-files";

const uri = "file:///w/n.shots.md";

async function viewOf(document: NotebookDocument) {
  const engine = createEngine({ files: memoryFiles({}), vocabulary, limits: defaultLimits, clock: () => 0 });
  return makeView(document, "n.shots.md", await engine.look(document, "n.shots.md"), { vocabulary, limits: defaultLimits, listFolder: () => Promise.resolve([]) });
}

const sample = readFileSync(path.join(import.meta.dirname, "../../../sample-notebooks/three-irons.shots.md"), "utf8");
const indented = "Prose\n\n  ```js query=a\n  shots\n    .count()\n  ```\n\n~~~json chart=b table=a\r\n{ }\r\n~~~\n";

/** The text between two places of a document. */
function textAt(text: string, { start, end }: ReturnType<PlacedNotebook["placeOf"]>["range"]): string {
  const lines = text.split(/\r\n|\n|\r/u);
  return lines[start.line]!.slice(start.character, end.line === start.line ? end.character : undefined);
}

test("what stands in a cell is found at its place in the file, and the place leads back to the cell", async () => {
  for (const text of [sample, indented, `\ufeff${sample}`]) {
    const { value: document } = parseNotebook(text);
    const placed = placedText(await viewOf(document), "file:///w", uri, text, document);
    for (const { index, kind, text: own } of placed.view.cells) {
      if (kind === "prose") continue;
      for (const word of own.matchAll(/[\w.]+/gu)) {
        const span = { from: word.index, to: word.index + word[0].length };
        const place = placed.placeOf(index, span);
        expect(textAt(text.replace(/^\ufeff/u, ""), place.range)).toBe(word[0]);
        expect(placed.cellAt(uri, place.range.start)).toEqual({ cell: index, offset: span.from });
        expect(placed.cellAt(uri, place.range.end)).toEqual({ cell: index, offset: span.to });
      }
    }
  }
});

test("prose, fences and places outside of the file are in no cell", async () => {
  const { value: document } = parseNotebook(indented);
  const placed = placedText(await viewOf(document), "file:///w", uri, indented, document);
  const at = (line: number, character: number) => placed.cellAt(uri, { line, character });
  expect([at(0, 2), at(5, 1), at(900, 0)]).toEqual([null, null, null]);
  expect(placed.cellsOf("file:///w/other.shots.md")).toEqual([]);
});

test("L-03 any place of any text is somewhere or nowhere, and never an error", async () => {
  const { value: document } = parseNotebook(sample);
  const view = await viewOf(document);
  const forms = [placedText(view, "file:///w", uri, sample, document), placedCells(view, "file:///w", view.cells.map((_, index) => `cell:${index}`))];
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 0, max: 300 }), fc.constantFrom(...forms), (line, character, placed) => {
      for (const document_ of [uri, "cell:3"]) {
        const found = placed.cellAt(document_, { line, character });
        if (found !== null) expect(found.offset).toBeLessThanOrEqual(view.cells[found.cell]!.text.length);
      }
    }),
    { seed: 11, numRuns: 300 },
  );
});

test("a problem of a cell is moved with its fix and what mends it, but not edits of another file", async () => {
  const { value: document } = parseNotebook(indented);
  const placed = placedText(await viewOf(document), "file:///w", uri, indented, document);
  const range = { start: { line: 2, column: 1 }, end: { line: 2, column: 6 } };
  const edits = [{ range, text: "x" }];
  const own = placed.problemAt(1, problem("query.empty", {}, range, { fix: { title: "t", edits }, mends: edits }));
  const moved = { start: { line: 4, column: 3 }, end: { line: 4, column: 8 } };
  expect([own.range, own.fix?.edits[0]?.range, own.mends?.[0]?.range]).toEqual([moved, moved, moved]);
  const other = placed.problemAt(1, problem("query.empty", {}, range, { fix: { title: "t", edits, file: "s/one.session.yaml" } }));
  expect([other.range, other.fix?.edits[0]?.range]).toEqual([moved, range]);
});
