import { expect, test } from "vitest";
import { sessionNamesAt } from "../../../server/language/session-names";
import { atMark } from "../../support/notebook-view";
import { oddExport, sessionView } from "../../support/session-view";

const text = `session: Wren
sources: { file: odd.csv, head: "Wren" }
columns:
  head: Club
  carry: Carry (yd)
  club_path: { from: "Path [°]", unit: deg }
heads:
  Wren: { kind: iron, set: Wren }
  Heron: { kind: iron }
corrections:
  - { shots: 1, column: head, value: Wren, because: x }
  - { shots: 2, column: Carry (yd), value: Wren, because: carry }
set_aside: [{ shot: 2, column: [carry, offline], because: x }]
calculated: [carry]
margin: { carry: 3 yd }
`;

/** The lines on which the name at the mark stands, \`!\` behind those that say what it is. */
async function placesAt(before: string, after: string): Promise<readonly string[]> {
  expect(text).toContain(before);
  const { text: own, offset } = atMark(text.replace(before, () => after));
  const view = await sessionView(own, { "odd.csv": oddExport });
  const found = sessionNamesAt(view, offset);
  return found.map(({ from, to, isDeclaration }) => `${own.slice(0, from).split("\n").length} ${own.slice(from, to)}${isDeclaration ? "!" : ""}`);
}

test("a head wherever the session names it, and no other word like it", async () => {
  const places = ["2 Wren", "8 Wren!", "11 Wren"];
  expect(await placesAt("  Wren: {", "  Wr¦en: {")).toEqual(places);
  expect(await placesAt('head: "Wren"', 'head: "Wre¦n"')).toEqual(places);
  expect(await placesAt("column: head, value: Wren", "column: head, value: ¦Wren")).toEqual(places);
  expect(await placesAt("set: Wren", "set: Wr¦en")).toEqual([]);
});
test("a shot column in every list of columns, and a header of the exports", async () => {
  const places = ["5 carry!", "13 carry", "14 carry", "15 carry"];
  expect(await placesAt("  carry: C", "  car¦ry: C")).toEqual(places);
  expect(await placesAt("margin: { carry", "margin: { car¦ry")).toEqual(places);
  expect(await placesAt("column: Carry (yd)", "column: Carry¦ (yd)")).toEqual(["5 Carry (yd)", "12 Carry (yd)"]);
  expect(await placesAt("session: Wren", "sess¦ion: Wren")).toEqual([]);
});
