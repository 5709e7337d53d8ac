import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, expect, test } from "vitest";
import { command, keepPicture, openNotebook, outputs, until, useWorkbench } from "./workbench";

const sample = mkdtempSync(path.join(tmpdir(), "fairstrike-"));
const shared = useWorkbench("first-steps", { sample });
const pathOf = (file: string): string => path.join(shared.server.folder, file);
writeFileSync(path.join(sample, "notes.txt"), "Nothing of ours is here.\n");

afterAll(() => rmSync(sample, { recursive: true, force: true }));

test("in a folder without notebooks the walkthrough opens, and the empty list of tables says what to do", async () => {
  const { page } = shared;
  await command(page, "Fairstrike: First Steps");
  const steps = page.locator(".getting-started-step");
  await steps.first().waitFor({ timeout: 30_000 });
  expect(await steps.count()).toBe(5);
  await page.locator(".getting-started-step.expanded", { hasText: "Bring in an export" }).waitFor();
  await page.frameLocator("iframe.webview.ready").frameLocator("#active-frame").locator("svg[role=img]").first().waitFor({ timeout: 30_000 });
  await keepPicture(page, "first-steps walkthrough");
  await page.getByRole("button", { name: "Shot Tables Section" }).click();
  const view = page.locator(".welcome-view", { hasText: "There is no shot notebook" }).filter({ visible: true });
  await view.getByRole("button", { name: "Bring In an Export" }).waitFor({ timeout: 30_000 });
  await keepPicture(page, "first-steps empty");
});

test("a new notebook in a folder without sessions leads to where shots come from", async () => {
  const { page } = shared;
  await command(page, "Fairstrike: New Shot Notebook");
  await page.locator(".quick-input-list .monaco-list-row", { hasText: "Bring in an export" }).waitFor({ timeout: 30_000 });
  await keepPicture(page, "first-steps new notebook");
  await page.keyboard.press("Escape");
});

test("the samples are copied into a folder that was chosen, and run there", async () => {
  const { page } = shared;
  await steps("Run a notebook", "Run All Cells");
  const place = page.locator(".quick-input-widget input[type=text]");
  await until(async () => (await place.inputValue()).includes(shared.server.folder), "the folder is proposed");
  await page.locator(".quick-input-widget").getByRole("button", { name: "Copy the Samples Here" }).click();
  await until(() => existsSync(pathOf("shot-notebooks/sessions/winter-bay-1.session.yaml")), "the samples are there", 60_000);
  await outputs(page).locator(".fairstrike table").first().waitFor({ timeout: 90_000 });
  await keepPicture(page, "first-steps sample");
});

test("a notebook whose session file is not there says so below its front matter, with the way to make one", async () => {
  const { page } = shared;
  writeFileSync(pathOf("lost.shots.md"), ["---", "fairstrike: 1", "shots: sessions/lost.session.yaml", "---", "", "## What was hit?", ""].join("\n"));
  await openNotebook(page, "lost.shots.md");
  await page.locator(".cell-statusbar-container", { hasText: "sessions/lost.session.yaml is not there. Bring in an export…" }).filter({ visible: true }).first().waitFor({ timeout: 30_000 });
  await keepPicture(page, "first-steps missing session");
});

test("a new notebook names the session that was chosen", async () => {
  const { page } = shared;
  await command(page, "Fairstrike: New Shot Notebook");
  await page.locator(".quick-input-list .monaco-list-row", { hasText: "shot-notebooks/sessions/spring-bay-1.session.yaml" }).click();
  await page.locator(".notebookOverlay .view-line", { hasText: "shots: shot-notebooks/sessions/spring-bay-1.session.yaml" }).filter({ visible: true }).first().waitFor({ timeout: 30_000 });
});

/** Presses a button of a step of the walkthrough. */
async function steps(title: string, button: string): Promise<void> {
  const { page } = shared;
  const step = page.locator(".getting-started-step", { hasText: title });
  await step.click();
  await step.getByRole("button", { name: button }).click();
}
