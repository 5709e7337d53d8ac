import { appendFileSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import type { Locator, Page } from "playwright-core";
import { expect, test } from "vitest";
import { command, isDirty, keepPicture, openNotebook, outputs, until, useWorkbench } from "./workbench";

const front = ["---", "fairstrike: 1", "shots: live.session.yaml", "margin: { carry: 3 yd }", "---", ""];
const cell = (name: string, body: string): readonly string[] => [`\`\`\`js query=${name}`, body, "```", ""];

/** Shots of two heads in turn, three each; all invented. */
function shots(from: number, to: number): string {
  return Array.from({ length: to - from }, (_, i) => {
    const shot = from + i;
    const isHeron = Math.floor((shot - 1) / 3) % 2 === 1;
    return `${shot},${isHeron ? "Heron" : "Wren"},${(112 + ((shot * 7) % 5)).toFixed(1)},${((isHeron ? 152 : 150) + ((shot * 37) % 17) - 8 + ((shot * 5) % 3)).toFixed(1)},${(((shot * 13) % 9) - 4).toFixed(1)}\n`;
  }).join("");
}

const session = ["session: live", "data: synthetic", "sources: [{ file: live.csv, order: shot }]", "player: { name: P1, hand: right }", "columns:", '  shot: "No"', "  head: Club", "  ball_speed: { from: Ball speed, unit: mph }", "  carry: { from: Carry, unit: yd }", "  offline: { from: Side, unit: yd, positive: right }", "heads:", "  Wren: { kind: iron, loft: 34 deg }", "  Heron: { kind: iron, loft: 34 deg }", ""];

const notebook = [
  ...front,
  ...cell("gap", 'shots.compare({ of: "carry", by: "head" })'),
  ...cell("fixed", 'session("sessions/spring-bay-1.session.yaml").count()'),
  ...cell("few", "shots.filter(d => d.carry > 150)"),
  ...cell("broken", "shots.nosuch()"),
  ...cell("after", "broken.count()"),
].join("\n");

const shared = useWorkbench("live", {
  files: { "live.shots.md": notebook, "live.session.yaml": session.join("\n"), "live.csv": `No,Club,Ball speed,Carry,Side\n${shots(1, 37)}` },
});
const pathOf = (file: string): string => path.join(shared.server.folder, file);
const status = (page: Page, text: string | RegExp): Locator => page.locator(".cell-statusbar-container .cell-status-item", { hasText: text });

test("tables are listed before anything has run, with columns, units and rows where they are known", async () => {
  const { page } = shared;
  await openNotebook(page, "live.shots.md");
  const header = page.locator(".pane-header", { hasText: "Shot Tables" });
  await header.waitFor({ timeout: 30_000 });
  if ((await header.getAttribute("aria-expanded")) !== "true") await header.click();
  // Without the list of files there is room for every table.
  await page.locator(".pane-header[aria-expanded=true]", { hasText: "samples" }).click();
  await page.getByRole("treeitem", { name: /^Shots shots, 36 rows × \d+ columns/u }).waitFor({ timeout: 30_000 });
  await page.getByRole("treeitem", { name: /^Table few, rows not counted × \d+ columns/u }).waitFor();
  await page.getByRole("treeitem", { name: /^Shots shots/u }).locator(".monaco-tl-twistie").click();
  await page.getByRole("treeitem", { name: "Column carry, yd" }).waitFor();
  await keepPicture(page, "live tables before a run");
});

test("cells tell rows in and out, and one that is blocked leads to what blocks it", async () => {
  const { page } = shared;
  await page.getByRole("button", { name: "Run All" }).first().click();
  await status(page, /36 → \d+ rows? · /u).first().waitFor({ timeout: 60_000 });
  await page.getByRole("treeitem", { name: /^Table few, \d+ rows × \d+ columns/u }).waitFor();
  await page.getByRole("treeitem", { name: /^Table broken, .*no result/u }).waitFor();
  await page.getByRole("treeitem", { name: /^Table after/u }).click();
  const blocked = status(page, "Blocked by broken");
  await blocked.first().waitFor();
  await keepPicture(page, "live blocked");
  await blocked.first().click();
  await page.locator(".notebookOverlay .code-cell-row.focused, .notebookOverlay .code-cell-row:focus-within", { hasText: "nosuch" }).first().waitFor();
  expect(await isDirty(page)).toBe(false);
});

test("a session file changed elsewhere marks what rests on it, and only that is run again", async () => {
  const { page } = shared;
  writeFileSync(pathOf("live.session.yaml"), session.join("\n").replace("heads:", 'set_aside:\n  - { shots: 2-4, column: carry, because: "wind: gust" }\nheads:'));
  await page.getByRole("treeitem", { name: /^Table gap, .*out of date/u }).waitFor({ timeout: 30_000 });
  expect(await page.getByRole("treeitem", { name: /^Table fixed, .*out of date/u }).count()).toBe(0);
  await page.getByRole("treeitem", { name: /^Table few/u }).click();
  await status(page, "Out of date: live.session.yaml changed").first().waitFor();
  await keepPicture(page, "live out of date");
  await page.locator(".notebookOverlay .code-cell-row", { hasText: "d.carry > 150" }).first().click();
  await page.keyboard.press("Escape");
  await page.keyboard.press("Control+K");
  await page.keyboard.press("a");
  await status(page, "3 values set aside").first().waitFor({ timeout: 30_000 });
  await until(async () => (await page.getByRole("treeitem", { name: /out of date/u }).count()) === 0, "nothing out of date any more");
  await keepPicture(page, "live after running what was out of date");
});

test("a growing export is followed: the number of shots that would settle the question is shown, and nothing is written", async () => {
  const { page } = shared;
  const before = readFileSync(pathOf("live.shots.md"), "utf8");
  await command(page, "Fairstrike: Follow the Exports");
  const following = page.locator(".statusbar-item", { hasText: "gap:" });
  await following.waitFor({ timeout: 30_000 });
  expect(await following.textContent()).toMatch(/gap: undecided; about \d+ more shots each would settle it/u);
  await keepPicture(page, "live following");
  appendFileSync(pathOf("live.csv"), shots(37, 49));
  await until(async () => /looked at 2 times/u.test((await following.textContent()) ?? ""), "a second look", 30_000);

  // Written in two goes, and replaced by a file of another name.
  appendFileSync(pathOf("live.csv"), shots(49, 55).slice(0, -4));
  await page.waitForTimeout(500);
  writeFileSync(pathOf("live.new"), readFileSync(pathOf("live.csv"), "utf8").split("\n").slice(0, 49).join("\n") + `\n${shots(49, 61)}`);
  renameSync(pathOf("live.new"), pathOf("live.csv"));
  await until(async () => /looked at 3 times/u.test((await following.textContent()) ?? ""), "a third look", 30_000);
  await page.getByRole("treeitem", { name: /^Table gap/u }).click();
  await following.hover();
  await page.getByText("Choose the number of shots before the session").first().waitFor();
  await keepPicture(page, "live followed");
  expect(await isDirty(page)).toBe(false);
  expect(readFileSync(pathOf("live.shots.md"), "utf8")).toBe(before);

  rmSync(pathOf("live.csv"));
  await page.getByRole("treeitem", { name: /^Table gap, .*no result/u }).waitFor({ timeout: 30_000 });
  await outputs(page).getByText("live.csv").first().waitFor();
  writeFileSync(pathOf("live.csv"), `No,Club,Ball speed,Carry,Side\n${shots(1, 61)}`);
  await until(async () => (await page.getByRole("treeitem", { name: /^Table gap, .*no result/u }).count()) === 0, "a result again", 30_000);
  await command(page, "Fairstrike: Stop Following");
  await following.waitFor({ state: "hidden" });
});

test("without a notebook the list of tables says what to do", async () => {
  const { page } = shared;
  await command(page, "View: Close All Editors");
  await page.getByText("Open a shot notebook, and its tables are listed here").waitFor();
  await keepPicture(page, "live no tables");
});
