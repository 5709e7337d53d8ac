import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import type { Page } from "playwright-core";
import { beforeAll, expect, test } from "vitest";
import { command, keepPicture, outputs, until, useWorkbench } from "./workbench";

const shared = useWorkbench("set aside");
const session = "sessions/spring-bay-1.session.yaml";
const pathOf = (file: string): string => path.join(shared.server.folder, file);

/** Opens a file by its name. */
async function openByName(page: Page, file: string): Promise<void> {
  await page.keyboard.press("Control+P");
  const input = page.locator(".quick-input-widget input[type=text]");
  await input.waitFor();
  await input.fill(file);
  await page.locator(".quick-input-list .monaco-list-row", { hasText: file }).first().click();
}

beforeAll(() => {
  const front = ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "---", ""];
  const cells = ["```js query=first", 'shots.slice(0, 8).select("shot", "head", "ball_speed", "carry")', "```", "", "```js query=counts", 'first.groupby("head").count()', "```", ""];
  writeFileSync(pathOf("aside.shots.md"), [...front, ...cells].join("\n"));
});

test("shots chosen in a table are set aside in the session file with a reason, and dependent cells say they are out of date", async () => {
  const { page } = shared;
  const before = readFileSync(pathOf(session), "utf8");
  await openByName(page, "aside.shots.md");
  await page.locator(".notebookOverlay .view-line").first().waitFor({ timeout: 30_000 });
  await page.getByRole("button", { name: "Run All" }).first().click();
  const table = outputs(page).locator(".fairstrike").first();
  await table.locator("tbody tr").nth(7).waitFor({ timeout: 60_000 });
  await outputs(page).locator(".fairstrike").nth(1).locator("tbody tr").first().waitFor({ timeout: 60_000 });

  await table.getByRole("button", { name: "Set shots aside" }).click();
  await table.getByRole("checkbox", { name: /^shot 2 of/ }).click();
  await table.getByRole("checkbox", { name: /^shot 4 of/ }).click({ modifiers: ["Shift"] });
  await table.locator("select").selectOption("carry");
  await table.getByRole("button", { name: "Set aside in 3 rows" }).click();
  await table.getByText("Write a reason").waitFor();
  expect(readFileSync(pathOf(session), "utf8")).toBe(before);
  await table.getByRole("textbox").fill("wind: gust");
  await keepPicture(page, "set aside form");
  await table.getByRole("button", { name: "Set aside in 3 rows" }).click();
  await until(() => readFileSync(pathOf(session), "utf8") !== before, "written into the session file");

  const after = readFileSync(pathOf(session), "utf8");
  const added = after.split("\n").filter((line) => !before.split("\n").includes(line));
  expect(added).toHaveLength(1);
  expect(added[0]).toMatch(/2-4/);
  expect(added[0]).toMatch(/carry/);
  expect(added[0]).toMatch(/"wind: gust"/);
  const marks = page.locator(".cell-statusbar-container", { hasText: "Out of date: sessions/spring-bay-1.session.yaml changed" });
  await until(async () => (await marks.count()) === 2, "both cells marked as out of date");
  await keepPicture(page, "set aside out of date");

  await page.getByRole("button", { name: "Run All" }).first().click();
  await until(async () => (await marks.count()) === 0, "no cell marked any more");
  await until(async () => (await table.locator("tbody tr").nth(1).locator(".fairstrike-missing").count()) === 1, "the carry is missing now");
});

test("one Undo in the session file takes back what was set aside", async () => {
  const { page } = shared;
  const text = readFileSync(pathOf(session), "utf8");
  await openByName(page, "spring-bay-1.session.yaml");
  await page.locator(".editor-instance .view-line", { hasText: "session:" }).first().click();
  await page.keyboard.press("Control+Z");
  await page.keyboard.press("Control+S");
  await until(() => !readFileSync(pathOf(session), "utf8").includes("wind: gust"), "taken back");
  expect(readFileSync(pathOf(session), "utf8").length).toBeLessThan(text.length);
  await command(page, "View: Close All Editors");
});

test("a fix of a problem in a session file is offered where the problem is", async () => {
  const { page } = shared;
  const before = readFileSync(pathOf(session), "utf8");
  writeFileSync(pathOf(session), before.replace(/^columns:/mu, "colums:"));
  await openByName(page, "spring-bay-1.session.yaml");
  await page.locator(".editor-instance .view-line", { hasText: "colums:" }).first().click();
  await page.locator(".editor-instance .squiggly-error, .editor-instance .squiggly-warning").first().waitFor();
  // The mark is drawn a moment before the editor asks for fixes anew.
  const fix = page.locator(".action-widget .monaco-list-row", { hasText: "columns" }).first();
  await until(async () => {
    await page.keyboard.press("Escape");
    await page.keyboard.press("Home");
    await page.keyboard.press("Control+.");
    await page.waitForTimeout(500);
    return fix.isVisible();
  }, "the fix is offered");
  await fix.click();
  await page.locator(".editor-instance .view-line", { hasText: /^columns:/ }).first().waitFor();
  await page.keyboard.press("Control+S");
  await until(() => readFileSync(pathOf(session), "utf8") === before, "mended");
});
