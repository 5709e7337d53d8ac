import * as fc from "fast-check";
import { test } from "vitest";
import { columnWords } from "../../../core/session/propose-words";
import { shotColumns, type ShotColumn } from "../../../core/table/shot-columns";
import { checkLoads, exportOf } from "../../support/new-session";

/** Numbers of shots as exports have them, with the units that a header may state. */
const kinds: Readonly<Partial<Record<ShotColumn, { readonly low: number; readonly high: number; readonly units: readonly string[] }>>> = {
  ball_speed: { low: 100, high: 120, units: ["mph"] },
  club_speed: { low: 78, high: 92, units: ["mph"] },
  launch_angle: { low: 14, high: 22, units: ["deg", "°"] },
  start_direction: { low: -6, high: 6, units: ["deg"] },
  spin_rate: { low: 5000, high: 8000, units: ["rpm", "1/min"] },
  spin_axis: { low: -9, high: 9, units: ["deg"] },
  carry: { low: 140, high: 160, units: ["yd", "m"] },
  total: { low: 150, high: 170, units: ["yd", "m"] },
  offline: { low: -20, high: 20, units: ["yd", "m"] },
  peak_height: { low: 70, high: 100, units: ["ft"] },
  descent_angle: { low: 40, high: 50, units: ["deg"] },
  strike_x: { low: -15, high: 15, units: ["mm"] },
  strike_y: { low: -20, high: 5, units: ["mm"] },
  face_angle: { low: -4, high: 4, units: ["deg"] },
};

const texts: Readonly<Partial<Record<ShotColumn, readonly string[]>>> = { head: ["Wren", "Heron"], note: ["", "thin"], player: ["P1"], time: ["10:02:11", "10:01:40"] };

const unknown = ["Bay", "Zahl", "x", "Temp (C)", "- {a: b}", "# no", "true", "'quoted'", "a: b", "[1]", "null", "Ünï"];

const column = fc.record({
  name: fc.constantFrom(...(Object.keys({ ...kinds, ...texts, shot: null }) as ShotColumn[])),
  word: fc.nat(),
  isKnown: fc.integer({ min: 0, max: 4 }).map((one) => one > 0),
  unit: fc.constantFrom("none", "brackets", "last"),
  sides: fc.boolean(),
  gaps: fc.constantFrom("", "-", "n/a"),
  values: fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 6, maxLength: 6 }),
});

const anyExport = fc.record({
  columns: fc.uniqueArray(column, { selector: ({ name }) => name, minLength: 1, maxLength: 9 }),
  delimiter: fc.constantFrom(",", ";", "\t"),
  comma: fc.boolean(),
  shots: fc.integer({ min: 1, max: 6 }),
  above: fc.boolean(),
});

type Column = typeof column extends fc.Arbitrary<infer T> ? T : never;

function headerOf({ name, word, isKnown, unit }: Column): string {
  const words = isKnown ? (columnWords[name] ?? [name]) : unknown;
  const units = kinds[name]?.units ?? [];
  const stated = unit === "none" || units.length === 0 ? "" : unit === "last" ? ` ${units[word % units.length]!}` : ` [${units[word % units.length]!}]`;
  return `${words[word % words.length]!}${stated}`;
}

function valueOf({ name, word, sides, gaps, values }: Column, shot: number, comma: boolean): string {
  if (name === "shot") return String(shot + 1);
  const part = values[shot]!;
  const labels = texts[name];
  if (labels !== undefined) return labels[Math.floor(part * labels.length * 0.999)]!;
  if (part > 0.9) return gaps;
  const { low, high } = kinds[name]!;
  const number = (low + part * (high - low)).toFixed(1);
  const written = comma ? number.replace(".", ",") : number;
  const { direction } = shotColumns[name];
  if (direction === null || !sides || low > 0) return written;
  const [plus, minus] = word % 2 === 0 || direction[0] !== "right" ? direction.map((each) => each[0]!.toUpperCase()) : ["D", "G"];
  return `${written.replace("-", "")} ${written.startsWith("-") ? minus! : plus!}`;
}

const quoted = (field: string): string => `"${field.replaceAll('"', '""')}"`;

test("columns in any order, under known and unknown words, with units and without, make a session that loads once its questions are answered", () => {
  fc.assert(
    fc.property(anyExport, ({ columns, delimiter, comma, shots, above }) => {
      const rows = Array.from({ length: shots }, (_, shot) => columns.map((each) => quoted(valueOf(each, shot, comma))).join(delimiter));
      const text = [...(above ? ["Made for a test", ""] : []), columns.map((each) => quoted(headerOf(each))).join(delimiter), ...rows, ""].join("\n");
      checkLoads([exportOf(text)]);
    }),
    { seed: 7, numRuns: 25 },
  );
});
