/**
 * A short key of some texts, equal for equal texts: 106 bits from two 53-bit multiplicative hashes.
 *
 * For deciding whether a result is out of date, not for security: nothing is trusted because its key matches.
 * @example contentKey("a", "b") === contentKey("a", "b") // true
 */
export function contentKey(...parts: readonly string[]): string {
  const joined = parts.map((part) => `${part.length}:${part}`).join("");
  return hash53(joined, 0x2545f491).toString(36) + hash53(joined, 0x9e3779b9).toString(36);
}

function hash53(text: string, seed: number): number {
  let a = 0xdeadbeef ^ seed;
  let b = 0x41c6ce57 ^ seed;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    a = Math.imul(a ^ c, 2654435761);
    b = Math.imul(b ^ c, 1597334677);
  }
  a = Math.imul(a ^ (a >>> 16), 2246822507) ^ Math.imul(b ^ (b >>> 13), 3266489909);
  b = Math.imul(b ^ (b >>> 16), 2246822507) ^ Math.imul(a ^ (a >>> 13), 3266489909);
  return 4294967296 * (2097151 & b) + (a >>> 0);
}
