import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import type { FrameLocator, Locator } from "playwright-core";
import { expect, test } from "vitest";
import { chooseTheme, command, keepPicture, openNotebook, outputs, until, useWorkbench } from "./workbench";

const times = (table: string, count: number): string => `${table}${`.concat(${table})`.repeat(count - 1)}`;
const rowCount = 102 * 3000;
const many = [
  "---",
  "fairstrike: 1",
  "shots: sessions/spring-bay-1.session.yaml",
  "---",
  "",
  "```js query=many",
  `const tens = ${times("shots", 10)};`,
  `const hundreds = ${times("tens", 10)};`,
  `const thousands = ${times("hundreds", 10)};`,
  `${times("thousands", 3)}.select("shot", "head", "ball_speed", "launch_angle", "spin_rate", "carry", "total", "offline", "zone")`,
  "```",
  "",
].join("\n");
const shared = useWorkbench("tables", { files: { "many.shots.md": many } });

function view(): Locator {
  return (outputs(shared.page) satisfies FrameLocator).locator(".fairstrike").first();
}

/** The text of a cell on the page, rows and columns counted from 0. */
async function cell(row: number, column: number): Promise<string> {
  return (await view().locator("tbody tr").nth(row).locator("td, th").nth(column).textContent()) ?? "";
}

async function whenRowsAre(text: string): Promise<void> {
  await until(async () => (await view().getByRole("group", { name: "Pages" }).textContent())?.replaceAll("\u00a0", " ").includes(text) === true, text, 30_000);
}

test("a table of more than 300 000 rows is paged to its end", async () => {
  const { page } = shared;
  await openNotebook(page, "many.shots.md");
  await page.getByRole("button", { name: "Run All" }).first().click();
  await view().locator("tbody tr").nth(99).waitFor({ timeout: 90_000 });
  await whenRowsAre("Rows 1 to 100 of 306 000");
  await view().getByRole("button", { name: "Last rows" }).press("Enter");
  await whenRowsAre("Rows 305 901 to 306 000 of 306 000");
  expect(await view().locator("tbody tr").last().getAttribute("aria-rowindex")).toBe(String(rowCount + 1));
  await view().getByRole("textbox", { name: "Go to row" }).fill("150 000");
  await page.keyboard.press("Enter");
  await whenRowsAre("Rows 149 901 to 150 000 of");
});

test("sorting by a key sorts the whole table, also when the kernel has ended", async () => {
  const { page } = shared;
  await view().getByRole("button", { name: "carry" }).press("Enter");
  await whenRowsAre("Rows 1 to 100 of 306 000");
  const least = await cell(0, 5);
  expect(await cell(99, 5)).toBe(least);
  await command(page, "Fairstrike: End the Running Kernel");
  await view().getByRole("button", { name: "carry" }).press("Enter");
  await until(async () => (await cell(0, 5)) !== least, "the farthest shots first", 30_000);
  expect(Number(await cell(0, 5))).toBeGreaterThan(Number(least));
  await view().getByRole("button", { name: "Next" }).press("Enter");
  await whenRowsAre("Rows 101 to 200 of 306 000");
});

test("summaries of the whole table stand under the heads", async () => {
  const { page } = shared;
  await view().getByRole("button", { name: "Summaries" }).press("Enter");
  await view().locator(".fairstrike-summary svg").first().waitFor();
  expect(await view().locator(".fairstrike-summary", { hasText: "distinct" }).first().textContent()).toMatch(/3 distinct/u);
  await keepPicture(page, "tables with summaries");
});

test("cells chosen by keys are copied, and Tab leaves the cells", async () => {
  const { page } = shared;
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]).catch(() => undefined);
  await view().locator("tbody tr").first().locator("td, th").first().click();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Shift+ArrowRight");
  await page.keyboard.press("Shift+ArrowDown");
  await view().getByText("Selected 2 rows of 2 columns").waitFor();
  expect(await view().locator("[aria-selected=true]").count()).toBe(4);
  await keepPicture(page, "tables with a selection");
  await view().getByRole("button", { name: "Copy as CSV" }).press("Enter");
  await view().getByText("Copied 2 rows of 2 columns as CSV").waitFor();
  await view().locator("tbody tr").nth(1).locator("td, th").first().click();
  await page.keyboard.press("Tab");
  expect(await view().locator("tbody :focus").count()).toBe(0);
});

test("Enter in a row opens the export at the line of its shot, and not once the export has changed", async () => {
  const { page } = shared;
  const shot = await cell(1, 0);
  await view().locator("tbody tr").nth(1).locator("td, th").first().click();
  await page.keyboard.press("Enter");
  await view().getByText(/Opened sessions\/spring-bay-1\.csv at line \d+/u).waitFor();
  const line = Number(/line (\d+)/u.exec((await view().getByText(/Opened sessions/u).textContent()) ?? "")?.[1]);
  const file = path.join(shared.server.folder, "sessions/spring-bay-1.csv");
  const before = readFileSync(file, "utf8");
  expect(before.split(/\r?\n/u)[line - 1]).toMatch(new RegExp(`(^|[,;\t])${shot}([,;\t]|$)`, "u"));
  await page.locator(".tab", { hasText: "spring-bay-1.csv" }).waitFor();
  await keepPicture(page, "tables with the export beside");
  writeFileSync(file, `${before}\n`);
  await view().getByRole("button", { name: "Show the row in its export" }).press("Enter");
  await view().getByText(/Nothing was opened: .* has changed since the run/u).waitFor();
  writeFileSync(file, before);
});

test("the table is legible in the light and the high contrast theme", async () => {
  const { page } = shared;
  for (const theme of ["Light Modern", "Dark High Contrast"]) {
    await chooseTheme(page, theme);
    await keepPicture(page, `tables ${theme}`);
  }
  expect(await view().locator("tbody tr").count()).toBe(100);
});
