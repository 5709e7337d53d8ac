import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { command, keepPicture, isDirty, openNotebook, outputs, placeCursor, save, until, useWorkbench } from "./workbench";

// The editor's host for extensions in a browser: no process, no file but through the editor.
const shared = useWorkbench("web", { settings: { "remote.extensionKind": { "fairstrike.fairstrike": ["web"] } } });
const name = "three-irons.shots.md";

test("in a browser a notebook is checked, runs and shows what it shows elsewhere", async () => {
  const { page, server } = shared;
  const file = path.join(server.folder, name);
  const before = readFileSync(file);
  await openNotebook(page, name);
  await command(page, "Notebook: Select Notebook Kernel");
  await page.locator(".quick-input-list", { hasText: "runs in this browser, offline" }).waitFor({ timeout: 30_000 });
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "Run All" }).first().click();

  const counts = outputs(page).locator(".fairstrike table").first();
  await counts.waitFor({ timeout: 90_000 });
  expect(await counts.locator("tbody tr", { hasText: "Wren" }).last().locator("td").allTextContents()).toEqual(["stock", "32", "7", "102"]);
  await keepPicture(page, "web notebook");

  expect(await isDirty(page)).toBe(false);
  await save(page);
  expect(readFileSync(file).equals(before)).toBe(true);
});

test("in a browser a misspelt column is underlined, and not once it is mended", async () => {
  const { page } = shared;
  await placeCursor(page, "shots.groupby");
  await page.keyboard.type(".filter(d => d.carri > 1)");
  await page.locator(".notebookOverlay .squiggly-error").first().waitFor({ timeout: 30_000 });
  await keepPicture(page, "web problem");
  await until(async () => {
    await page.keyboard.press("Control+Z");
    return !(await isDirty(page));
  }, "typing undone");
  await until(async () => (await page.locator(".notebookOverlay .squiggly-error").count()) === 0, "mended");
});
