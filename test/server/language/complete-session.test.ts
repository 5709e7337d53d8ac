import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Suggestion } from "../../../server/language/answers";
import { completeSession } from "../../../server/language/complete-session";
import { readSession } from "../../../core/session/read-session";
import { atMark } from "../../support/notebook-view";
import { oddExport, sessionView } from "../../support/session-view";

const files = { "odd.csv": oddExport, "other.tsv": "a\tb\n1\t2\n", "notes.md": "" };

const start = `session: one
sources: odd.csv
columns:
  shot: "No"
  head: Club
  carry: Carry (yd)
heads:
  Wren: { kind: iron, loft: 34 deg }
  Heron: { kind: iron }
shots:
  - { shots: 1, intent: warm-up }
`;

async function suggest(marked: string): Promise<{ readonly text: string; readonly all: readonly Suggestion[] }> {
  const { text, offset } = atMark(marked);
  const all = await completeSession(await sessionView(text, files), offset);
  for (const { replace, label } of all) {
    expect(replace.from, label).toBeLessThanOrEqual(offset);
    expect(replace.to, label).toBeGreaterThanOrEqual(offset);
    expect(text.slice(replace.from, replace.to), label).not.toContain("\n");
  }
  return { text, all };
}

/** What a snippet leaves when every place keeps what is in it. */
function filled(suggestion: Suggestion): string {
  if (suggestion.isSnippet !== true) return suggestion.insert;
  return suggestion.insert.replace(/\$\{\d+:((?:\\.|[^}\\])*)\}|\$\d+|\\(.)/gu, (_, inside: string | undefined, escaped: string | undefined) => inside?.replace(/\\(.)/gu, "$1") ?? escaped ?? "");
}

/** With `label` chosen at the mark behind the start, the last line is `expected`. */
async function checkChosen(marked: string, label: string, expected: string): Promise<void> {
  const { text, all } = await suggest(start + marked);
  const found = all.find((each) => each.label === label);
  expect(found, `${label} of ${all.map((each) => each.label).join(" | ")}`).toBeDefined();
  const after = text.slice(0, found!.replace.from) + filled(found!) + text.slice(found!.replace.to);
  expect(after.slice(start.length)).toBe(expected);
}

async function labels(marked: string): Promise<readonly string[]> {
  return (await suggest(start + marked)).all.map(({ label }) => label);
}

test("keys of the session that are not there yet", async () => {
  await checkChosen("a¦", "air", "air: { temperature: 21 degC, pressure: 1009 hPa, humidity: 45 % }");
  await checkChosen("¦", "date", "date: ");
  await checkChosen("set¦", "set_aside", "set_aside:\n  - { shot: 41, column: carry, because:  }");
  await checkChosen("mo¦: { kind: camera }", "monitor", "monitor: { kind: camera }");
  const keys = await labels("¦\n");
  expect(keys).toContain("margin");
  for (const there of ["session", "sources", "columns", "heads", "shots"]) expect(keys).not.toContain(there);
});

test("keys between braces and in lines, with a usual measure", async () => {
  await checkChosen("air: { temperature: 20 degC, ¦ }", "pressure", "air: { temperature: 20 degC, pressure: 1009 hPa }");
  await checkChosen("air:\n  hum¦", "humidity", "air:\n  humidity: 45 %");
  await checkChosen("air:\n  hum¦\n  temperature: 20 degC\n", "humidity", "air:\n  humidity: 45 %\n  temperature: 20 degC\n");
  expect(await labels("air:\n  temperature: 20 degC\n  ¦")).not.toContain("temperature");
  expect(await labels("player: { na¦")).toEqual(["name", "hand", "mirror"]);
  await checkChosen("ball: {¦}", "count", "ball: {count: }");
  await checkChosen("zones: { iron: { ¦ } }", "height", "zones: { iron: { height: 5 mm } }");
  expect(await labels("zones: { iron: { ¦ } }")).toEqual(["width", "height"]);
});

test("entries of lists: a whole one, or its keys", async () => {
  await checkChosen("set_aside:\n  ¦", "{ shot, column, because }", "set_aside:\n  - { shot: 41, column: carry, because:  }");
  await checkChosen("set_aside:\n  - ¦", "{ shot, column, because }", "set_aside:\n  - { shot: 41, column: carry, because:  }");
  await checkChosen("set_aside:\n  - sh¦", "shots", "set_aside:\n  - shots: ");
  await checkChosen("set_aside:\n  -¦", "because", "set_aside:\n  - because: ");
  expect(await labels("set_aside:\n  - shot: 4\n    ¦")).toEqual(["column", "because"]);
  expect(await labels("set_aside:\n  - { shot: 4, ¦\n  - { shot: 5 }\n")).toEqual(["column", "because"]);
  expect(await labels("set_aside:\n  - b¦\n    shot: 4\n")).toEqual(["column", "because"]);
});

test("choices and truths", async () => {
  expect(await labels("player: { hand: ¦ }")).toEqual(["right", "left"]);
  await checkChosen("carry_is: as¦", "as played", "carry_is: as played");
  await checkChosen("carry_is:¦", "unknown", "carry_is: unknown");
  await checkChosen("data: syn¦thetic", "recorded", "data: recorded");
  await checkChosen("player: { mirror: t¦", "true", "player: { mirror: true");
  expect(await labels("date: ¦")).toEqual([]);
  await checkChosen("monitor: { kind: ¦ }", "radar", "monitor: { kind: radar }");
});

test("shot columns, those that are listed already left out", async () => {
  const calculated = await labels("calculated: [carry, ¦]");
  expect(calculated).toContain("offline");
  expect(calculated).not.toContain("carry");
  await checkChosen("calculated:\n  ¦", "total", "calculated:\n  - total");
  await checkChosen("set_aside:\n  - { shot: 1, column: ca¦, because: x }", "carry", "set_aside:\n  - { shot: 1, column: carry, because: x }");
  expect(await labels("set_aside:\n  - { shot: 1, column: ¦ }")).toContain("all");
  await checkChosen("margin: { ca¦ }", "carry", "margin: { carry: 3 yd }");
  await checkChosen("reading_error:\n  ball¦", "ball_speed", "reading_error:\n  ball_speed: 0.5 %");
  await checkChosen("plausible: { carry¦ }", "carry", "plausible: { carry: [1 yd, 440 yd] }");
  expect(await labels("margin: { ¦ }")).not.toContain("feel");
  for (const place of ["calculated: [¦]", "reading_error: { ¦ }"])
    expect((await labels(place)).filter((label) => ["session", "shot", "head", "stint", "pass", "time", "zone", "strike_distance", "feel"].includes(label)), place).toEqual([]);
});

test("corrections: columns and headers; heads where the head is corrected", async () => {
  const columns = await labels("corrections: [{ shots: 1, column: ¦ }]");
  expect(columns).toEqual(expect.arrayContaining(["head", "carry", "Bay"]));
  expect(columns).not.toContain("Club");
  expect(await labels("corrections: [{ shots: 1, column: head, value: ¦ }]")).toEqual(["Wren", "Heron", "Plover"]);
  await checkChosen("corrections: [{ shots: 1, column: carry, value: 150 ¦ }]", "yd", "corrections: [{ shots: 1, column: carry, value: 150 yd }]");
  expect(await labels("corrections: [{ shots: 1, column: intent, value: ¦ }]")).toEqual(["stock", "warm-up"]);
});

test("headers of the exports in quotes as needed, those in use last", async () => {
  const under = (line: string): string => `session: one\nsources: odd.csv\ncolumns:\n  carry: Carry (yd)\n${line}`;
  const check = async (line: string, label: string, expected: string): Promise<void> => {
    const { text, all } = await suggest(under(line));
    const found = all.find((each) => each.label === label)!;
    expect(found, all.map((each) => each.label).join()).toBeDefined();
    expect((text.slice(0, found.replace.from) + filled(found) + text.slice(found.replace.to)).slice(under("").length)).toBe(expected);
  };
  await check("  club_path: ¦", "Path [°]", "  club_path: Path [°]");
  await check("  club_path: { from: ¦ }", "Path [°]", '  club_path: { from: "Path [°]" }');
  await check('  club_path: { from: "Pa¦" }', "Path [°]", '  club_path: { from: "Path [°]" }');
  await check('  club_path: { from: "Pa¦', "Path [°]", '  club_path: { from: "Path [°]"');
  await check('  club_path: { from: "Pa¦, unit: deg }', "Path [°]", '  club_path: { from: "Path [°]", unit: deg }');
  await check("  offline: { from: 'Si¦' }", "Side, right +", "  offline: { from: 'Side, right +' }");
  await check("  ball_speed: { from: Ball sp¦, unit: mph }", "Ball speed", "  ball_speed: { from: Ball speed, unit: mph }");
  await check("  shot: ¦", "No", '  shot: "No"');
  await check("  ball_speed:\n    fr¦", "from", "  ball_speed:\n    from: ");
  await check("  ball_speed:\n    ¦", "Ball speed", "  ball_speed:\n    Ball speed");
  await check("  of¦", "offline", "  offline: { from: , unit: yd }");
  await check("  no¦", "note", "  note: ");
  const { all } = await suggest(under("  ball_speed: ¦"));
  const rank = (label: string): number => all.find((each) => each.label === label)!.rank ?? 0;
  expect(all.find(({ label }) => label === "Ball speed")!.detail).toBe("112.0, 116.0, 114.0");
  expect(rank("Ball speed")).toBeLessThan(rank("Bay"));
  expect(rank("Carry (yd)")).toBeGreaterThan(rank("Bay"));
});

test("units that fit the column, sides and positive directions", async () => {
  const under = "session: one\nsources: odd.csv\ncolumns:\n";
  const of = async (line: string) => (await suggest(under + line)).all;
  expect((await of("  carry: { from: Carry (m), unit: ¦ }")).map(({ label }) => label).slice(0, 2)).toEqual(["yd", "m"]);
  expect((await of("  carry: { from: Carry (m), unit: ¦ }")).find(({ label }) => label === "m")!.rank).toBe(0);
  expect((await of("  ball_speed: { from: Ball speed, unit: ¦ }")).map(({ label }) => label)).not.toContain("yd");
  expect((await of("  offline: { from: Side, sides: ¦ }")).map(({ label }) => label)).toEqual(["L/R"]);
  expect((await of("  strike_y: { from: Y, positive: ¦ }")).map(({ label }) => label)).toEqual(["up", "down", "high", "low"]);
  expect((await of("  offline: { from: Side, sides: { ¦ } }")).map(({ label }) => label)).toEqual(["right", "left"]);
  expect((await of("  ball_speed: { from: Ball speed, ¦ }")).map(({ label }) => label)).toEqual(["unit", "missing"]);
});

test("measures: a usual one, a number in a unit, a unit behind the number", async () => {
  await checkChosen("air: { temperature: ¦ }", "21 degC", "air: { temperature: 21 degC }");
  await checkChosen("air: { temperature: ¦ }", "number in degF", "air: { temperature:  degF }");
  await checkChosen("air: { temperature: 21¦ }", "degC", "air: { temperature: 21 degC }");
  await checkChosen("air: { temperature: 21 de¦ }", "degC", "air: { temperature: 21 degC }");
  await checkChosen("air:\n  temperature: 21 ¦", "K", "air:\n  temperature: 21 K");
  await checkChosen("air: { temperature: 21 ¦degF }", "degC", "air: { temperature: 21 degC }");
  await checkChosen("plausible: { carry: [50 ¦, 250 yd] }", "yd", "plausible: { carry: [50 yd, 250 yd] }");
  expect(await labels("air: { temperature: 2¦1 degC }")).toEqual([]);
});

test("paths of exports, heads and new heads", async () => {
  const { all } = await suggest("session: one\nsources:\n  - odd.csv\n  - ¦");
  expect(all.filter(({ kind }) => kind === "file").map(({ label }) => label)).toEqual(["other.tsv"]);
  expect(all.map(({ label }) => label)).toEqual(expect.arrayContaining(["{ file, order }", "order"]));
  expect((await suggest("sources: [{ file: od¦ }]")).all.map(({ label }) => label)).toEqual(["odd.csv", "other.tsv"]);
  const { all: heads } = await suggest(start.replace("shots:\n", "  ¦\nshots:\n"));
  expect(heads.map(({ label }) => label)).toEqual(["Plover", "a new head"]);
  expect(filled(heads[0]!)).toBe("Plover: { kind: iron, loft: 34 deg }");
  expect((await suggest("session: one\nsources: [{ file: odd.csv, head: ¦ }]\nheads: { Wren: { kind: iron } }")).all.map(({ label }) => label)).toEqual(["Wren"]);
});

test("comments, continued texts and what means nothing have no suggestions", async () => {
  for (const marked of ["# a¦", "note: >\n  a¦", "turf: firm # ¦", "colums: { ¦ }", "note: { a: ¦ }", "note: x\n  y¦", "heads: { Wren: { kind: iron } }¦"]) expect(await labels(marked), marked).toEqual([]);
});

const samples = ["autumn-range-1", "spring-bay-1", "summer-net-1"].map((name) => {
  const read = (file: string): string => readFileSync(new URL(`../../../sample-notebooks/sessions/${file}`, import.meta.url), "utf8");
  return { text: read(`${name}.session.yaml`), read };
});
const spring = samples[1]!;

test("a chosen value in a complete session gives no new problem", async () => {
  const exports = { "spring-bay-1.csv": spring.read("spring-bay-1.csv").split("\n").slice(0, 8).join("\n") };
  const view = await sessionView(spring.text, exports);
  const before = readSession(spring.text).problems.length;
  const values = [...spring.text.matchAll(/: ([^\s"{[][^,}\]\n]*?)(?= [}#]|[,}\]\n])/gu)].map((match) => match.index + 2);
  expect(values.length).toBeGreaterThan(80);
  let chosen = 0;
  for (const at of values) {
    for (const suggestion of await completeSession(view, at)) {
      // A place for a number that is still to be written is no value yet.
      if (suggestion.kind === "key" || suggestion.kind === "column" || suggestion.isSnippet === true) continue;
      const after = spring.text.slice(0, suggestion.replace.from) + suggestion.insert + spring.text.slice(suggestion.replace.to);
      const problems = readSession(after).problems.filter(({ code }) => code !== "session.stated-twice");
      expect(problems.map(({ message }) => message), `${suggestion.label} at ${spring.text.slice(at - 20, at + 20)}`).toHaveLength(before);
      chosen++;
    }
  }
  expect(chosen).toBeGreaterThan(100);
});

test("a chosen key with its usual value in a complete session gives no new problem", async () => {
  const exports = { "spring-bay-1.csv": spring.read("spring-bay-1.csv").split("\n").slice(0, 8).join("\n") };
  for (const place of ["\n¦\nplayer:", "heads:\n  ¦\n", "reading_error:\n  ¦\n", "air: { ¦, ", "ball: { ¦, ", "  Wren: { ¦, "]) {
    const at = place.replace("¦", "").replace(/^(\n)\n/u, "$1").replace(/\n {2}\n$/u, "\n").replace(", ", "");
    const marked = spring.text.replace(at, place);
    expect(marked, place).toContain("¦");
    const { text, offset } = atMark(marked);
    for (const suggestion of await completeSession(await sessionView(text, exports), offset)) {
      // Where nothing is usual, or a reason is wanted, the value is left to the person.
      const written = filled(suggestion);
      if (/: ?(?:$|,| \})/u.test(written) || written.endsWith(":\n  ")) continue;
      const after = text.slice(0, suggestion.replace.from) + written + text.slice(suggestion.replace.to);
      expect(readSession(after).problems.map(({ message }) => message), `${place} ${written}`).toEqual([]);
    }
  }
});

test("any offset in any cut of a sample session: no exception, and what is replaced is around the cursor on one line", async () => {
  const views = await Promise.all(samples.map(({ text }) => sessionView(text)));
  const cut = fc.record({ sample: fc.nat(2), from: fc.nat(6000), length: fc.nat(60), insert: fc.constantFrom("", "{", "}", "[", '"', "'", ": ", "- ", "\n", "  ", "a", "#", "\ue000"), at: fc.nat(6000) });
  await fc.assert(
    fc.asyncProperty(cut, async ({ sample, from, length, insert, at }) => {
      const view = views[sample]!;
      const text = view.text.slice(0, from) + insert + view.text.slice(from + length);
      const offset = Math.min(at, text.length);
      for (const { replace } of await completeSession({ ...view, text }, offset)) {
        expect(replace.from).toBeLessThanOrEqual(offset);
        expect(replace.to).toBeGreaterThanOrEqual(offset);
        expect(text.slice(replace.from, replace.to)).not.toContain("\n");
      }
    }),
    { seed: 5, numRuns: 400 },
  );
});
