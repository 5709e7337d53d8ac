import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { beforeAll, expect, test } from "vitest";
import { root } from "../../scripts/steps.mjs";
import { command, keepPicture, until, useWorkbench, whenCellsShow } from "./workbench";

const shared = useWorkbench("report");
const pathOf = (file: string): string => path.join(shared.server.folder, file);

beforeAll(() => {
  const front = ["---", "fairstrike: 1", "title: A report", "shots: sessions/spring-bay-1.session.yaml", "margin: { carry: 3 yd }", "---", "", "## Where the strikes are", ""];
  const cells = ["```js query=strikes", 'chart.strikes(shots, { by: "head" })', "```", "", "```js query=gap", 'shots.compare({ of: "carry", by: "head" })', "```", "", "```js query=wrong", "shots.filter(d => d.cary > 1)", "```", ""];
  writeFileSync(pathOf("handed-on.shots.md"), [...front, ...cells].join("\n"));
});

test("a notebook is exported as a report, the same bytes as the command line writes, and stays clean", async () => {
  const { page } = shared;
  const list = page.locator(".quick-input-list .monaco-list-row");
  const input = page.locator(".quick-input-widget input[type=text]");
  await whenCellsShow(page, async () => {
    await page.keyboard.press("Control+P");
    await input.waitFor();
    await input.fill("handed-on.shots.md");
    await list.filter({ hasText: "handed-on.shots.md" }).first().click();
  });
  await command(page, "Fairstrike: Export Report");
  await list.filter({ hasText: "One file with charts" }).click();
  await until(async () => (await input.inputValue()).endsWith("/handed-on.html"), "a place is proposed");
  await keepPicture(page, "report place");
  await page.keyboard.press("Enter");
  await until(() => existsSync(pathOf("handed-on.html")), "the report is written", 60_000);
  await page.getByText("handed-on.html was written. 1 cell has no result, which it says.").first().waitFor();
  await keepPicture(page, "report written");
  expect(await page.locator(".tabs-container .tab.active.dirty").count()).toBe(0);
  let told = "";
  try {
    execFileSync(process.execPath, [path.join(root, "dist/cli.mjs"), "run", "handed-on.shots.md", "--html", "cli.html"], { cwd: shared.server.folder, stdio: "pipe" });
  } catch (error) {
    told = String((error as { readonly status?: number }).status);
  }
  expect(told).toBe("1");
  expect(readFileSync(pathOf("handed-on.html"), "utf8")).toBe(readFileSync(pathOf("cli.html"), "utf8"));
});

test("X-12 a report fits a phone, a window at twice the size and paper, and asks nothing of a network", async () => {
  const page = await shared.browser.newPage();
  const asked: string[] = [];
  page.on("request", (request) => asked.push(request.url()));
  await page.goto(pathToFileURL(pathOf("handed-on.html")).href);
  for (const [width, name] of [[375, "phone"], [640, "twice"], [1280, "wide"]] as const) {
    await page.setViewportSize({ width, height: 1000 });
    // The code runs in the page.
    expect(await page.evaluate("document.documentElement.scrollWidth - innerWidth")).toBeLessThanOrEqual(0);
    await keepPicture(page, `report ${name}`);
  }
  await page.emulateMedia({ media: "print" });
  expect(await page.locator("details.source pre").first().isVisible()).toBe(true);
  // On paper every number stays on one line.
  await page.setViewportSize({ width: 640, height: 1000 });
  const broken = `[...document.querySelectorAll("td.number")].filter((cell) => {
    const range = document.createRange();
    range.selectNodeContents(cell);
    return new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size > 1;
  }).map((cell) => cell.textContent)`;
  expect(await page.locator("td.number").count()).toBeGreaterThan(10);
  expect(await page.evaluate(broken)).toEqual([]);
  expect(asked).toEqual([pathToFileURL(pathOf("handed-on.html")).href]);
  await page.close();
});
