import * as fc from "fast-check";
import { expect, test } from "vitest";
import { readFrontMatter } from "../../../core/notebook/read-front-matter";
import type { Suggestion } from "../../../server/language/answers";
import { completeFront } from "../../../server/language/complete-front";
import { hoverFront } from "../../../server/language/hover-front";
import { atMark, notebookView } from "../../support/notebook-view";
import { smallFiles, smallSession } from "../../support/small-session";
import { accepted } from "./chart-view";

const files = { ...smallFiles, "s/two.session.yaml": smallSession("two"), "top.session.yaml": smallSession("top", "s/small.csv") };

async function suggestionsAt(marked: string): Promise<{ text: string; suggestions: readonly Suggestion[] }> {
  const { text, offset } = atMark(marked);
  return { text, suggestions: await completeFront(await notebookView([["front", text]], files), 0, offset) };
}

async function labelsAt(marked: string): Promise<readonly string[]> {
  return (await suggestionsAt(marked)).suggestions.map(({ label }) => label);
}

/** Takes a suggestion, which must leave front matter without a mistake. */
async function checkTaken(marked: string, label: string, expected: string): Promise<void> {
  const { text, suggestions } = await suggestionsAt(marked);
  const found = suggestions.find((each) => each.label === label);
  expect(found, suggestions.map((each) => each.label).join(", ")).toBeDefined();
  const after = accepted(text, found!);
  expect(after).toBe(expected);
  expect(readFrontMatter(after).problems).toEqual([]);
}

async function checkHover(marked: string, about: string, ...parts: readonly string[]): Promise<void> {
  const { text, offset } = atMark(marked);
  const found = hoverFront(await notebookView([["front", text]], files), 0, offset)!;
  expect(text.slice(found.from, found.to)).toBe(about);
  for (const part of parts) expect(found.markdown).toContain(part);
}

test("keys that are not there yet, with their help", async () => {
  expect(await labelsAt("¦")).toEqual(["fairstrike", "title", "shots", "units", "margin", "choose", "seed"]);
  expect(await labelsAt("fairstrike: 1\n¦\nseed: 7")).toEqual(["title", "shots", "units", "margin", "choose"]);
  expect((await suggestionsAt("se¦")).suggestions.find(({ label }) => label === "seed")!.detail).toContain("random");
  await checkTaken("fairstrike: 1\nun¦", "units", "fairstrike: 1\nunits: yd-mph");
  await checkTaken("un¦its: m-ms", "units", "units: m-ms");
  await checkTaken("¦", "margin", "margin: { carry: 3 yd }");
});
test("in a choice: its keys, columns of the shots and their values", async () => {
  const shots = "shots: s/one.session.yaml\nchoose:\n";
  expect(await labelsAt(`${shots}  a: { of: head, ¦ }`)).toEqual(["is", "from", "to", "among"]);
  await checkTaken(`${shots}  a: { of: he¦, is: any }`, "head", `${shots}  a: { of: head, is: any }`);
  expect(await labelsAt(`${shots}  a: { of: head, is: ¦ }`)).toEqual(["any", "Heron", "Wren"]);
  await checkTaken(`${shots}  a: { of: head, is: [Wren, ¦] }`, "Heron", `${shots}  a: { of: head, is: [Wren, Heron] }`);
  await checkTaken(`${shots}  a: { among: [carry, offline], is: ¦ }`, "offline", `${shots}  a: { among: [carry, offline], is: offline }`);
});
test("unit systems with what they show", async () => {
  await checkTaken("units: ¦", "m-kmh", "units: m-kmh");
  await checkTaken("units:¦", "m-kmh", "units: m-kmh");
  await checkTaken('units: "m¦"', "m-ms", 'units: "m-ms"');
  await checkTaken("units: yd¦-mph", "m-ms", "units: m-ms");
  expect((await suggestionsAt("units: ¦")).suggestions[1]!.detail).toBe("carry in m, speed in km/h, height in m");
});
test("margins: columns with a unit, each with its default", async () => {
  await checkTaken("margin: { ¦ }", "carry", "margin: { carry: 3 yd }");
  await checkTaken("margin: { ca¦ }", "carry", "margin: { carry: 3 yd }");
  await checkTaken("margin: { carry: 3 yd, ¦ }", "ball_speed", "margin: { carry: 3 yd, ball_speed: 1 mph }");
  await checkTaken("margin:\n  ca¦", "carry", "margin:\n  carry: 3 yd");
  await checkTaken("margin:\n  carry: 3 yd\n  ¦", "face_angle", "margin:\n  carry: 3 yd\n  face_angle: 1 deg");
  await checkTaken("margin: ¦", "{ carry: 3 yd }", "margin: { carry: 3 yd }");
  expect(await labelsAt("margin: { carry: 3 yd, ¦ }")).not.toContain("carry");
  expect(await labelsAt("margin: { ¦ }")).not.toContain("head");
});
test("margins: the default, and units behind a number", async () => {
  await checkTaken("margin: { carry: ¦ }", "3 yd", "margin: { carry: 3 yd }");
  await checkTaken("margin: { carry:¦}", "3 yd", "margin: { carry: 3 yd}");
  await checkTaken("margin: { carry: 5¦ }", "5 yd", "margin: { carry: 5 yd }");
  await checkTaken("units: m-kmh\nmargin:\n  ball_speed: 2 ¦", "2 km/h", "units: m-kmh\nmargin:\n  ball_speed: 2 km/h");
  expect((await suggestionsAt("margin: { carry: ¦ }")).suggestions[0]!.detail).toBe("common practice, no source");
  expect(await labelsAt("margin: { head: ¦ }")).toEqual([]);
});
test("session files beside the notebook and in folders that are known, and all of a folder", async () => {
  await checkTaken("shots: ¦", "top.session.yaml", "shots: top.session.yaml");
  await checkTaken("shots: s/¦", "s/two.session.yaml", "shots: s/two.session.yaml");
  await checkTaken("shots: s/¦", "s/*.session.yaml", "shots: s/*.session.yaml");
  await checkTaken("shots: ¦", "*.session.yaml", 'shots: "*.session.yaml"');
  await checkTaken('shots: "s/o¦"', "s/one.session.yaml", 'shots: "s/one.session.yaml"');
  await checkTaken('shots: "s/o¦', "s/one.session.yaml", 'shots: "s/one.session.yaml"');
  await checkTaken("shots: [s/one.session.yaml, ¦]", "s/two.session.yaml", "shots: [s/one.session.yaml, s/two.session.yaml]");
  await checkTaken("shots:\n  - s/one.session.yaml\n  - ¦", "s/two.session.yaml", "shots:\n  - s/one.session.yaml\n  - s/two.session.yaml");
  await checkTaken("shots:\n  - s/one.session.yaml\n  -¦", "s/two.session.yaml", "shots:\n  - s/one.session.yaml\n  - s/two.session.yaml");
  expect(await labelsAt("shots: [s/one.session.yaml, ¦]")).not.toContain("s/one.session.yaml");
});
test("nothing in a comment, a title or a number", async () => {
  expect(await labelsAt("units: m-ms # ¦")).toEqual([]);
  expect(await labelsAt("# ¦")).toEqual([]);
  expect(await labelsAt("title: Three ¦")).toEqual([]);
  expect(await labelsAt("seed: 7¦")).toEqual([]);
  expect(await labelsAt("- ¦")).toEqual([]);
});
test("what a key, a unit system, a margin and a path say", async () => {
  await checkHover("se¦ed: 7", "seed", "comes out the same again");
  await checkHover("units: m-k¦mh", "m-kmh", "carry in m");
  await checkHover("margin: { car¦ry: 3 yd }", "carry", "smallest difference", "3 yd", "common practice");
  await checkHover("margin: { carry: 4¦ yd }", "4 yd", "smallest difference", "3 yd");
  await checkHover("shots: s/o¦ne.session.yaml", "s/one.session.yaml", "`one`", "12 shots", "`Wren`");
  await checkHover("shots: s/no¦ne.session.yaml", "s/none.session.yaml", "a list of paths");
});
test("a margin that a session states is its default", async () => {
  const text = "shots: s/one.session.yaml\nmargin: { carry:  }";
  const view = await notebookView([["front", text]], { ...files, "s/one.session.yaml": `${smallSession("one")}margin: { carry: 5 yd }\n` });
  const [found] = await completeFront(view, 0, text.length - 2);
  expect(found).toMatchObject({ label: "5 yd", detail: "stated by the session" });
});
test("anything can be cut off anywhere: no throw, and what is replaced holds the cursor on one line", async () => {
  const whole = 'fairstrike: 1\ntitle: "Three irons"\nshots:\n  - s/one.session.yaml\n  - "s/two.session.yaml"\nunits: yd-mph # as played\nmargin: { carry: 3 yd, ball_speed: 1 mph }\nseed: 7\n';
  const view = await notebookView([["front", whole]], files);
  await fc.assert(
    fc.asyncProperty(fc.nat({ max: whole.length }), fc.nat({ max: whole.length }), fc.nat(), async (from, length, at) => {
      const text = whole.slice(0, from) + whole.slice(from + length);
      const offset = at % (text.length + 1);
      const changed = { ...view, cells: view.cells.with(0, { ...view.cells[0]!, text }) };
      hoverFront(changed, 0, offset);
      for (const { replace } of await completeFront(changed, 0, offset)) {
        expect(replace.from <= offset && offset <= replace.to).toBe(true);
        expect(text.slice(replace.from, replace.to)).not.toContain("\n");
      }
    }),
    { seed: 9, numRuns: 400 },
  );
});
