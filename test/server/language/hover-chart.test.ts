import { expect, test } from "vitest";
import { hoverChart } from "../../../server/language/hover-chart";
import { chartLine, chartView } from "./chart-view";

async function hoverAt(body: string): Promise<{ about: string; markdown: string } | null> {
  const { view, cell, text, offset } = await chartView(chartLine + body);
  const found = hoverChart(view, cell, offset);
  return found === null ? null : { about: text.slice(found.from, found.to), markdown: found.markdown };
}

async function checkHover(body: string, about: string, part: string): Promise<void> {
  const found = await hoverAt(body);
  expect(found?.about).toBe(about);
  expect(found?.markdown).toContain(part);
}

test("keys and marks have a sentence", async () => {
  await checkHover('{ "ma¦rk": "point" }', '"mark"', "What is drawn for each row");
  await checkHover('{ ¦"mark": "point" }', '"mark"', "What is drawn for each row");
  await checkHover('{ "mark": "po¦int" }', '"point"', "A point for each row");
  await checkHover('{ "mark": { "ty¦pe": "bar" } }', '"type"', "Which mark is drawn");
  await checkHover('{ "encoding": { "y": { "aggregate": "st¦dev" } } }', '"stdev"', "standard deviation");
});
test("a field shows its column, and one that is made says so", async () => {
  await checkHover('{ "encoding": { "x": { "field": "car¦ry" } } }', '"carry"', "numbers in yd");
  await checkHover('{ "transform": [{ "density": "carry", "as": ["v", "p"] }], "encoding": { "x": { "field": "v¦" } } }', '"v"', "Made by a transform of this chart");
  await checkHover('{ "transform": [{ "density": "car¦ry" }] }', '"carry"', "Distance to where the ball first lands");
});
test("nothing is said of what is not accepted, or of nothing", async () => {
  expect(await hoverAt('{ "da¦ta": [] }')).toBeNull();
  expect(await hoverAt('{ "encoding": { "x": { "field": "no¦ne" } } }')).toBeNull();
  expect(await hoverAt('{ "mark": "no¦ne" }')).toBeNull();
  expect(await hoverAt("{ ¦ }")).toBeNull();
  expect(await hoverAt('{ "width": 3¦0 }')).toBeNull();
});
