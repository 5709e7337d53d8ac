import * as fc from "fast-check";
import { expect, test } from "vitest";
import { piecesFrom } from "../../../server/language/query-pieces";

test("a text is cut into pieces, those that are not closed among them", () => {
  for (const [text, pieces] of [
    ["a == b", ["name a", "sign ==", "name b"]],
    ["a!=b", ["name a", "sign !=", "name b"]],
    ["a === b", ["name a", "sign ===", "name b"]],
    ["(d=>1.5", ["sign (", "name d", "sign =>", "number 1.5"]],
    ['"a\nb', ['open string "a', "name b"]],
    ['"a\\"', ['open string "a\\"']],
    ["'a' // b", ["string 'a'", "open comment // b"]],
    ["/* a", ["open comment /* a"]],
    ["`a${b}c` d", ["sign `", "plain a", "sign ${", "name b", "sign }", "plain c", "sign `", "name d"]],
    ["`a${{}}", ["sign `", "plain a", "sign ${", "sign {", "sign }", "sign }", "open plain "]],
  ] as const) expect(piecesFrom(text, 0).map((piece) => `${piece.closed ? "" : "open "}${piece.kind} ${piece.text}`), text).toEqual(pieces);
});

test("pieces of any text stand in it, one behind the other", () => {
  const signs = fc.constantFrom("`", "${", "}", "{", '"', "'", "\\", "\n", "//", "/*", "*/", "a", "1", " ", "=", ".");
  fc.assert(
    fc.property(fc.array(signs, { maxLength: 30 }), (parts) => {
      const text = parts.join("");
      let end = 0;
      for (const piece of piecesFrom(text, 0)) {
        expect(piece.from).toBeGreaterThanOrEqual(end);
        expect(text.slice(piece.from, piece.to)).toBe(piece.text);
        expect(text.slice(end, piece.from).trim()).toBe("");
        end = piece.to;
      }
    }),
    { seed: 5 },
  );
});
