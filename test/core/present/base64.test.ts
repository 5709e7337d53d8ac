import { Buffer } from "node:buffer";
import { assert, property, uint8Array } from "fast-check";
import { expect, test } from "vitest";
import { decodeBase64, encodeBase64 } from "../../../core/present/base64";

// Source: RFC 4648, section 10.
const vectors = [
  ["", ""],
  ["f", "Zg=="],
  ["fo", "Zm8="],
  ["foo", "Zm9v"],
  ["foob", "Zm9vYg=="],
  ["fooba", "Zm9vYmE="],
  ["foobar", "Zm9vYmFy"],
] as const;

test("bytes and base64 are those of the standard's vectors", () => {
  for (const [plain, text] of vectors) {
    const bytes = new TextEncoder().encode(plain);
    expect(encodeBase64(bytes)).toBe(text);
    expect(decodeBase64(text)).toEqual(bytes);
  }
});

test("any bytes are those that Node gives, and come back", () => {
  assert(
    property(uint8Array({ maxLength: 20_000, size: "max" }), (bytes) => {
      const text = encodeBase64(bytes);
      expect(text).toBe(Buffer.from(bytes).toString("base64"));
      expect(decodeBase64(text)).toEqual(bytes);
    }),
  );
});

test("a text that is no base64 gives nothing", () => {
  for (const text of ["Zg=", "Z===", "Zm9%", "Zm9é"]) expect(decodeBase64(text)).toBeNull();
});
