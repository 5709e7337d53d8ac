import { expect, test } from "vitest";
import { headDefaults, headKinds } from "../../../core/session/head-defaults";
import { readSession } from "../../../core/session/read-session";
import { sessionKeyHelp } from "../../../core/session/session-keys";
import { shotColumns, isShotColumn } from "../../../core/table/shot-columns";
import { isConvertible, units, unitFor } from "../../../core/units";

test("every key has a line of help without a full stop", () => {
  for (const [map, keys] of Object.entries(sessionKeyHelp))
    for (const [key, help] of Object.entries<string>(keys)) expect(help, `${map}.${key}`).toMatch(/^\S.*[^.\s]$/u);
});

test("every key of a session is accepted at the top and only there", () => {
  for (const key of Object.keys(sessionKeyHelp.session)) {
    const { problems } = readSession(`${key}: \n`);
    expect(problems.map((p) => p.code), key).not.toContain("session.unknown-key");
  }
});

test("defaults are in units of their columns, and centred strikes are not standard misses", () => {
  for (const kind of headKinds) {
    const { margins, lossMargins, centreZone, standardMiss, speedRatio } = headDefaults[kind];
    for (const [column, margin] of [...Object.entries(margins), ...Object.entries(lossMargins)]) {
      const quantity = isShotColumn(column) ? shotColumns[column].quantity : null;
      expect(quantity, column).not.toBeNull();
      expect(isConvertible(margin.unit, unitFor(quantity!, "m-ms")), column).toBe(true);
      expect(margin.value).toBeGreaterThan(0);
      expect(Object.hasOwn(units, margin.unit)).toBe(true);
    }
    expect(centreZone.halfWidth).toBeLessThan(standardMiss.x);
    expect(centreZone.halfHeight).toBeLessThan(standardMiss.y);
    expect(speedRatio[0]).toBeLessThan(speedRatio[1]);
  }
});
