import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { repository, runIn } from "../../support/command-line";

const front = "---\nfairstrike: 1\nshots: s/one.session.yaml\n---\n\n";
const chart = '```json chart=picture table=shots description="What <b> says & \\"more\\""\n{ "mark": "point", "encoding": { "x": { "field": "ball_speed", "type": "quantitative" }, "y": { "field": "carry", "type": "quantitative" } } }\n```\n';
const notebook = `${front}\`\`\`js query=rows\nshots.count()\n\`\`\`\n\n${chart.replace(' \\"more\\"', " more")}`;
const makeFolder = (): string => repository({ "a.shots.md": notebook });

async function figure(...more: readonly string[]): Promise<string> {
  const { code, out, said } = await runIn(makeFolder(), ["figure", "a.shots.md", "--cell", "picture", "--out", "-", ...more]);
  expect(code, said).toBe(0);
  return out;
}

/** Expects a call to be refused as wrong usage, with these words. */
async function checkUsage(given: readonly string[], words: string): Promise<void> {
  const { code, out, said } = await runIn(makeFolder(), ["figure", ...given]);
  expect([code, out]).toEqual([2, ""]);
  expect(said).toContain(words);
}

test("a figure is of exactly the size asked for, and its words are in it", async () => {
  const text = await figure("--size", "1920x1080");
  expect(text).toMatch(/^<svg [^>]*width="1920" height="1080" viewBox="0 0 1920 1080"/u);
  expect(text).toContain('<title id="title">picture</title>');
  expect(text).toMatch(/<desc id="desc">What &lt;b&gt; says &amp; more Synthetic data: [^.]*\. Drawn from 12 rows of ball_speed \(mph\), carry \(yd\)\.<\/desc>/u);
  expect(text).toContain('<rect width="1920" height="1080" fill="#ffffff">');
});

test("the drawing lies within the figure and keeps its proportions", async () => {
  const [, x, y, width, height, ownWidth, ownHeight] = /<svg x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)" viewBox="0 0 ([\d.]+) ([\d.]+)"/u.exec(await figure("--size", "1920x1080"))!.map(Number);
  expect(x! + width!).toBeLessThanOrEqual(1920);
  expect(y! + height!).toBeLessThanOrEqual(1080);
  expect(width! / height!).toBeCloseTo(ownWidth! / ownHeight!, 2);
});

test("a figure for film has no background, and an edge around its words", async () => {
  const text = await figure("--theme", "dark", "--background", "transparent");
  expect(text).not.toContain("<rect");
  const words = text.match(/<text\b[^>]*>/gu)!;
  expect(words.length).toBeGreaterThan(5);
  for (const word of words) expect(word).toContain('paint-order="stroke"');
});

test("a figure for film has an edge along its lines, and none along a grid", async () => {
  const lines = (await figure("--background", "transparent")).match(/<line\b[^>]*\bstroke="[^>]*\/>/gu)!;
  const isFaint = (line: string): boolean => line.includes('stroke-opacity="0.1"');
  const edges = lines.filter((line) => line.includes('stroke="#ffffff"'));
  expect(edges.length).toBeGreaterThan(5);
  expect(edges.filter(isFaint)).toEqual([]);
  expect(lines.filter((line) => !isFaint(line))).toHaveLength(2 * edges.length);
});

test("a figure whose words nobody could read says so, and one that can be read says nothing", async () => {
  const saidOf = async (size: string): Promise<string> => (await runIn(makeFolder(), ["figure", "a.shots.md", "--cell", "picture", "--out", "-", "--size", size])).said;
  expect(await saidOf("200x200")).toMatch(/^note: the words of this figure are \d pixels high, too small to read: /u);
  expect(await saidOf("1920x1080")).toBe("");
});

test("a figure needs nothing from outside, and is the same each time", async () => {
  const text = await figure("--theme", "contrast");
  expect(text.replaceAll(/xmlns(?::xlink)?="[^"]*"/gu, "")).not.toMatch(/https?:|href=|@import|url\((?!#)/u);
  expect(text).toContain("sans-serif");
  expect(await figure("--theme", "contrast")).toBe(text);
});

test("a figure is written to its file", async () => {
  const folder = makeFolder();
  const { code, said } = await runIn(folder, ["figure", "a.shots.md", "--cell", "picture", "--out", "one.svg"]);
  expect([code, said]).toEqual([0, ""]);
  expect(readFileSync(path.join(folder, "one.svg"), "utf8")).toBe(await figure());
});

test("what cannot be had is refused, with what can", async () => {
  await checkUsage(["a.shots.md", "--out", "-"], "name the cell with --cell");
  await checkUsage(["a.shots.md", "--cell", "picture", "--out", "a.png"], "save a PNG from below the chart in the editor");
  await checkUsage(["a.shots.md", "--cell", "picture", "--out", "a.csv"], "name a .svg file");
  await checkUsage(["a.shots.md", "--cell", "rows", "--out", "-"], '"rows" shows no chart');
  await checkUsage(["a.shots.md", "--cell", "none", "--out", "-"], "there are rows, picture");
  for (const size of ["1920", "0x10", "99999x99999"]) await checkUsage(["a.shots.md", "--cell", "picture", "--out", "-", "--size", size], "as 1920x1080");
  await checkUsage(["a.shots.md", "--cell", "picture", "--out", "-", "--theme", "blue"], "--theme is light or dark or contrast");
});
