import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import type { Locator, Page } from "playwright-core";
import { beforeAll, expect, test } from "vitest";
import { command, find, isDirty, keepPicture, openNotebook, outputs, placeCursor, save, until, useWorkbench } from "./workbench";

const shared = useWorkbench("notebook");
const name = "three-irons.shots.md";

/** The drawn chart whose description begins so. */
const chartOf = (page: Page, description: string): Locator => outputs(page).locator(`.fairstrike-chart[aria-label^="${description}"]`);
const pathOf = (file: string): string => path.join(shared.server.folder, file);

/** A cell that works until its time is up: a million and a half rows, ordered again and again. */
const longCell = [
  "query=long",
  ...Array.from({ length: 14 }, (_, step) => `const t${step + 1} = ${step === 0 ? "shots" : `t${step}`}.concat(${step === 0 ? "shots" : `t${step}`})`),
  `t14${'.orderby("carry").orderby("offline")'.repeat(20)}.count()`,
];

beforeAll(() => {
  const front = ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "---", ""];
  writeFileSync(pathOf("long.shots.md"), [...front, `\`\`\`js ${longCell[0]}`, ...longCell.slice(1), "```", ""].join("\n"));
});

test("running every cell shows tables and charts, and leaves the notebook as it was", async () => {
  const { page } = shared;
  const before = readFileSync(pathOf(name));
  await openNotebook(page, name);
  await page.getByRole("button", { name: "Run All" }).first().click();

  const counts = outputs(page).locator(".fairstrike table").first();
  await counts.waitFor({ timeout: 60_000 });
  expect(await counts.locator("tbody tr", { hasText: "Wren" }).last().locator("td").allTextContents()).toEqual(["stock", "32", "7", "102"]);
  await keepPicture(page, "notebook table");

  await find(page, "chart=carry_by_strike");
  const chart = chartOf(page, "Carry against");
  await chart.locator(".mark-symbol path").last().waitFor({ state: "attached", timeout: 60_000 });
  const note = await outputs(page).getByText(/rows are not drawn: no strike x or no carry/).first().innerText();
  const [, missing, all] = /(\d+) of (\d+) rows/.exec(note) ?? [];
  const inLegend = await chart.locator(".role-legend-symbol path").count();
  expect(await chart.locator(".mark-symbol path").count()).toBe(Number(all) - Number(missing) + inLegend);
  await keepPicture(page, "notebook chart light");

  await find(page, "query=carry_gap");
  const comparison = outputs(page).locator(".fairstrike table", { hasText: "different by more than the margin" }).first();
  await comparison.waitFor({ timeout: 60_000 });
  expect(await comparison.locator("tbody tr", { hasText: "undecided" }).first().locator("th, td").allTextContents()).toEqual(
    expect.arrayContaining(["Heron", "Wren", "\u22121.9", "\u22125.7", "1.9", "undecided"]),
  );
  await outputs(page).getByText(/^The same in every row: of = carry, margin \(yd\) = 3, /).first().waitFor();
  const search = page.locator(".notebookOverlay .simple-fr-find-part-wrapper.visible");
  for (let tries = 0; tries < 5 && (await search.isVisible()); tries++) await page.keyboard.press("Escape");
  await keepPicture(page, "notebook comparison");

  await find(page, "query=tightness");
  await chartOf(page, "Where 95 shots landed").waitFor({ timeout: 60_000 });
  await keepPicture(page, "notebook scatter");
  await find(page, "query=off_centre");
  await chartOf(page, "Ball speed lost over the face").waitFor({ timeout: 60_000 });
  await keepPicture(page, "notebook forgiveness");

  expect(await isDirty(page)).toBe(false);
  await save(page);
  expect(readFileSync(pathOf(name)).equals(before)).toBe(true);
});

test("a chart follows the theme without running again", async () => {
  const { page } = shared;
  const label = chartOf(page, "Carry against").locator(".role-axis-label text").first();
  const light = await label.getAttribute("fill");
  await command(page, "Preferences: Toggle between Light/Dark Themes");
  await until(async () => (await label.getAttribute("fill")) !== light, "chart in dark");
  await keepPicture(page, "notebook chart dark");
  await command(page, "Preferences: Toggle between Light/Dark Themes");
  await until(async () => (await label.getAttribute("fill")) === light, "chart in light again");
});

test("a misspelt column is underlined while it is typed, and not once it is mended", async () => {
  const { page } = shared;
  const before = readFileSync(pathOf(name), "utf8");
  await find(page, "query=stock");
  await placeCursor(page, 'd.intent === "stock"');
  await page.keyboard.press("Home");
  for (let step = 0; step < "shots.filter(d => d.intent".length; step++) await page.keyboard.press("ArrowRight");
  await page.keyboard.press("Backspace");
  const underlined = page.locator(".notebookOverlay .squiggly-error");
  await underlined.first().waitFor();
  await keepPicture(page, "notebook misspelt column");
  await command(page, "Problems: Focus on Problems View");
  await page.locator(".markers-panel .monaco-list-row", { hasText: "inten" }).first().waitFor();
  await command(page, "View: Hide Panel");
  await placeCursor(page, 'd.inten === "stock"', "start");
  for (let step = 0; step < "shots.filter(d => d.inten".length; step++) await page.keyboard.press("ArrowRight");
  await page.keyboard.type("t");
  await until(async () => (await underlined.count()) === 0, "underline gone");
  await save(page);
  expect(readFileSync(pathOf(name), "utf8")).toBe(before);
});

test("a cell written from nothing runs without a name, and gets one when it is saved", async () => {
  const { page } = shared;
  writeFileSync(pathOf("new.shots.md"), "---\nfairstrike: 1\nshots: sessions/spring-bay-1.session.yaml\n---\n");
  await command(page, "View: Close All Editors");
  await openNotebook(page, "new.shots.md");
  await page.getByRole("button", { name: "Add Code Cell" }).first().click();
  await page.keyboard.type('shots.groupby("head").count(');
  await page.getByRole("button", { name: "Run All" }).first().click();
  await outputs(page).locator(".fairstrike table").first().waitFor({ timeout: 60_000 });
  expect(await outputs(page).locator("tbody tr").count()).toBe(3);
  await save(page);
  const saved = '---\nfairstrike: 1\nshots: sessions/spring-bay-1.session.yaml\n---\n\n```js query=cell_1\nshots.groupby("head").count()\n```\n';
  await until(() => readFileSync(pathOf("new.shots.md"), "utf8") === saved, "named in the file");
  await page.locator(".notebookOverlay .view-line", { hasText: "query=cell_1" }).waitFor();
  expect(await isDirty(page)).toBe(false);
});

test("a cell that takes long can be interrupted, and the notebook runs afterwards", async () => {
  const { page } = shared;
  await command(page, "View: Close All Editors");
  await openNotebook(page, "long.shots.md");
  await page.getByRole("button", { name: "Run All" }).first().click();
  await page.locator(".notebookOverlay .code-cell-row .codicon-notebook-state-executing").waitFor();
  await page.getByRole("button", { name: "Interrupt" }).first().click();
  await outputs(page).getByText("The cell was stopped before it gave a result.").waitFor();
  await keepPicture(page, "notebook interrupted");
  await placeCursor(page, "query=long");
  await page.keyboard.press("Control+A");
  await page.keyboard.insertText("query=long\nshots.count()");
  await page.getByRole("button", { name: "Run All" }).first().click();
  await outputs(page).locator(".fairstrike table").first().waitFor({ timeout: 60_000 });
  expect(await outputs(page).locator("tbody td").allTextContents()).toEqual(["102"]);
});
