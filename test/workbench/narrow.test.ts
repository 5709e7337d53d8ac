import { readFileSync } from "node:fs";
import path from "node:path";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { command, find, isDirty, keepPicture, openNotebook, outputs, placeCursor, quickInput, quickList, quickTitle, save, titled, until, useWorkbench } from "./workbench";

const front = ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "---", ""];
const query = ["```js query=stock", "shots // as it was hit", '  .filter(d => d.intent === "stock" && d.carry < d.total)', '  .select("shot", "head", "zone", "intent", "carry", "club_speed", "total")', "```", ""];
const chart = ["```json chart=landed table=shots description=\"Where the shots landed\"", '{ "mark": "point", "encoding": { "x": { "field": "offline", "type": "quantitative" }, "y": { "field": "carry", "type": "quantitative" } } }', "```", ""];

const shared = useWorkbench("narrow", { files: { "narrow.shots.md": [...front, ...query, ...chart].join("\n") } });
const file = (): string => path.join(shared.server.folder, "narrow.shots.md");

/** Filters the list by a text and takes the first row with the keyboard. */
async function choose(page: Page, text: string): Promise<void> {
  await until(async () => (await quickList(page).count()) > 0, "a list");
  await quickInput(page).fill(text);
  await quickList(page).filter({ hasText: text }).first().waitFor();
  await page.keyboard.press("Enter");
}

/** Ticks these values of a column and no others, by clicks. */
async function tick(page: Page, column: string, ...values: readonly string[]): Promise<void> {
  await titled(page, new RegExp(`^${column}: .* left$`, "u"));
  // Rows of the list before may stand a moment longer than its title, and what is hidden of a row is still that of the
  // row before; rows change places in the page while they are clicked, so that each is looked for by its label.
  let labels: string[] = [];
  await until(async () => {
    labels = (await quickList(page).locator(".label-name:visible").allTextContents()).map((label) => label.trim());
    return values.every((value) => labels.includes(value)) && !labels.includes("Done");
  }, `the values of ${column}`);
  for (const label of labels) {
    const row = quickList(page).filter({ has: page.locator(".label-name", { hasText: new RegExp(`^\\s*${label}\\s*$`, "u") }) });
    const isTicked = async (): Promise<boolean> => (await row.getAttribute("aria-checked")) === "true";
    if ((await isTicked()) === values.includes(label)) continue;
    await row.click();
    await until(async () => (await isTicked()) === values.includes(label), `${label} ticked or not`);
  }
}

test("shots are narrowed by head, zone and a range without code, run again, undone at once, and narrowed again", async () => {
  const { page } = shared;
  await openNotebook(page, "narrow.shots.md");
  await page.getByRole("button", { name: "Run All" }).first().click();
  const summary = outputs(page).locator(".fairstrike").first();
  await summary.locator("tbody tr").first().waitFor({ timeout: 60_000 });
  const rowsBefore = (await summary.textContent())!;
  const before = readFileSync(file(), "utf8");
  await placeCursor(page, "as it was hit");
  await command(page, "Fairstrike: Narrow the Shots");
  await titled(page, /Narrow the shots of stock: \d+ of \d+ shots left/u);
  await keepPicture(page, "narrow columns");
  await choose(page, "head");
  await tick(page, "head", "Wren", "Heron");
  await titled(page, /head: \d+ of \d+ shots left/u);
  await keepPicture(page, "narrow heads");
  await page.keyboard.press("Enter");
  await titled(page, /Narrow the shots/u);
  await choose(page, "zone");
  await tick(page, "zone", "centre", "low");
  await page.keyboard.press("Enter");
  await titled(page, /Narrow the shots/u);
  await choose(page, "carry");
  await titled(page, /carry, from/u);
  await quickInput(page).fill("far");
  await page.getByText("Write a number in yd").first().waitFor();
  await keepPicture(page, "narrow range refused");
  await quickInput(page).fill("140");
  await page.keyboard.press("Enter");
  await titled(page, /carry, to/u);
  await page.keyboard.press("Escape");
  await titled(page, /carry, from/u);
  await page.keyboard.press("Enter");
  await titled(page, /carry, to/u);
  await quickInput(page).fill("180");
  await page.keyboard.press("Enter");
  await titled(page, /carry, missing values: \d+ of \d+ shots left/u);
  await page.keyboard.press("Enter");
  await titled(page, /Narrow the shots/u);
  await keepPicture(page, "narrow done");
  expect(await isDirty(page)).toBe(false);
  await choose(page, "Done");

  await until(async () => (await summary.textContent()) !== rowsBefore, "fewer rows", 30_000);
  await keepPicture(page, "narrow after");
  await save(page);
  const after = readFileSync(file(), "utf8");
  const line = '  .filter(d => d.intent === "stock" && d.carry < d.total && op.any_of(d.head, "Heron", "Wren") && op.any_of(d.zone, "centre", "low") && d.carry >= 140 && d.carry <= 180)';
  expect(after.split("\n").filter((each) => !before.split("\n").includes(each))).toEqual([line]);

  await placeCursor(page, "as it was hit");
  await page.keyboard.press("Control+Z");
  await save(page);
  expect(readFileSync(file(), "utf8")).toBe(before);
  await page.keyboard.press("Control+Shift+Z");

  // The keys do what the command does; what is there is merged with what is ticked now.
  await page.keyboard.press("Control+K");
  await page.keyboard.press("n");
  await titled(page, /Narrow the shots of stock/u);
  await choose(page, "head");
  await tick(page, "head", "Wren");
  await page.keyboard.press("Enter");
  await titled(page, /Narrow the shots/u);
  await choose(page, "Done");
  await until(async () => isDirty(page), "changed");
  await save(page);
  expect(readFileSync(file(), "utf8")).toContain(line.replace('op.any_of(d.head, "Heron", "Wren")', 'd.head === "Wren"'));
});

test("Escape leaves a cell as it was, and a chart of all shots is given a query cell by its own action", async () => {
  const { page } = shared;
  const before = readFileSync(file(), "utf8");
  await find(page, '"mark": "point"');
  const action = page.locator(".notebookOverlay .code-cell-row", { hasText: '"mark"' }).getByRole("button", { name: "Narrow the shots of this cell" });
  await action.click();
  await titled(page, /Narrow the shots of narrowed/u);
  await choose(page, "head");
  await tick(page, "head", "Plover");
  await page.keyboard.press("Escape");
  await titled(page, /Narrow the shots of narrowed/u);
  await page.keyboard.press("Escape");
  await quickTitle(page).waitFor({ state: "hidden" });
  expect(await isDirty(page)).toBe(false);

  await action.click();
  await choose(page, "head");
  await tick(page, "head", "Plover");
  await page.keyboard.press("Enter");
  await titled(page, /Narrow the shots of narrowed/u);
  await keepPicture(page, "narrow chart");
  await choose(page, "Done");
  await until(async () => isDirty(page), "changed");
  await save(page);
  const after = readFileSync(file(), "utf8");
  expect(after).toContain('```js query=narrowed\nshots.filter(d => d.head === "Plover")\n```');
  expect(after).toContain("chart=landed table=narrowed description=");
  await page.locator(".notebookOverlay .code-cell-row").first().click();
  await page.keyboard.press("Escape");
  await page.keyboard.press("Control+Z");
  await save(page);
  expect(readFileSync(file(), "utf8")).toBe(before);
});
