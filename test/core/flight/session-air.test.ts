import { expect, test } from "vitest";
import { airOf, standardAirs } from "../../../core/flight/air";
import type { StatedAir } from "../../../core/flight/session-air";
import { airAsHit, airOfSession } from "../../../core/flight/session-air";
import { celsius } from "./golf-units";

const warm = { value: 21, unit: "degC" } as const;

function checkMissing(air: StatedAir, missing: readonly string[]): void {
  expect(airAsHit({ air })).toMatchObject({ isStated: missing.length === 0, missing });
}

test("a temperature with a pressure or an altitude is air; anything less is not", () => {
  checkMissing({}, ["temperature", "pressure or altitude"]);
  checkMissing({ temperature: warm }, ["pressure or altitude"]);
  checkMissing({ altitude: { value: 400, unit: "m" } }, ["temperature"]);
  checkMissing({ temperature: warm, pressure: { value: 1009, unit: "hPa" } }, []);
  checkMissing({ temperature: warm, altitude: { value: 1200, unit: "ft" } }, []);
});

test("a stated value that no air has counts as not stated, and stops nothing", () => {
  const pressure = { value: 1009, unit: "hPa" } as const;
  checkMissing({ temperature: { value: 210, unit: "degC" }, pressure }, ["usable temperature"]);
  checkMissing({ temperature: warm, pressure: { value: 10_090, unit: "hPa" } }, ["usable pressure"]);
  checkMissing({ temperature: warm, pressure, humidity: { value: 450, unit: "%" } }, ["usable humidity"]);
});

test("stated air is that of its conditions, with the pressure before the altitude and half humidity", () => {
  const stated = { temperature: { value: 68, unit: "degF" }, pressure: { value: 840, unit: "hPa" }, altitude: { value: 0, unit: "m" } } as const;
  expect(airAsHit({ air: stated }).air.density).toBeCloseTo(airOf({ temperature: 20 + celsius, pressure: 84_000, humidity: 0.5 }).density, 12);
  const humid = { ...stated, humidity: { value: 20, unit: "%" } } as const;
  // Picard et al. 2008 (CIPM-2007), evaluated at 20 °C, 840 hPa, 20 %.
  expect(airAsHit({ air: humid }).air.density).toBeCloseTo(0.99644, 5);
});

test("flights that were moved are in the air they were moved to", () => {
  const movedTo = { name: "the air of ball tests", air: standardAirs["ball test"] };
  const session = { air: { temperature: warm, pressure: { value: 1009, unit: "hPa" } }, movedTo } as const;
  expect(airOfSession(session)).toEqual({ air: standardAirs["ball test"], isStated: true, missing: [] });
  expect(airAsHit(session).air.density).not.toBe(standardAirs["ball test"].density);
  expect(airOfSession({ air: {} }).air).toBe(standardAirs["sea level"]);
});
