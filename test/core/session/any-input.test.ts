import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { loadShots } from "../../../core/session/load-shots";
import { readSession } from "../../../core/session/read-session";
import { columnLength } from "../../../core/table/table";

const sides = new Uint8Array(readFileSync(new URL("../../data/csv/sides.csv", import.meta.url)));

const sessionText = `session: s
date: 2026-03-14
sources: [{ file: a.csv, order: shot }]
player: { name: P1, hand: left, mirror: true }
missing: [n/a]
columns:
  shot: "No"
  head: Club
  carry: { from: Carry, unit: yd }
  offline: { from: Side, unit: yd, sides: L/R }
  strike_x: { from: Face X, unit: mm, sides: T/H }
heads: { Wren: { kind: iron, loft: 34 deg }, Heron: { kind: wood } }
shots: [{ shots: 1-2, intent: warm-up }]
corrections: [{ shots: 3, column: head, value: Wren, because: x }]
set_aside: [{ shots: 2-3, column: all, because: y }]
margin: { carry: 3 yd }
plausible: { carry: [50 yd, 200 yd] }
`;

/** Checks G1 and G3: a value or problems, never an exception, and nothing shared is changed. */
function checkLoads(text: string, bytes: Uint8Array): void {
  const before = Object.getOwnPropertyNames(Object.prototype).join();
  const { value: session } = readSession(text);
  if (session !== null) {
    const { value, problems } = loadShots(session, new Map([["a.csv", bytes]]), defaultLimits);
    for (const column of value?.columns ?? []) {
      expect(columnLength(column)).toBe(value!.rowCount);
      if (column.kind === "text") for (const code of column.codes) expect(code).toBeLessThan(column.labels.length);
      if (column.kind === "text") expect(new Set(column.labels).size).toBe(column.labels.length);
      if (column.kind === "number") for (const number of column.values) expect(Math.abs(number)).not.toBe(Infinity);
    }
    expect(new Set(value?.columns.map((column) => column.name)).size).toBe(value?.columns.length ?? 0);
    for (const found of problems) expect(found.message).not.toMatch(/undefined|NaN|\[object/);
  }
  expect(Object.getOwnPropertyNames(Object.prototype).join()).toBe(before);
}

const cut = fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), remove: fc.integer({ min: 0, max: 6 }), insert: fc.uint8Array({ maxLength: 4 }) });

test("G1 exports with any bytes changed are loaded or refused", () => {
  fc.assert(
    fc.property(fc.array(cut, { minLength: 1, maxLength: 4 }), (cuts) => {
      let bytes = [...sides];
      for (const { at, remove, insert } of cuts) bytes = bytes.toSpliced(Math.floor(at * bytes.length), remove, ...insert);
      checkLoads(sessionText, Uint8Array.from(bytes));
    }),
    { seed: 1, numRuns: 600 },
  );
});

test("G1 session files with any characters changed are read or refused", () => {
  const character = fc.constantFrom(...Array.from("abz019:-,{}[]\"'#&*!|> \n\t/%éÄ🐦"));
  fc.assert(
    fc.property(fc.array(fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), remove: fc.integer({ min: 0, max: 8 }), insert: fc.string({ unit: character, maxLength: 5 }) }), { minLength: 1, maxLength: 4 }), (cuts) => {
      let text = sessionText;
      for (const { at, remove, insert } of cuts) {
        const from = Math.floor(at * text.length);
        text = text.slice(0, from) + insert + text.slice(from + remove);
      }
      checkLoads(text, sides);
    }),
    { seed: 2, numRuns: 600 },
  );
});

test("G1 lines in any order, with any line doubled or left out, are read or refused", () => {
  const lines = sessionText.split("\n");
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...lines), { maxLength: 20 }), (some) => checkLoads(some.join("\n"), sides)),
    { seed: 3, numRuns: 400 },
  );
});
