import { expect, test } from "vitest";
import { airOf, standardAirs } from "../../../core/flight/air";
import { simulateFlight } from "../../../core/flight/simulate";
import type { Verb } from "../../../core/query/vocabulary";
import type { SessionFacts } from "../../../core/session/session-facts";
import { numberColumn } from "../../../core/table/table";
import { airSentences } from "../../../core/verbs/air-sentences";
import { compare } from "../../../core/verbs/compare";
import { describe } from "../../../core/verbs/describe";
import { enough } from "../../../core/verbs/enough";
import { forgiveness } from "../../../core/verbs/forgiveness";
import { scorecard } from "../../../core/verbs/scorecard";
import { spread } from "../../../core/verbs/spread";
import { launchOf } from "../flight/golf-units";
import { normals } from "../stats/check-values";
import { facts, rotation, runVerb, shotTable } from "./trade-verbs";

const at = (celsius: number, hPa: number) => ({ temperature: { value: celsius, unit: "degC" }, pressure: { value: hPa, unit: "hPa" }, humidity: { value: 50, unit: "%" } }) as const;
const s1 = facts({ name: "s1", file: "s1", air: at(20, 1013.25) });
const other = (given: Partial<SessionFacts>): SessionFacts => facts({ name: "s2", file: "s2", ...given });

function checkSaid(sessions: readonly SessionFacts[], wanted: string | null, columns: readonly string[] = ["carry"]): void {
  expect(airSentences(columns, sessions)).toEqual(wanted === null ? [] : [wanted]);
}

test("different air is said, from what moves a 7-iron's carry by a yard", () => {
  checkSaid([s1, other({ air: at(20, 1020) })], null);
  checkSaid(
    [s1, other({ air: at(5, 1013.25) })],
    "Carry is of different air, and nothing was moved: 1.199 kg/m³ in s1 and 1.268 kg/m³ in s2. Part of a difference between sessions is the air's: use standardAir() first.",
  );
  const carryIn = (density: number) => simulateFlight(launchOf(130, 17, 6200), { air: { density, viscosity: 1.8e-5 } }).carry / 0.9144;
  expect(carryIn(1.225 - 0.012) - carryIn(1.225)).toBeGreaterThan(0.8);
  expect(carryIn(1.225 - 0.012) - carryIn(1.225)).toBeLessThan(1.2);
});

test("nothing is said of one session, of what does not fly, or of sessions all in standard air", () => {
  checkSaid([s1], null);
  checkSaid([s1, other({ air: at(5, 1013.25) })], null, ["ball_speed", "club_speed"]);
  checkSaid([facts({ carryIs: "in standard air" }), other({ carryIs: "in standard air" })], null);
});

test("air that is not known beside air that is, and standard air beside that of the day", () => {
  checkSaid(
    [s1, other({ carryIs: "unknown", air: at(20, 1013.25) })],
    "Carry is of the air of the day in s1 and of unknown air in s2, and nothing was moved: part of a difference between sessions may be the air's. State air and carry_is in the session file, then use standardAir() first.",
  );
  checkSaid([s1, other({ carryIs: "in standard air" })], "Carry is in standard air in s2 and of the air of the day in s1, and nothing was moved: part of a difference between sessions may be the air's.");
  expect(airSentences(["carry", "total"], [facts({ name: "a" }), other({})])[0]).toMatch(/^Carry and total are of unknown air in a and s2, /);
});

test("total alone has another way out, and many sessions are not all listed", () => {
  expect(airSentences(["total"], [s1, other({ air: at(5, 1013.25) })])[0]).toMatch(/compare carry after standardAir\(\)\.$/);
  const many = [0, 5, 10, 15, 20, 25].map((t) => facts({ name: `t${t}`, air: at(t, 1013.25) }));
  expect(airSentences(["carry"], many)[0]).toContain("1.177 to 1.292 kg/m³ over 6 sessions");
});

test("moved flights are said to be moved, of one session too", () => {
  const movedTo = { name: "standard air at sea level", air: standardAirs["sea level"] };
  checkSaid([{ ...s1, movedTo }], "Carry is in standard air at sea level (1.225 kg/m³), moved there by the model of flight.");
  const elsewhere = { name: "the air of s9", air: airOf({ temperature: 278.15 }) };
  expect(airSentences(["carry"], [{ ...s1, movedTo }, other({ movedTo: elsewhere, air: at(5, 1000) })])).toHaveLength(2);
});

test.each<readonly [string, Verb]>([
  ["compare", compare],
  ["describe", describe],
  ["scorecard", scorecard],
  ["spread", spread],
  ["enough", enough],
  ["forgiveness", forgiveness],
])("%s says that its sessions were hit in different air", (_, verb) => {
  const normal = normals(3);
  const shots = ["s1", "s2"].flatMap((session, seed) => rotation({ heads: ["Wren", "Heron"], passes: 8, seed }).map((shot) => ({ ...shot, session })));
  const strikes = ["strike_x", "strike_y"].map((name) => numberColumn(name, shots.map(() => 6 * normal()), "mm"));
  const run = (sessions: readonly SessionFacts[]) => runVerb(verb, shotTable(shots, sessions, strikes), { of: verb === describe || verb === scorecard || verb === spread ? ["carry"] : "carry" }).report.sentences.join("\n");
  expect(run([s1, other({ air: at(5, 1013.25) })])).toContain("Carry is of different air, and nothing was moved");
  expect(run([s1, other({ air: at(20, 1013.25) })])).not.toContain("different air");
});
