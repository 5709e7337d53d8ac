import * as fc from "fast-check";
import { expect, test } from "vitest";
import { readJson } from "../../../core/chart/json-tree";
import { readLooseJson } from "../../../core/chart/loose-json";

function placeAt(marked: string) {
  const offset = marked.indexOf("¦");
  const text = marked.replace("¦", "");
  const { place } = readLooseJson(text, 0, offset, 100);
  return { place, replaced: place === null ? "" : text.slice(place.replace.from, place.replace.to) };
}

/** Kind, path and replaced text at the mark: `key encoding.x "fie"`. */
function checkPlace(marked: string, expected: string | null): void {
  const { place, replaced } = placeAt(marked);
  expect(place === null ? null : `${place.kind} ${place.path.join(".")} ${replaced}`).toBe(expected);
}

test("keys and values where nothing is written", () => {
  checkPlace("¦", "value  ");
  checkPlace("{¦}", "key  ");
  checkPlace("{ ¦", "key  ");
  checkPlace('{ "mark": ¦ }', "value mark ");
  checkPlace('{ "mark": "point", ¦ }', "key  ");
  checkPlace('{ "layer": [¦] }', "value layer.0 ");
  checkPlace('{ "layer": [{}, ¦', "value layer.1 ");
  checkPlace('{ "encoding": { "x": { ¦', "key encoding.x ");
});
test("L-08 the key or value at the cursor is replaced with its quotes", () => {
  checkPlace('{ "ma¦": "point" }', 'key  "ma"');
  checkPlace('{ "mark": "po¦int" }', 'value mark "point"');
  checkPlace('{ "mark": ¦"point" }', 'value mark "point"');
  checkPlace("{ ma¦rk: point }", "key  mark");
  checkPlace("{ mark: po¦int }", "value mark point");
  checkPlace('{ "mark": "¦" }', 'value mark ""');
  checkPlace("{ 'ma¦' }", "key  'ma'");
});
test("L-08 nothing is written behind a value, in a comment or between key and colon", () => {
  checkPlace('{ "mark": "point"¦ }', null);
  checkPlace('{ "mark"¦: "point" }', null);
  checkPlace('{ "mark": "point" } ¦', null);
  checkPlace('{ "mark": // po¦\n "point" }', null);
  checkPlace('{ /* ¦ */ "mark": "point" }', null);
  checkPlace('{ "mark": ¦{ "type": "point" } }', null);
});
test("L-08 a text that is never closed ends where the next thing begins", () => {
  checkPlace('{ "mark": "po¦', 'value mark "po');
  checkPlace('{ "x": { "field": "ca¦ }, "y": { "field": "carry" } }', 'value x.field "ca');
  checkPlace('{ "x": { "field": "¦ }, "y": { "field": "carry" } }', 'value x.field "');
  checkPlace('{ "x": { "¦ }, "y": 1 }', 'key x "');
  checkPlace('{ "mark": "po¦\n  "encoding": {} }', 'value mark "po');
  checkPlace('{ "fi¦, "type": "nominal" }', 'key  "fi');
});
test("what is missing is no hindrance", () => {
  checkPlace('{ "field": ¦ "type": "nominal" }', "value field ");
  checkPlace('{ "field":\n  "type": "no¦" }', 'value type "no"');
  checkPlace('{ "mark": "point" "enc¦" }', 'key  "enc"');
  checkPlace('{ "a": [ 1, 2, ¦', "value a.2 ");
  checkPlace('{ "a": { "b": [ { ¦ } }', "key a.b.0 ");
  checkPlace('{ "a": { "b": [ 1 }, "c": ¦ }', "value c ");
  checkPlace('{ "a": 1,, ¦ }', "key  ");
});
test("commas that are missing are asked for", () => {
  const commasAt = (marked: string) => placeAt(marked).place?.comma;
  expect(commasAt('{ "a": 1 ¦ }')).toEqual({ before: true, after: false });
  expect(commasAt('{ ¦ "a": 1 }')).toEqual({ before: false, after: true });
  expect(commasAt('{ "a": 1 ¦ "b": 2 }')).toEqual({ before: true, after: true });
  expect(commasAt('{ "a": 1, ¦"b": 2 }')).toEqual({ before: false, after: true });
  expect(commasAt('{ "a": ¦, "b": 2 }')).toEqual({ before: false, after: false });
  expect(commasAt('{ "a": ¦\n "b": 2 }')).toEqual({ before: false, after: true });
  expect(commasAt('{ "a": "x¦" "b": 2 }')).toEqual({ before: false, after: true });
  expect(commasAt("[ 1, ¦ 2 ]")).toEqual({ before: false, after: true });
});
test("JSON without mistakes is read as the strict reader reads it, wherever the cursor is", () => {
  fc.assert(
    fc.property(fc.json({ maxDepth: 4 }), fc.nat(), (text, at) => {
      const strict = readJson(text, 0, 100);
      const { root } = readLooseJson(text, 0, at % (text.length + 1), 100);
      expect({ value: root }).toEqual(strict);
    }),
    { seed: 7 },
  );
});
test("anything can be read, and what is replaced holds the cursor and lies on one line", () => {
  const piece = fc.constantFrom("{", "}", "[", "]", ",", ":", '"', "'", "\\", "\n", " ", "mark", '"x"', "1", "/*", "//", "*/", "é", "\u{1f3cc}");
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 30 }), fc.nat(), (pieces, at) => {
      const text = pieces.join("");
      const offset = at % (text.length + 1);
      const { place } = readLooseJson(text, 0, offset, 5);
      if (place === null) return;
      const { from, to } = place.replace;
      expect(from).toBeLessThanOrEqual(offset);
      expect(to).toBeGreaterThanOrEqual(offset);
      expect(text.slice(from, to)).not.toContain("\n");
    }),
    { seed: 11, numRuns: 2000 },
  );
});
test("K-17 deep nesting is passed over", () => {
  expect(readLooseJson("[".repeat(100_000), 0, 100_000, 100).root?.kind).toBe("list");
});
