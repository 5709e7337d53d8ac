import { expect, test } from "vitest";
import type { Verb } from "../../../core/query/vocabulary";
import type { SessionFacts } from "../../../core/session/session-facts";
import type { Table } from "../../../core/table/table";
import { numberColumn } from "../../../core/table/table";
import { compare } from "../../../core/verbs/compare";
import { describe } from "../../../core/verbs/describe";
import { drift } from "../../../core/verbs/drift";
import { enough } from "../../../core/verbs/enough";
import { forgiveness } from "../../../core/verbs/forgiveness";
import { scorecard } from "../../../core/verbs/scorecard";
import type { GroupCount } from "../../../core/verbs/session-sentences";
import { missingSentences, missingTogether } from "../../../core/verbs/session-sentences";
import { spread } from "../../../core/verbs/spread";
import { workability } from "../../../core/verbs/workability";
import { normals } from "../stats/check-values";
import { facts, rotation, runVerb, shotTable } from "./trade-verbs";

const shots = rotation({ heads: ["Wren", "Heron"], passes: 8 });
const ofHeron = shots.flatMap((shot, i) => (shot.head === "Heron" ? [i + 1] : []));

/** Two heads with strikes and directions, and all readings but those of where `isMissing` holds. */
function table(isMissing: (shot: number) => boolean, given: Partial<SessionFacts> = {}): Table {
  const normal = normals(5);
  const readings = (name: string, unit: "mm" | "deg", spread: number) => numberColumn(name, shots.map((_, i) => (isMissing(i + 1) ? (normal(), null) : spread * normal())), unit, "measured");
  const columns = [readings("strike_x", "mm", 6), readings("strike_y", "mm", 5), readings("face_to_path", "deg", 3), readings("spin_axis", "deg", 5), readings("offline", "mm", 5)];
  const gaps = shots.map((shot, i) => (isMissing(i + 1) ? { ...shot, carry: null } : shot));
  return shotTable(gaps, [facts(given)], columns);
}

const uneven = /^The shares of .+ that (are missing|were set aside|are missing or were set aside) differ by more than 10 points: what made them missing may bias a comparison\.$/;
const warnings = (verb: Verb, values: Table, options = {}): readonly string[] =>
  runVerb(verb, values, options).report.sentences.flatMap((line) => line.split(/(?<=\.) (?=[A-Z])/)).filter((sentence) => uneven.test(sentence));

test("a head that lacks more of its values than another gets a warning, once a result, whatever the verb", () => {
  const lacking = table((shot) => ofHeron.slice(0, 4).includes(shot));
  expect(warnings(compare, lacking, { of: "carry" })).toEqual(["The shares of carry that are missing differ by more than 10 points: what made them missing may bias a comparison."]);
  expect(warnings(enough, lacking, { of: "carry" })).toHaveLength(1);
  expect(warnings(describe, lacking, { of: ["carry", "offline"] })).toEqual(["The shares of carry and offline that are missing differ by more than 10 points: what made them missing may bias a comparison."]);
  for (const [verb, options] of [[scorecard, {}], [spread, { of: ["carry", "offline"] }], [drift, { of: "carry" }], [forgiveness, { of: "carry" }], [workability, {}]] as const) expect(warnings(verb, lacking, options), verb.name).toHaveLength(1);
});

test("heads that lack alike get none", () => {
  const [wren, heron] = [shots.findIndex(({ head }) => head === "Wren") + 1, ofHeron[0]!];
  for (const verb of [compare, enough, describe]) expect(warnings(verb, table((shot) => shot === wren || shot === heron), { of: "carry" })).toEqual([]);
});

const count = (name: string, all: number, missing: number, setAside = 0): GroupCount => ({ name, shots: all, missing, setAside });

test("misreads set aside of one head more than of another are warned of, though as many are missing", () => {
  const counts = [count("Wren", 30, 5), count("Heron", 30, 5, 5)];
  expect(missingSentences([{ column: "carry", counts }])).toEqual([
    "Carry is missing in 5 of 30 shots of Wren and 5 of 30 shots of Heron (5 set aside).",
    "The shares of carry that were set aside differ by more than 10 points: what made them missing may bias a comparison.",
  ]);
  const other = { column: "offline", counts: [count("Wren", 30, 0), count("Heron", 30, 4)] };
  expect(missingTogether([{ column: "carry", counts }, other]).at(-1)).toBe("The shares of carry and offline that are missing or were set aside differ by more than 10 points: what made them missing may bias a comparison.");
});

test("10 points are not more than 10 points, and a group too small for a verdict says nothing of shares", () => {
  expect(missingTogether([{ column: "carry", counts: [count("Wren", 30, 3), count("Heron", 30, 0)] }])).toHaveLength(1);
  expect(missingTogether([{ column: "carry", counts: [count("Wren", 30, 0), count("Heron", 4, 4)] }])).toHaveLength(1);
  expect(missingTogether([{ column: "carry", counts: [count("Wren", 30, 0)] }])).toEqual([]);
});

test("all values of a head set aside: the warning is there, and the head is said to have no value", () => {
  const setAsideValues = ofHeron.map((shot) => ({ shot, head: "Heron", column: "carry" as const, recorded: 150, unit: "yd" as const, because: "x" }));
  const { sentences } = runVerb(compare, table((shot) => ofHeron.includes(shot), { setAsideValues }), { of: "carry" }).report;
  expect(sentences.join(" ")).toMatch(/Heron has no value of carry\. No verdict\..*Carry is missing in 24 of 24 shots of Heron \(24 set aside\)\. The shares of carry that are missing differ/);
});
