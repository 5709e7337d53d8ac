import * as fc from "fast-check";
import { expect, test } from "vitest";
import { reportCharacters } from "../../../core/table/characters";
import { decodeText } from "../../../core/table/decode-text";
import { decodeUtf8 } from "../../../core/table/utf8";

const encodeUtf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

// The reference is the decoder of the platform, told to be strict.
const strict = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

function reference(bytes: Uint8Array): string | null {
  try {
    return strict.decode(bytes);
  } catch {
    return null;
  }
}

test("any bytes decode as the platform's strict decoder decodes them", () => {
  const likely = fc.array(fc.constantFrom(0x41, 0x7f, 0x80, 0xbf, 0xc0, 0xc2, 0xdf, 0xe0, 0xa0, 0x9f, 0xed, 0xef, 0xbb, 0xf0, 0x90, 0x8f, 0xf4, 0xf5, 0xff), { maxLength: 8 });
  fc.assert(
    fc.property(fc.oneof(likely.map((bytes) => Uint8Array.from(bytes)), fc.uint8Array({ maxLength: 20 })), (bytes) => {
      expect(decodeUtf8(bytes)).toBe(reference(bytes));
      expect(reportCharacters(bytes, 0, bytes.length, 10).firstInvalid < 0).toBe(reference(bytes) !== null);
    }),
    { seed: 8, numRuns: 3000 },
  );
});

test("any text comes back from its bytes", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (text) => {
      expect(decodeUtf8(encodeUtf8(text))).toBe(text);
    }),
    { seed: 9, numRuns: 1000 },
  );
  const long = "é🐦a".repeat(5000);
  expect(decodeUtf8(encodeUtf8(long))).toBe(long);
});

test("odd characters are found wherever they stand, four bytes at a time or not", () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom("a", "~", " ", "\n", "\0", "\u007f", "\u0085", "é", "\u200b", "\ufffd", "🐦"), { maxLength: 24 }), fc.integer({ min: 0, max: 3 }), (characters, shift) => {
      const padded = encodeUtf8("x".repeat(shift) + characters.join(""));
      const found = reportCharacters(padded.subarray(shift), 0, padded.length - shift, 100);
      const count = (...wanted: readonly string[]): number => characters.filter((c) => wanted.includes(c)).length;
      expect(found.counts).toEqual({ control: count("\0", "\u007f", "\u0085"), invisible: count("\u200b"), lost: count("\ufffd") });
      expect(found.odd).toHaveLength(count("\0", "\u007f", "\u0085", "\u200b", "\ufffd"));
    }),
    { seed: 10, numRuns: 1000 },
  );
});

test("a file that is not UTF-8 is no text, and says where it is not", () => {
  const { value, problems } = decodeText(Uint8Array.of(0x61, 0x0a, 0xc3, 0xa9, 0xe9, 0x62));
  expect(value).toBeNull();
  expect(problems).toMatchObject([{ code: "csv.encoding", facts: { byte: 4 }, range: { start: { line: 2, column: 2 }, end: { line: 2, column: 3 } } }]);
  expect(decodeText(Uint8Array.of(0xff, 0xfe, 0x61, 0x00)).problems[0]!.message).toContain("UTF-16");
});

test("a byte order mark stays in the text", () => {
  expect(decodeText(encodeUtf8("\ufeffa")).value).toBe("\ufeffa");
});
