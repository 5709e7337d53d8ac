import * as fc from "fast-check";
import { expect, test } from "vitest";
import { hoverSession } from "../../../server/language/hover-session";
import { atMark } from "../../support/notebook-view";
import { oddExport, sessionView } from "../../support/session-view";

const start = `session: one
sources: odd.csv
columns: { head: Club, carry: Carry (yd), club_path: { from: "Path [°]", unit: deg, positive: right } }
heads:
  Wren: { kind: iron, design: blade, loft: 34 deg, strike_reference: { x: 0 mm, y: -9 mm } }
`;

async function hover(marked: string): Promise<string | null> {
  const { text, offset } = atMark(marked);
  const answer = hoverSession(await sessionView(text, { "odd.csv": oddExport }), offset);
  if (answer !== null) expect(answer.from <= offset && offset <= answer.to).toBe(true);
  return answer?.markdown ?? null;
}

async function check(marked: string, ...parts: readonly string[]): Promise<void> {
  const markdown = await hover(start + marked);
  for (const part of parts) expect(markdown, marked).toContain(part);
}

test("keys: help, what is accepted, keys below", async () => {
  await check("carry_is¦: unknown", "**`carry_is`**", "Accepted: as played\\, in standard air or unknown");
  await check("air: { tempera¦ture: 21 degC }", "As 21 degC\\.", "units\\: degC\\, degF or K");
  await check("ball¦: B1", "Keys: `model`, `count`, `wear`");
  await check("player: { mirror¦: true }", "Accepted: true or false");
  await check("pla¦yer: { nmae: P1", "**`player`**");
});

test("defaults by kind of head are said to be common practice", async () => {
  await check("zones: { width¦: 14 mm }", "14 mm wide and 5 mm high for irons and wedges\\; 18 mm wide and 14 mm high for woods", "common practice");
  await check("misses¦: { x: 12 mm }", "12 mm to toe or heel and 8 mm high or low");
  await check("margin: { carry¦: 3 yd }", "3 yd");
  await check("reading_error: { ball_speed¦: 1 % }", "0\\.5 \\%", "common practice");
  await check("plausible:\n  carry¦: [1 yd, 2 yd]", "1 to 440 yd");
  expect(await hover(start.replace("strike_reference", "strike_¦reference"))).toContain("0 mm across and \\-9 mm up for irons and wedges");
});

test("columns, headers and exports", async () => {
  expect(await hover(start.replace("carry:", "car¦ry:"))).toContain("Read from `Carry (yd)`");
  expect(await hover(start.replace("carry:", "car¦ry:"))).toContain("`150.0`, `158.0`, `155.0`");
  expect(await hover(start.replace("Path [", "Pa¦th ["))).toContain("read as `club_path`");
  expect(await hover(start.replace("odd.csv", "odd¦.csv"))).toContain("**`s/odd.csv`**: 3 shots");
  await check("corrections: [{ shots: 1, column: Ba¦y, value: 3, because: x }]", "**`Bay`**: a column of the export", "`2`");
  await check("calculated: [ca¦rry]", "Distance to where the ball first lands");
});

test("measures in other units, units, heads", async () => {
  expect(await hover(start.replace("34 deg", "3¦4 deg"))).toContain("**`34°`**: an angle\\, 0\\.5934 rad");
  await check("air: { temperature: 21¦ degC }", "69\\.8 °F");
  expect(await hover(start.replace("unit: deg", "unit: de¦g"))).toContain("NIST SP 811");
  expect(await hover(start.replace("Wren:", "Wr¦en:"))).toContain("loft 34°");
  await check("corrections: [{ shots: 1, column: head, value: Wr¦en, because: x }]", "Iron, blade");
  await check("data: synth¦etic", "Recorded\\, or synthetic");
});

test("L-11 headers and values with Markdown, HTML and commands are shown as they are", async () => {
  const nasty = "a`](command:x)<img src=x>";
  const text = `session: one\nsources: odd.csv\ncolumns: { carry: { from: '${nasty}', unit: yd }, head: Club }\n`;
  const at = text.indexOf("command");
  const answer = hoverSession(await sessionView(text, { "odd.csv": `Club,${nasty}\nWren,<b>1</b>\n` }), at);
  expect(answer!.markdown).toContain("``a`](command:x)<img src=x>``");
  expect(answer!.markdown).toContain("`<b>1</b>`");
});

test("what means nothing has nothing to say, and no cut of a session throws", async () => {
  for (const marked of ["colum¦s: {}", "# no¦te", "turf: firm\n\n¦", "note: { a¦: 1 }"]) expect(await hover(start + marked), marked).toBeNull();
  const view = await sessionView(start, { "odd.csv": oddExport });
  fc.assert(
    fc.property(fc.nat(start.length), fc.nat(20), fc.nat(start.length), (from, length, at) => {
      const text = start.slice(0, from) + start.slice(from + length);
      const answer = hoverSession({ ...view, text }, Math.min(at, text.length));
      if (answer !== null) expect(text.slice(answer.from, answer.to)).not.toContain("\n");
    }),
    { seed: 6, numRuns: 500 },
  );
});
