import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { command, isDirty, keepPicture, openNotebook, outputs, placeCursor, quickInput, save, titled, until, useWorkbench } from "./workbench";

const front = ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "choose:", "  head: { of: head, is: any }   # which heads", "  what: { among: [carry, ball_speed], is: carry }", "  far: { of: carry, from: 60 yd, to: }", "---", ""];
const cells = ["```js query=own", 'shots.choose("head").groupby("head").count()', "```", "", "```js query=other", 'shots.describe({ of: chosen.what, by: "head" })', "```", ""];
const shared = useWorkbench("choices", { files: { "choices.shots.md": [...front, ...cells].join("\n") } });
const file = (): string => path.join(shared.server.folder, "choices.shots.md");

test("a choice is changed in the controls by mouse and by key, or by command, and what depends on it alone runs again", async () => {
  const { page } = shared;
  await openNotebook(page, "choices.shots.md");
  const controls = outputs(page).getByRole("region", { name: "Choices" });
  await controls.getByRole("checkbox", { name: "Wren" }).waitFor({ timeout: 30_000 });
  await page.getByRole("button", { name: "Run All" }).first().click();
  const tables = outputs(page).locator(".fairstrike").filter({ has: page.locator("table") });
  await until(async () => (await tables.count()) === 2, "two tables", 60_000);
  const [own, other] = [tables.nth(0), tables.nth(1)];
  const [ownBefore, otherBefore] = [(await own.textContent())!, (await other.textContent())!];
  expect(ownBefore).toContain("Wren");
  const before = readFileSync(file(), "utf8");
  expect(await isDirty(page)).toBe(false);
  await keepPicture(page, "choices light");
  await command(page, "Preferences: Toggle between Light/Dark Themes");
  await outputs(page).locator("body.vscode-dark").waitFor({ state: "attached" });
  await keepPicture(page, "choices dark");
  await command(page, "Preferences: Toggle between Light/Dark Themes");
  await outputs(page).locator("body.vscode-light").waitFor({ state: "attached" });

  await controls.getByRole("checkbox", { name: "Wren" }).click();
  await until(async () => (await own.textContent())?.includes("Wren") === false, "the table without Wren", 30_000);
  expect(await other.textContent()).toBe(otherBefore);
  await save(page);
  const after = readFileSync(file(), "utf8");
  expect(after.split("\n").filter((line) => !before.split("\n").includes(line))).toEqual(["  head: { of: head, is: [Heron, Plover] }   # which heads"]);

  // By key: an arrow chooses the next word, and the focus stays on it while the controls are drawn again.
  await controls.getByRole("radio", { name: "carry" }).focus();
  await page.keyboard.press("ArrowRight");
  await until(async () => (await other.textContent())?.includes("mph") === true, "ball speeds", 30_000);
  expect((await own.textContent())?.includes("Wren")).toBe(false);
  expect(await controls.getByRole("radio", { name: "ball_speed" }).evaluate((each) => each.matches(":focus"))).toBe(true);

  const lower = controls.getByRole("textbox", { name: "far, at least in yd" });
  await lower.fill("near");
  await lower.press("Enter");
  await controls.getByText("write a number in yd").waitFor();
  await keepPicture(page, "choices refused");
  await lower.fill("80");
  await lower.press("Enter");
  await until(async () => (await page.locator(".view-line", { hasText: "from: 80 yd" }).count()) > 0, "the bound in the front matter");

  // By command, from the cell at the cursor.
  await placeCursor(page, "chosen.what");
  await page.keyboard.press("Control+K");
  await page.keyboard.press("h");
  await titled(page, /what/u);
  await quickInput(page).fill("carry");
  await page.keyboard.press("Enter");
  await until(async () => (await other.textContent()) === otherBefore, "carries again", 30_000);
  await until(() => controls.getByRole("radio", { name: "carry" }).isChecked(), "the control follows");

  await placeCursor(page, "which heads");
  for (let undone = 0; undone < 4; undone++) await page.keyboard.press("Control+Z");
  await until(async () => controls.getByRole("checkbox", { name: "Wren" }).isChecked(), "the first choice in the controls");
  await save(page);
  expect(readFileSync(file(), "utf8")).toBe(before);
});
