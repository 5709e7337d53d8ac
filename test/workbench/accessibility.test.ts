import { execFileSync } from "node:child_process";
import { cpSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import axe from "axe-core";
import type { Frame, Locator, Page } from "playwright-core";
import { afterAll, expect, test } from "vitest";
import { root } from "../../scripts/steps.mjs";
import { chooseTheme, keepPicture, openNotebook, outputs, until, useWorkbench } from "./workbench";

const sample = mkdtempSync(path.join(tmpdir(), "fairstrike-"));
const shared = useWorkbench("accessibility", { sample });
const pathOf = (file: string): string => path.join(shared.server.folder, file);
const name = "everything.shots.md";
const themes = ["Light Modern", "Dark Modern", "Dark High Contrast"];

/** A table to sort, one that leads to exports, a comparison with details, an empty one, every part of a chart, and words. */
const cells = [
  ["first", 'shots.slice(0, 6).select("shot", "head", "ball_speed", "carry", "club_speed")'],
  ["none", 'shots.filter(d => d.head === "Wren" && d.carry > 900)'],
  ["gap", 'shots.compare({ of: "carry", by: "head" })'],
  ["landing", 'chart.landing(shots, { by: "head" })'],
  ["surface", 'chart.surface(shots, { of: "ball_speed", by: "head" })'],
  ["said", 'text`There are ${shots.count().one("count")} shots.`'],
];

const front = ["---", "fairstrike: 1", "title: Everything", "shots: sessions/spring-bay-1.session.yaml", "margin: { carry: 3 yd }", "---", "", "## What is shown", ""];
const exported = ["Nr;Head;Carry", ...Array.from({ length: 12 }, (_, index) => `${index + 1};${index % 4 < 2 ? "Wren" : "Heron"};${140 + ((index * 5) % 9)},5`), ""];
cpSync(path.join(root, "sample-notebooks/sessions"), path.join(sample, "sessions"), { recursive: true });
writeFileSync(path.join(sample, name), [...front, ...cells.flatMap(([cell, text]) => [`\`\`\`js query=${cell}`, text!, "```", ""])].join("\n"));
writeFileSync(path.join(sample, "odd.csv"), exported.join("\n"));

afterAll(() => rmSync(sample, { recursive: true, force: true }));

/** The frame that an element is in. */
async function frameOf(element: Locator): Promise<Frame> {
  const frame = await (await element.elementHandle({ timeout: 60_000 }))?.ownerFrame();
  if (frame === null || frame === undefined) throw new Error("The element is in no frame.");
  return frame;
}

/** Expects that no rule is broken in what matches `selector`. */
async function checkRules(frame: Frame | Page, selector: string): Promise<void> {
  expect(await brokenRules(frame, selector)).toEqual([]);
}

/** The rules that are broken in what matches `selector`; one line for each element that breaks one. */
async function brokenRules(frame: Frame | Page, selector: string): Promise<string[]> {
  if ((await frame.evaluate("typeof axe")) === "undefined") await frame.evaluate(axe.source);
  // Behind an output's page lies the editor, which the rules cannot see: its colour is what colours are held against.
  const run = `(async () => {
    document.documentElement.style.backgroundColor = "var(--vscode-editor-background)";
    const { violations } = await axe.run({ include: [[${JSON.stringify(selector)}]] }, { resultTypes: ["violations"] });
    return violations.flatMap(({ id, nodes }) => nodes.map(({ html, failureSummary }) => [id, html.slice(0, 200), failureSummary.replaceAll(/\\s+/g, " ")].join(" | ")));
  })()`;
  return frame.evaluate<string[]>(run);
}

/** What has the focus in a frame, in words: its tag and what it is called. */
function focused(frame: Frame): Promise<string> {
  return frame.evaluate(`(() => { const it = document.activeElement; return it === null ? "" : [it.localName, it.getAttribute("aria-label") ?? it.textContent.trim().slice(0, 40)].join(": "); })()`);
}

/** True where the focus is in an element; it runs in the page. */
function hasFocus(element: unknown): boolean {
  const { contains, ownerDocument } = element as { readonly contains: (other: unknown) => boolean; readonly ownerDocument: { readonly activeElement: unknown } };
  return contains.call(element, ownerDocument.activeElement);
}

/** Chooses a colour theme and waits until the page in a frame has it. */
async function chooseThemeOf(page: Page, theme: string, frame: Frame): Promise<void> {
  await chooseTheme(page, theme);
  await until(async () => (await frame.evaluate("document.body.dataset.vscodeThemeName")) === theme, `the page is in ${theme}`);
}

test("the rules find what they are here for", async () => {
  const page = await shared.browser.newPage();
  await page.setContent('<html lang="en"><title>Faults</title><main><h1>Faults</h1><img src="a.png"><p style="color: #999; background: #fff">Pale words</p></main></html>');
  const broken = await brokenRules(page, "html");
  expect(new Set(broken.map((line) => line.split(" | ")[0]))).toEqual(new Set(["color-contrast", "image-alt"]));
  await page.close();
});

test("outputs break no rule of accessibility in light, dark and high contrast", async () => {
  const { page } = shared;
  // Only cells in view have their outputs made.
  await page.setViewportSize({ width: 1400, height: 4400 });
  await openNotebook(page, name);
  await page.getByRole("button", { name: "Run All" }).first().click();
  const shown = outputs(page).locator(".fairstrike");
  await until(async () => (await shown.count()) === 7 && (await shown.locator("[role=img] svg").count()) === 3, "every output", 90_000);
  const frame = await frameOf(shown.first());
  await shown.nth(0).getByRole("button", { name: "Set shots aside" }).click();
  await shown.nth(0).getByRole("button", { name: "Summaries" }).click();
  await shown.nth(4).locator("summary").click();
  await shown.nth(5).getByRole("button", { name: "Save figure…" }).click();
  await shown.nth(5).getByRole("button", { name: "Table", exact: true }).click();
  for (const theme of themes) {
    await chooseThemeOf(page, theme, frame);
    await keepPicture(page, `accessibility ${theme}`);
    await checkRules(frame, ".fairstrike");
  }
});

test("Tab goes through a table and through a chart, and out of them again", async () => {
  const { page } = shared;
  const shown = outputs(page).locator(".fairstrike");
  const frame = await frameOf(shown.first());
  /** Presses Tab from the first thing in an output until the focus has left it; what it came by. */
  const pass = async (from: Locator, output: number): Promise<readonly string[]> => {
    await from.focus();
    const passed: string[] = [];
    for (let step = 0; step < 60 && (await shown.nth(output).evaluate(hasFocus)); step++) {
      passed.push(await focused(frame));
      await page.keyboard.press("Tab");
    }
    return passed;
  };
  // The boxes of the rows, the form and each head come by; of the cells only one.
  const table = await pass(shown.nth(0).getByRole("group", { name: "Table" }), 0);
  expect(table.slice(0, 1)).toEqual(["div: Table"]);
  expect(table).toContain("button: Copy as Markdown");
  expect(table.filter((each) => /^t[dh]:/u.test(each))).toHaveLength(1);
  expect(table.length).toBeLessThan(40);
  const chart = await pass(shown.nth(6).getByRole("button", { name: "Table", exact: true }), 6);
  expect(chart).toEqual(["button: Table", "button: Copy as SVG", "button: Copy as PNG", "button: Save figure…"]);
});

test("the page for a new session breaks no rule of accessibility", async () => {
  const { page } = shared;
  await page.setViewportSize({ width: 1400, height: 1000 });
  const row = page.locator(".explorer-folders-view .monaco-list-row", { hasText: "odd.csv" });
  await row.click({ button: "right" });
  await page.locator(".monaco-menu .action-label", { hasText: "New Session from an Export" }).first().click();
  const heading = page.locator("iframe.webview.ready").last().contentFrame().frameLocator("#active-frame").getByRole("heading", { name: "New session from an export" });
  const frame = await frameOf(heading);
  for (const theme of themes) {
    await chooseThemeOf(page, theme, frame);
    await checkRules(frame, "body");
  }
});

test("a report breaks no rule of accessibility", async () => {
  execFileSync(process.execPath, [path.join(root, "dist/cli.mjs"), "run", name, "--html", "everything.html"], { cwd: shared.server.folder, stdio: "pipe" });
  const page = await shared.browser.newPage();
  await page.goto(pathToFileURL(pathOf("everything.html")).href);
  await checkRules(page, "html");
  await page.close();
});
