import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { chartKinds } from "../../core/chart/chart-kinds";
import { defaultLimits } from "../../core/limits";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { printNotebook } from "../../core/notebook/print-notebook";
import { createEngine } from "../../core/run-notebook";
import type { Chart } from "../../core/table/table";
import { vocabulary } from "../../core/vocabulary";
import { nodeFiles } from "../../server/node-files";

const folder = path.resolve(import.meta.dirname, "..", "..", "sample-notebooks");
const text = readFileSync(path.join(folder, "gallery.shots.md"), "utf8");
const { value: document, problems } = parseNotebook(text);
const engine = createEngine({ files: nodeFiles(folder, defaultLimits.fileBytes), vocabulary, limits: defaultLimits, clock: () => 0 });
const outcome = await engine.run(document, "gallery.shots.md");

function chart(name: string): Chart {
  const value = outcome.cells.find((cell) => cell.name === name)?.value;
  if (value?.type !== "chart") throw new Error(`${name} gave no chart`);
  return value;
}

test("the gallery is read without a problem, printed as it stands, and every cell of it runs", () => {
  expect(problems).toEqual([]);
  expect(printNotebook(document)).toBe(text);
  for (const cell of outcome.cells) {
    expect(cell.status, cell.name).toBe("ok");
    expect(cell.problems.filter(({ severity }) => severity !== "info"), cell.name).toEqual([]);
  }
});

test("the gallery shows every kind of chart, and none that there is not", () => {
  const shown = [...text.matchAll(/\bchart\.(\w+)\(/gu)].map(([, name]) => name!);
  expect([...new Set(shown)].sort()).toEqual(chartKinds.map(({ name }) => name).sort());
  expect(text).toContain("```json chart=");
});

test("below every picture stands how to read it", () => {
  for (const [index, { kind, text: own }] of document.cells.entries()) {
    if (kind !== "chart" && !own.includes("chart.")) continue;
    const below = document.cells[index + 1];
    expect(below?.kind, own).toBe("prose");
    expect(below!.text.trim().split(/\s+/u).length, own).toBeGreaterThan(15);
  }
});

test("the left-hander's face has its toe on the right, and says so; the right-hander's has it on the left", () => {
  expect(JSON.stringify(chart("left_handed_strikes").spec)).toMatch(/left-hander's face, toe on the right.*← heel · strike x \(mm\) · toe →.*"reverse":false/u);
  expect(JSON.stringify(chart("strikes").spec)).toMatch(/right-hander's face, toe on the left.*← toe · strike x \(mm\) · heel →.*"reverse":true/u);
});
