import { assert, constantFrom, integer, property } from "fast-check";
import { expect, test } from "vitest";
import { signatureAt } from "../../../server/language/signature";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";

async function signature(marked: string) {
  const { text, offset } = atMark(`query=x\n${marked}`);
  return signatureAt(await notebookView([smallFront, ["query", text]]), 1, offset);
}

/** The beginning of the label, and the part of it at the cursor; `null` where it is at none. */
async function checkSignature(marked: string, label: string, active: string | null): Promise<void> {
  const found = await signature(marked);
  expect(found?.label.slice(0, label.length)).toBe(label);
  const part = found === null || found.active === null ? null : found.parameters[found.active]!;
  expect(part === null ? null : found!.label.slice(part.from, part.to)).toBe(active);
}

async function checkNone(marked: string): Promise<void> {
  expect(await signature(marked)).toBeNull();
}

test("a verb right behind its bracket", () => checkSignature("shots.compare(¦", "compare({ of, by, strikes, margin", null));
test("an option by its key", () => checkSignature('shots.compare({ of: "carry", margin: "¦', "compare({ of", "margin"));
test("an option whose key is at the cursor", () => checkSignature("shots.compare({ mar¦gin: 3 })", "compare({ of", "margin"));
test("an option behind its colon, brackets closed", () => checkSignature('shots.compare({ of: "car¦ry", by: "head" })', "compare({ of", "of"));
test("a key in quotes", () => checkSignature('shots.compare({ "of": ¦', "compare({ of", "of"));
test("an option within braces of its own", () => checkSignature('shots.scorecard({ windows: { launch_angle: "¦', "scorecard({ of", "windows"));
test("the second of an option's list", () => checkSignature('shots.describe({ of: ["carry", "¦', "describe({ of", "of"));
test("a condition", () => checkSignature("shots.filter(d => d.carry > ¦", "filter(d => condition)", "d => condition"));
test("new columns", () => checkSignature("shots.derive({ a: d => ¦", "derive({ name: d => … })", "{ name: d => … }"));
test("columns, however many", () => checkSignature('shots.select("head", "carry", ¦', 'select("column", …)', '"column", …'));
test("a table and columns", async () => {
  await checkSignature("shots.join(¦", 'join(other, "column", …)', "other");
  await checkSignature("shots.join(shots.count(), ¦", 'join(other, "column", …)', '"column", …');
});
test("an argument that is a number", () => checkSignature("shots.slice(0, 1¦", "slice(start, end)", "end"));
test("a function of one row", () => checkSignature("shots.derive({ a: d => op.round(d.carry, ¦", "op.round(", "digits"));
test("a function of many rows inside a verb", () => checkSignature('shots.rollup({ typical: op.quantile("carry", ¦', 'op.quantile("column", share)', "share"));
test("the verb again behind a function's brackets", () => checkSignature('shots.rollup({ typical: op.median("carry"), ¦', "rollup({ name: op.… })", "{ name: op.… }"));
test("an order", () => checkSignature('shots.orderby(op.desc("¦', 'op.desc("column")', '"column"'));
test("a chart's table and options", async () => {
  await checkSignature("chart.landing(¦", "chart.landing(table, { by })", "table");
  await checkSignature('chart.landing(shots, { by: "¦', "chart.landing(table, { by })", "by");
});
test("a table from options", () => checkSignature('flight({ ball_speed: "130 mph", launch_angle: ¦', "flight({ ball_speed, ", "launch_angle"));
test("a session", () => checkSignature('session("¦', 'session("path")', '"path"'));
test("sessions", () => checkSignature('sessions("a¦', 'sessions("folder/*.session.yaml")', '"folder/*.session.yaml"'));
test("a value in a text", () => checkSignature("text`Wren: ${shots.one(\"carry\", ¦", 'one("column", decimals)', "decimals"));
test("brackets that call nothing are passed over", () => checkSignature("shots.filter(d => (d.carry + (¦", "filter(d => condition)", "d => condition"));
test("a call above that is never closed does not count", () => checkSignature("const a = shots.filter(\nshots.compare({ by: ¦", "compare({ of", "by"));

test("nothing outside of calls", () => checkNone("shots¦"));
test("nothing behind a closed call", () => checkNone("shots.count()¦"));
test("nothing in a comment", () => checkNone("shots.compare({ // of¦"));
test("nothing in the words of a text", () => checkNone("text`a (b¦"));
test("nothing of a hole's surroundings within it", () => checkNone("text`${¦"));
test("nothing behind an unknown verb", () => checkNone("shots.comparr(¦"));
test("nothing in a header line", async () => {
  const { text, offset } = atMark("query=a(¦");
  expect(signatureAt(await notebookView([["query", text]]), 0, offset)).toBeNull();
});

const samples = [
  'query=a\nconst w = shots.filter(d => d.head === "Wren")\nw.compare({ of: "carry", windows: { carry: "a" } })',
  "query=b\ntext`${shots.one(\"carry\", 2)} words ( ${`",
  "query=c\nchart.landing(shots, { by: \"head\" /* ) */ })",
  "query=d\n)]}({[\"'`\\ // x\n/* (",
];

test("any offset in any cut of a cell gives an answer whose part is in its label", async () => {
  const views = await Promise.all(samples.map((text) => notebookView([smallFront, ["query", text]])));
  assert(
    property(constantFrom(...samples.keys()), integer({ min: 0, max: 200 }), integer({ min: 0, max: 200 }), (sample, end, at) => {
      const text = samples[sample]!.slice(0, end);
      const view = views[sample]!;
      const cut = { ...view, cells: view.cells.map((cell) => (cell.index === 1 ? { ...cell, text } : cell)) };
      const found = signatureAt(cut, 1, Math.min(at, text.length));
      if (found !== null && found.active !== null) expect(found.parameters[found.active]!.to).toBeLessThanOrEqual(found.label.length);
    }),
    { seed: 5, numRuns: 400 },
  );
});
