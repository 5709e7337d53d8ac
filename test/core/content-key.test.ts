import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { contentKey } from "../../core/content-key";

/** Expects the key of one text to be the beginning of what Node's own SHA-256 gives for its UTF-16 units. */
function checkDigest(text: string): void {
  const bytes = Buffer.from(`${text.length}:${text}`, "utf16le").swap16();
  expect(contentKey(text)).toBe(createHash("sha256").update(bytes).digest("hex").slice(0, 24));
}

test("a key is the beginning of SHA-256, whatever the length of the text", () => {
  for (let length = 0; length <= 130; length++) checkDigest("x".repeat(length));
  checkDigest("é€😀\ud800\u0000");
  checkDigest("long ".repeat(30_000));
});

test("texts cannot run into one another", () => {
  const keys = [contentKey("a", "b"), contentKey("ab"), contentKey("ab", ""), contentKey("", "ab"), contentKey("1:a", "b"), contentKey()];
  expect(new Set(keys).size).toBe(keys.length);
});
