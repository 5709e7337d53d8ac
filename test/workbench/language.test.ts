import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import type { Page } from "playwright-core";
import { beforeAll, expect, test } from "vitest";
import { command, keepPicture, outputs, save, until, useWorkbench, whenCellsShow } from "./workbench";

const shared = useWorkbench("language", { settings: { "fairstrike.columnHints": true, "notebook.codeActionsOnSave": { "notebook.source.fixAll.fairstrike": "explicit" } } });
const notebook = "knows.shots.md";
const pathOf = (file: string): string => path.join(shared.server.folder, file);
const fileLines = (file: string): readonly string[] => readFileSync(pathOf(file), "utf8").split("\n");
const fileText = (): string => readFileSync(pathOf(notebook), "utf8");

beforeAll(() => {
  const drawn = '{ "mark": "point", "encoding": { "x": { "field": "offline" }, "y": { "field": "carry" }, "color": { "field": "head" } } }';
  writeFileSync(
    pathOf(notebook),
    ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "---", "", "```js query=stock", "```", "", '```json chart=landing table=stock description="Where the shots landed, by head"', drawn, "```", ""].join("\n"),
  );
});

/** Opens a file by its name. */
async function openByName(page: Page, file: string): Promise<void> {
  await page.keyboard.press("Control+P");
  const input = page.locator(".quick-input-widget input[type=text]");
  await input.waitFor();
  await input.fill(file);
  await page.locator(".quick-input-list .monaco-list-row", { hasText: file }).first().click();
}

/** Asks for suggestions and takes the one with this label, typing `typed` first. */
async function take(page: Page, typed: string, label: string): Promise<void> {
  await page.keyboard.type(typed, { delay: 30 });
  const list = page.locator(".suggest-widget.visible .monaco-list-row", { has: page.locator(".label-name", { hasText: new RegExp(`^${label}$`, "u") }) });
  await until(async () => {
    if (await list.first().isVisible()) return true;
    await page.keyboard.press("Control+Space");
    await page.waitForTimeout(600);
    return list.first().isVisible();
  }, `"${label}" among the suggestions`);
  await list.first().click();
}

test("a query is written from scratch by completion alone", async () => {
  const { page } = shared;
  await whenCellsShow(page, () => openByName(page, notebook));
  await page.locator(".notebookOverlay .code-cell-row .view-line", { hasText: "query=stock" }).first().click();
  await page.keyboard.press("End");
  await page.keyboard.press("Enter");
  await take(page, "sho", "shots");
  await take(page, ".fil", "filter");
  await page.locator(".suggest-widget.visible .monaco-list-row", { hasText: "mph" }).first().waitFor();
  await page.keyboard.type("sp", { delay: 30 });
  await page.locator(".suggest-widget.visible .monaco-list-row", { hasText: "spin_rate" }).first().waitFor();
  await keepPicture(page, "language columns", { x: 360, y: 130, width: 1030, height: 330 });
  await page.keyboard.press("Backspace");
  await page.keyboard.press("Backspace");
  await take(page, "zo", "zone");
  await take(page, ' === "', "centre");
  await page.keyboard.press("End");
  await take(page, ".der", "derive");
  // A name of one's own is the one thing that nothing can suggest.
  await page.keyboard.type("tilt");
  await page.keyboard.press("Tab");
  await take(page, "spin", "spin_axis");
  await page.keyboard.press("End");
  await page.keyboard.type(".");
  await page.locator(".suggest-widget.visible .monaco-list-row").first().waitFor();
  await keepPicture(page, "language completion");
  await take(page, "ord", "orderby");
  await page.keyboard.press("Escape");
  await save(page);
  expect(fileText()).toContain("query=stock\nshots.filter(d => d.zone === \"centre\").derive({ tilt: d => d.spin_axis }).orderby(\"carry\")\n");
});

test("a mistake is underlined before anything runs, and its fix applied", async () => {
  const { page } = shared;
  await page.locator(".notebookOverlay .code-cell-row .view-line", { hasText: "shots.filter" }).first().click();
  await page.keyboard.press("End");
  await page.keyboard.press("Shift+Home");
  await page.keyboard.type('shots.filter(d => d.ball_sped > 100 && d.head === "', { delay: 5 });
  await take(page, "", "Heron");
  await page.keyboard.press("Escape");
  await page.keyboard.press("End");
  await until(async () => (await page.locator(".notebookOverlay .squiggly-error").count()) > 0, "underlined");
  await page.locator(".notebookOverlay .view-line", { hasText: "ball_sped" }).first().getByText("ball_sped").click();
  await page.keyboard.press("Control+.");
  const fix = page.locator(".action-widget .monaco-list-row", { hasText: "ball_speed" }).first();
  await fix.waitFor();
  await keepPicture(page, "language problem");
  await fix.click();
  await until(async () => (await page.locator(".notebookOverlay .squiggly-error").count()) === 0, "no problem any more");
  await save(page);
  expect(fileText()).toContain("d.ball_speed > 100");
});

test("a cell that a chart draws is renamed in one go, and runs", async () => {
  const { page } = shared;
  await page.locator(".notebookOverlay .code-cell-row .view-line", { hasText: "query=stock" }).first().getByText("stock").click();
  await page.keyboard.press("F2");
  const input = page.locator(".rename-box input");
  await input.waitFor();
  await input.fill("struck");
  await page.keyboard.press("Enter");
  await page.locator(".notebookOverlay .view-line", { hasText: "table=struck" }).first().waitFor();
  await save(page);
  expect(fileText()).toContain("query=struck");
  expect(fileText()).toContain("chart=landing table=struck");
  await page.getByRole("button", { name: "Run All" }).first().click();
  await outputs(page).locator(".fairstrike svg").first().waitFor({ timeout: 60_000 });
  await keepPicture(page, "language renamed and run");
});

test("hovering a column tells its unit, and its definition is in the session file", async () => {
  const { page } = shared;
  const column = page.locator(".notebookOverlay .view-line", { hasText: "ball_speed" }).first().getByText("ball_speed");
  await column.click();
  await page.keyboard.press("Escape");
  await command(page, "Show or Focus Hover");
  await page.locator(".monaco-hover-content", { hasText: "mph" }).first().waitFor();
  await keepPicture(page, "language hover");
  await page.keyboard.press("Escape");
  await column.click();
  await page.keyboard.press("F12");
  await page.locator(".tab.active", { hasText: "spring-bay-1.session.yaml" }).waitFor();
  // The cursor is where the column is mapped.
  const line = fileLines("sessions/spring-bay-1.session.yaml").findIndex((each) => each.trim().startsWith("ball_speed:")) + 1;
  await page.locator("footer .statusbar-item", { hasText: new RegExp(`^Ln ${line}, Col 3`, "u") }).waitFor();
  await keepPicture(page, "language definition");
});

test("fixes that need nobody are made in every cell on saving, where the settings say so", async () => {
  const { page } = shared;
  await openByName(page, notebook);
  await page.locator(".notebookOverlay .view-line", { hasText: "ball_speed" }).first().click();
  await page.keyboard.press("End");
  await page.keyboard.type('.filter(d => d.head == "Heron")', { delay: 5 });
  await page.keyboard.press("Escape");
  await until(async () => (await page.locator(".notebookOverlay .squiggly-error").count()) > 0, "underlined");
  await page.locator(".notebookOverlay .view-line", { hasText: "chart=landing" }).first().click();
  await save(page);
  await until(() => fileText().includes('.filter(d => d.head === "Heron")'), "mended on saving");
});

test("L-12 a language server that was killed comes back, and goes on where it was", async () => {
  const { page } = shared;
  const before = serverProcesses();
  expect(before).toHaveLength(1);
  process.kill(before[0]!, "SIGKILL");
  await until(() => serverProcesses().some((id) => id !== before[0]), "another server");
  await page.locator(".notebookOverlay .view-line", { hasText: "ball_speed" }).first().click();
  await page.keyboard.press("End");
  await page.keyboard.type(".nothing()", { delay: 5 });
  await page.keyboard.press("Escape");
  await until(async () => (await page.locator(".notebookOverlay .squiggly-error").count()) > 0, "underlined");
  await keepPicture(page, "language server again");
});

/** The processes of the language server of this workbench. */
function serverProcesses(): readonly number[] {
  const data = path.dirname(shared.server.folder);
  return commandLines().flatMap(([id, line]) => (line.includes(data) && line.includes("dist/server.js") ? [id] : []));
}

/** Every process with its command line: from /proc, since small systems have no `ps`, and from that where there is no /proc. */
function commandLines(): readonly (readonly [id: number, line: string])[] {
  if (!existsSync("/proc/self/cmdline")) {
    const lines = execFileSync("ps", ["-eo", "pid=,args="], { encoding: "utf8" }).split("\n");
    return lines.map((line) => [Number.parseInt(line, 10), line] as const);
  }
  return readdirSync("/proc").flatMap((name) => {
    if (!/^\d+$/u.test(name)) return [];
    try {
      return [[Number(name), readFileSync(`/proc/${name}/cmdline`, "utf8")] as const];
    } catch {
      // It has ended since it was listed.
      return [];
    }
  });
}
