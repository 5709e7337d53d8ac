import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { inflateSync } from "node:zlib";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { command, keepPicture, openNotebook, outputs, placeCursor, until, useWorkbench } from "./workbench";

const front = ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "---", ""];
const cells = ["```js query=landing", 'chart.landing(shots, { by: "head" })', "```", "", "```js query=counts", "shots.count()", "```", ""];
const shared = useWorkbench("figures", { files: { "figures.shots.md": [...front, ...cells].join("\n") } });
const pathOf = (file: string): string => path.join(shared.server.folder, file);

/** Types `file` into the dialog that asks for a place, once it proposes `proposed`, and waits until the file is there. */
async function saveAs(page: Page, proposed: string, file: string): Promise<void> {
  const place = page.locator(".quick-input-widget input[type=text]");
  await until(async () => (await place.inputValue()).endsWith(`/${proposed}`), `${proposed} is proposed`);
  await place.fill(pathOf(file));
  await page.keyboard.press("Enter");
  await until(() => existsSync(pathOf(file)), `${file} is written`, 60_000);
}

/** Opacity, 0 to 255, of the first pixel of a PNG whose pixels have four bytes. The first pixel of the first row has no neighbour to be predicted from. */
function firstOpacity(png: Buffer): number {
  const parts: Buffer[] = [];
  for (let at = 8; at < png.length; ) {
    const length = png.readUInt32BE(at);
    if (png.toString("latin1", at + 4, at + 8) === "IDAT") parts.push(png.subarray(at + 8, at + 8 + length));
    at += length + 12;
  }
  return inflateSync(Buffer.concat(parts))[4]!;
}

test("a chart is saved as a picture for film: 1920 by 1080, with nothing behind it", async () => {
  const { page } = shared;
  await openNotebook(page, "figures.shots.md");
  await page.getByRole("button", { name: "Run All" }).first().click();
  const chart = outputs(page).locator(".fairstrike").first();
  await chart.locator("svg").waitFor({ timeout: 60_000 });
  await chart.getByRole("button", { name: "Save figure…" }).click();
  const form = chart.getByRole("group", { name: "Save the figure" });
  await form.getByLabel("Size").selectOption("1920 × 1080");
  await form.getByLabel("Colours").selectOption("light words");
  await form.getByLabel("Background").selectOption("none, for film");
  await keepPicture(page, "figure form");
  await form.getByRole("button", { name: "Save…" }).click();
  await saveAs(page, "figures-landing.png", "film.png");
  const png = readFileSync(pathOf("film.png"));
  expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([1920, 1080]);
  // Colour type 6 has opacity beside red, green and blue.
  expect(png[25]).toBe(6);
  expect(firstOpacity(png)).toBe(0);
  await chart.getByText("Saved as film.png.").waitFor();
  await page.keyboard.press("Escape");
});

test("the command offers to save the figure of the focused cell, and by keyboard it is saved as SVG", async () => {
  const { page } = shared;
  await placeCursor(page, "chart.landing");
  await command(page, "Fairstrike: Save Figure");
  const chart = outputs(page).locator(".fairstrike").first();
  const form = chart.getByRole("group", { name: "Save the figure" });
  await form.getByLabel("File").selectOption("SVG");
  await form.getByLabel("Background").selectOption("solid");
  await form.getByLabel("Colours").selectOption("as shown");
  await form.getByLabel("Size").selectOption("as shown");
  await form.getByRole("button", { name: "Save…" }).press("Enter");
  await saveAs(page, "figures-landing.svg", "shown.svg");
  const text = readFileSync(pathOf("shown.svg"), "utf8");
  expect(text).toMatch(/^<svg [^>]*role="img"/u);
  expect(text).toContain("<desc");
});

test("saved figures look as they should, on light and on dark footage", async () => {
  const page = await shared.browser.newPage({ viewport: { width: 1920, height: 1080 } });
  await page.goto(pathToFileURL(pathOf("shown.svg")).href);
  await keepPicture(page, "figure svg");
  // A picture's own page takes no other content.
  await page.goto("about:blank");
  for (const [name, background] of [["light", "#d8e8d0"], ["dark", "#203020"]] as const) {
    await page.setContent(`<body style="margin:0;background:${background}"><img src="data:image/png;base64,${readFileSync(pathOf("film.png")).toString("base64")}">`);
    await keepPicture(page, `figure on ${name} footage`);
  }
  expect(await page.locator("img").evaluate((image) => (image as unknown as { readonly naturalWidth: number }).naturalWidth)).toBe(1920);
  await page.close();
});
