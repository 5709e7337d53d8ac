import * as fc from "fast-check";
import { expect, test } from "vitest";
import { correctedCopy, largestCopied } from "../../../core/table/corrected-copy";
import { readDelimited } from "../../../core/table/read-csv";
import { fieldText } from "../../../core/table/delimited-text";
import { encodeUtf8 } from "../../../core/table/utf8";

function checkCopy(text: string, copy: string | null): void {
  expect(correctedCopy(encodeUtf8(text), {}, [])).toBe(copy);
  if (copy !== null) expect(correctedCopy(encodeUtf8(copy), {}, [])).toBeNull();
}

test("C-06 empty header names get the names under which they are read", () => {
  checkCopy("a,,c,\n1,2,3,4\n", "a,column 2,c,column 4\n1,2,3,4\n");
});

test("C-05 names that are there twice are numbered", () => {
  checkCopy("a,a,a\n1,2,3\n", "a,a (2),a (3)\n1,2,3\n");
  expect(correctedCopy(encodeUtf8("a,a\n1,2\n"), { duplicateHeaders: "number" }, [])).toBeNull();
});

test("C-15 quotes are doubled, closed, and freed of spaces before them", () => {
  checkCopy('a,b\n1,5" head\n', 'a,b\n1,"5"" head"\n');
  checkCopy('a,b\n1,"5" head"\n', 'a,b\n1,"5"" head"\n');
  checkCopy('a,b\n"x","y\n', 'a,b\n"x","y"\n');
  checkCopy('a,b\n"x", "y"\n', 'a,b\n"x","y"\n');
  checkCopy('a,b\n"1,2"x,y\n', 'a,b\n"1,2""x",y\n');
});

test("C-23 characters that nobody sees are left out, a byte order mark with them", () => {
  checkCopy("\ufeffa,b\u200b\r\n1,\u00012\r\n", "a,b\r\n1,2\r\n");
});

test("a name that is there twice once its invisible character is gone is numbered", () => {
  checkCopy("a,a\u200b\n1,2\n", "a,a (2)\n1,2\n");
});

test("an export without anything to mend, one that is no text, and one that is too large have no copy", () => {
  checkCopy("a,b\n1,2\n", null);
  expect(correctedCopy(Uint8Array.of(0x61, 0x2c, 0x0a, 0xff, 0x2c), {}, [])).toBeNull();
  expect(correctedCopy(new Uint8Array(largestCopied + 1), {}, [])).toBeNull();
});

test("a copy reads without the problems that it mends, and values that were right are the same", () => {
  const field = fc.constantFrom("1", "2.5", '"x"', 'a"b', '"c', '"d"e', "f\u200bg", "", '"h""i"', ' "j"');
  const row = fc.tuple(field, field, field).map((fields) => fields.join(","));
  const header = fc.constantFrom("a,b,c", "a,,c", "a,a,c", "a,a\u200b,");
  fc.assert(
    fc.property(header, fc.array(row, { minLength: 1, maxLength: 4 }), (names, rows) => {
      const text = `${names}\n${rows.join("\n")}\n`;
      const copy = correctedCopy(encodeUtf8(text), { delimiter: "," }, []) ?? text;
      const [before, after] = [readDelimited(encodeUtf8(text), { delimiter: "," }), readDelimited(encodeUtf8(copy), { delimiter: "," })];
      expect(after.problems.filter((found) => found.mends !== undefined)).toEqual([]);
      if (!text.includes('"')) {
        expect(after.value.rowCount).toBe(before.value.rowCount);
        for (let at = 0; at < before.value.rowCount; at++)
          for (let column = 0; column < 3; column++) expect(fieldText(after.value, at, column)).toBe(fieldText(before.value, at, column)!.replaceAll("\u200b", ""));
      }
    }),
    { seed: 7 },
  );
});

test("encodeUtf8 spells every character as the decoder reads it", () => {
  fc.assert(
    fc.property(fc.string({ unit: "grapheme" }), (text) => {
      expect([...encodeUtf8(text)]).toEqual([...new TextEncoder().encode(text)]);
    }),
    { seed: 1 },
  );
  expect([...encodeUtf8("\ud800")]).toEqual([0xef, 0xbf, 0xbd]);
});
