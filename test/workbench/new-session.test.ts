import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import type { FrameLocator } from "playwright-core";
import { expect, test } from "vitest";
import { chooseTheme, keepPicture, outputs, until, useWorkbench } from "./workbench";

const rows = Array.from({ length: 36 }, (_, index) => `${index + 1};${Math.floor(index / 6) % 2 === 0 ? "Wren" : "Heron"};${140 + ((index * 5) % 9)},5;${50 + ((index * 3) % 4)},1`);
const raw = ["Nr;Head;Carry;Ball speed", ...rows, ""].join("\n");
const shared = useWorkbench("new-session", { files: { "odd.csv": raw } });
const file = (name: string): string => path.join(shared.server.folder, name);

const page = (): FrameLocator => shared.page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");

test("an odd export is brought in: what is doubtful is asked, both files are written, and the notebook runs", async () => {
  const { page: window } = shared;
  const row = window.locator(".explorer-folders-view .monaco-list-row", { hasText: "odd.csv" });
  await row.waitFor({ timeout: 30_000 });
  await row.click({ button: "right" });
  await window.locator(".monaco-menu .action-label", { hasText: "New Session from an Export" }).first().click();
  const form = page();
  await form.getByRole("heading", { name: "New session from an export" }).waitFor({ timeout: 30_000 });
  const button = form.getByRole("button", { name: "Write session and notebook" });
  await form.getByText("Still open").waitFor();
  expect(await button.getAttribute("aria-disabled")).toBe("true");
  await keepPicture(window, "new-session light");
  await chooseTheme(window, "Dark Modern");
  await keepPicture(window, "new-session dark");
  await chooseTheme(window, "Dark High Contrast");
  await keepPicture(window, "new-session contrast");
  await chooseTheme(window, "Light Modern");
  await window.setViewportSize({ width: 700, height: 1000 });
  await keepPicture(window, "new-session thin");
  await window.setViewportSize({ width: 1400, height: 1000 });

  const choose = (label: string, value: string): Promise<unknown> => form.getByLabel(label, { exact: true }).selectOption(value);
  await choose("Shot column of Nr", "shot");
  await choose("Shot column of Head", "head");
  await choose("Shot column of Carry", "carry");
  await choose("Unit of Carry", "m");
  await choose("Shot column of Ball speed", "ball_speed");
  await choose("Unit of Ball speed", "m/s");
  await choose("It is said by", "column");
  await choose("Kind, row 1", "iron");
  await choose("Kind, row 2", "iron");
  await choose("Hand", "right");
  await choose("Place", "outdoor");
  await choose("Order of shots", "shot");
  await choose("Carry is", "as played");
  await form.getByLabel("Warm-up shots", { exact: true }).focus();
  await window.keyboard.type("none");
  await form.getByText("Nothing is open").waitFor();
  expect(await form.locator("table", { hasText: "Stints" }).innerText()).toMatch(/Wren\s+18\s+3\s+Heron\s+18\s+3/u);
  await button.focus();
  await keepPicture(window, "new-session done");
  // Pressed before the page can have been answered, by key and by mouse: the press waits for the answer.
  const path = form.getByRole("textbox", { name: "Notebook", exact: true });
  await path.focus();
  await path.selectText();
  await window.keyboard.type("odd.txt");
  await window.keyboard.press("Tab");
  await window.keyboard.press("Enter");
  await form.getByText("The name has to end in .shots.md").first().waitFor();
  expect(existsSync(file("odd.txt")) || existsSync(file("odd.session.yaml"))).toBe(false);
  await path.selectText();
  await window.keyboard.type("looks/odd.shots.md");
  await button.click();

  await until(() => existsSync(file("looks/odd.shots.md")) && existsSync(file("odd.session.yaml")), "both files");
  expect(readFileSync(file("odd.session.yaml"), "utf8")).toContain("unit: m/s");
  expect(readFileSync(file("odd.csv"), "utf8")).toBe(raw);
  await window.locator(".notebookOverlay .view-line").first().waitFor({ timeout: 60_000 });
  await window.getByRole("button", { name: "Run All" }).first().click();
  await outputs(window).locator(".fairstrike svg").first().waitFor({ timeout: 60_000 });
  await keepPicture(window, "new-session notebook");
  expect(await outputs(window).locator(".fairstrike tbody tr").count()).toBeGreaterThan(0);
});
