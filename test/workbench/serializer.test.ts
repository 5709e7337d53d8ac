import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeEach, expect, test } from "vitest";
import { command, isDirty, openNotebook, placeCursor, save, until, useWorkbench } from "./workbench";

const name = "odd.shots.md";

/** A notebook in which nearly nothing is written as it would be by a save: markers, gaps, spaces, no last line end. */
const odd = [
  "---",
  "fairstrike: 1   # kept",
  "title: Odd forms",
  "---",
  "",
  "",
  "# Title   ",
  "",
  "~~~js   query=first  ",
  "shots.filter(d => d.carry > 100)",
  "~~~~",
  "Prose right below.",
  "",
  "  ```js query=second",
  "  const far = first.filter(d => d.carry > 150)",
  "",
  "  far.head(3)",
  "  ```",
  "",
  "",
  '```json chart=picture table=first description="A picture"',
  '{ "mark": "point" }',
  "```",
  "No line end here",
].join("\n");

const folder = mkdtempSync(path.join(tmpdir(), "fs-odd-"));
writeFileSync(path.join(folder, name), odd);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const shared = useWorkbench("serializer", { sample: folder });

const file = (): string => readFileSync(path.join(shared.server.folder, name), "utf8");

/** Starts each test from the odd notebook, open and as it was. */
beforeEach(async () => {
  const { page } = shared;
  if ((await page.locator(".tabs-container .tab").count()) > 0) await command(page, "View: Revert and Close Editor");
  writeFileSync(path.join(shared.server.folder, name), odd);
  await openNotebook(page, name);
});

/** Undoes until nothing is left to undo, with the focus on the notebook and not in a cell. */
async function undoAll(page: Page, times: number): Promise<void> {
  await page.keyboard.press("Escape");
  for (let time = 0; time < times; time++) await page.keyboard.press("Control+Z");
}

/** True when the workbench keeps `text`, which is not saved, for the next start. */
function isBackedUp(text: string): boolean {
  const { backups } = shared.server;
  if (!existsSync(backups)) return false;
  return readdirSync(backups, { recursive: true, withFileTypes: true }).some(
    (entry) => entry.isFile() && readFileSync(path.join(entry.parentPath, entry.name), "utf8").includes(text),
  );
}

test("an edit changes its own characters and no other byte", async () => {
  const { page } = shared;
  await placeCursor(page, "d.carry > 100");
  await page.keyboard.press("ArrowLeft");
  await page.keyboard.type("0");
  await save(page);
  expect(file()).toBe(odd.replace("> 100)", "> 1000)"));
});

test("a split, and a split undone", async () => {
  const { page } = shared;
  await placeCursor(page, "far.head(3)", "start");
  await command(page, "Notebook: Split Cell");
  await save(page);
  expect(file().split("far.head(3)")).toHaveLength(2);
  expect(file().match(/query=|chart=/g)).toHaveLength(4);
  expect(file().startsWith(odd.slice(0, odd.indexOf("  ```js")))).toBe(true);
  await undoAll(page, 1);
  await save(page);
  expect(file()).toBe(odd);
});

test("a join with the next cell, and a join undone", async () => {
  const { page } = shared;
  await placeCursor(page, "far.head(3)");
  await command(page, "Notebook: Join With Next Cell");
  await save(page);
  expect(file()).toContain("far.head(3)");
  expect(file()).toContain('"mark": "point"');
  expect(file().startsWith(odd.slice(0, odd.indexOf("  ```js")))).toBe(true);
  await undoAll(page, 1);
  await save(page);
  expect(file()).toBe(odd);
});

test("a cell copied and pasted, moved, and both undone", async () => {
  const { page } = shared;
  await placeCursor(page, "d.carry > 100");
  await page.keyboard.press("Escape");
  await page.keyboard.press("Control+C");
  await page.keyboard.press("Control+V");
  await save(page);
  expect(file().split("shots.filter(d => d.carry > 100)")).toHaveLength(3);
  expect(file().startsWith(odd.slice(0, odd.indexOf("Prose right below.")).trimEnd())).toBe(true);
  await page.keyboard.press("Alt+ArrowDown");
  await save(page);
  expect(file().lastIndexOf("shots.filter(d => d.carry > 100)")).toBeGreaterThan(file().indexOf("Prose right below."));
  await undoAll(page, 2);
  await save(page);
  expect(file()).toBe(odd);
});

test("changes that were not saved are there after the window was loaded again", async () => {
  const { page } = shared;
  await placeCursor(page, "d.carry > 100");
  await page.keyboard.type(" // unsaved");
  await until(() => isBackedUp("// unsaved"), "backup", 60_000);
  await page.reload({ waitUntil: "commit" });
  await page.locator(".notebookOverlay .view-line", { hasText: "// unsaved" }).waitFor({ timeout: 60_000 });
  expect(await isDirty(page)).toBe(true);
  expect(file()).toBe(odd);
  await save(page);
  expect(file()).toBe(odd.replace("> 100)", "> 100) // unsaved"));
});

test("a notebook without changes follows its file, as after a checkout", async () => {
  const { page } = shared;
  const other = odd.replace("d.carry > 100", "d.carry > 120").replace("~~~js   query=first  ", "```js query=first").replace("~~~~", "```");
  writeFileSync(path.join(shared.server.folder, name), other);
  await page.locator(".notebookOverlay .view-line", { hasText: "d.carry > 120" }).waitFor();
  expect(await isDirty(page)).toBe(false);
  await placeCursor(page, "d.carry > 120");
  await page.keyboard.type(" ");
  await save(page);
  expect(file()).toBe(other.replace("> 120)", "> 120) "));
});
