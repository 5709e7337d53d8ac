import { expect, test } from "vitest";
import { keepPicture, openNotebook, outputs, useWorkbench } from "./workbench";

const shared = useWorkbench("trust", { trusting: false });

test("a workspace that is not trusted can be looked at, and runs nothing", async () => {
  const { page } = shared;
  await openNotebook(page, "three-irons.shots.md");
  await page.locator(".notebookOverlay .view-line", { hasText: "query=what_was_hit" }).waitFor();
  await page.getByRole("button", { name: "Run All" }).first().click();
  const question = page.getByRole("dialog").filter({ hasText: "Do you trust the authors" });
  await question.waitFor();
  await keepPicture(page, "trust asked");
  await question.getByRole("button", { name: "Cancel" }).click();
  await question.waitFor({ state: "detached" });
  expect(await outputs(page).locator(".fairstrike").count()).toBe(0);
  expect(await page.getByText("Restricted Mode").first().isVisible()).toBe(true);
});

test("once it is trusted, it runs", async () => {
  const { page } = shared;
  await page.getByRole("button", { name: "Run All" }).first().click();
  await page.getByRole("button", { name: "Trust Folder & Continue" }).click();
  await outputs(page).locator(".fairstrike table").first().waitFor({ timeout: 60_000 });
});
