/**
 * A short key of some texts, equal for equal lists of texts: 96 bits in hexadecimal, the first of SHA-256.
 *
 * Source: FIPS PUB 180-4, sections 5.1.1 (padding) and 6.2.2 (computation).
 * @example contentKey("a", "b") === contentKey("a", "b") // true
 */
export function contentKey(...parts: readonly string[]): string {
  // With its length before it, a part cannot run into the next one.
  return sha256(unitBytes(parts.map((part) => `${part.length}:${part}`).join(""))).slice(0, 24);
}

/** The UTF-16 units of a text, two bytes each: halves of a character are told apart too. */
function unitBytes(text: string): Uint8Array {
  const bytes = new Uint8Array(2 * text.length);
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    bytes[2 * i] = unit >> 8;
    bytes[2 * i + 1] = unit & 0xff;
  }
  return bytes;
}

/** The SHA-256 digest of some bytes, in hexadecimal. */
export function sha256(bytes: Uint8Array): string {
  const state = Int32Array.from(initialState);
  const padded = padding(bytes);
  const words = new Int32Array(64);
  for (let at = 0; at < padded.length; at += 64) addBlock(state, words, padded, at);
  return Array.from(state, (word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
}

/** The bytes, then 1 as a bit, zeros, and the length in bits as a number of 64 bits: a multiple of 64 bytes. */
function padding(bytes: Uint8Array): Uint8Array {
  const padded = new Uint8Array((((bytes.length + 8) >> 6) + 1) * 64);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const end = new DataView(padded.buffer, padded.length - 8);
  end.setUint32(0, Math.floor(bytes.length / 0x20000000));
  end.setUint32(4, (bytes.length << 3) >>> 0);
  return padded;
}

function addBlock(state: Int32Array, words: Int32Array, bytes: Uint8Array, at: number): void {
  for (let t = 0; t < 16; t++) {
    const from = at + 4 * t;
    words[t] = (bytes[from]! << 24) | (bytes[from + 1]! << 16) | (bytes[from + 2]! << 8) | bytes[from + 3]!;
  }
  for (let t = 16; t < 64; t++) {
    const [w15, w2] = [words[t - 15]!, words[t - 2]!];
    const small0 = turned(w15, 7) ^ turned(w15, 18) ^ (w15 >>> 3);
    const small1 = turned(w2, 17) ^ turned(w2, 19) ^ (w2 >>> 10);
    words[t] = small1 + words[t - 7]! + small0 + words[t - 16]!;
  }
  let [a, b, c, d, e, f, g, h] = state as unknown as [number, number, number, number, number, number, number, number];
  for (let t = 0; t < 64; t++) {
    const big1 = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const one = (h + big1 + ((e & f) ^ (~e & g)) + roundConstants[t]! + words[t]!) | 0;
    const big0 = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const two = (big0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
  }
  for (const [i, word] of [a, b, c, d, e, f, g, h].entries()) state[i]! += word;
}

/** The 32 bits turned to the right by `by` places. */
function turned(word: number, by: number): number {
  return (word >>> by) | (word << (32 - by));
}

/** The first `count` prime numbers. */
function primes(count: number): readonly number[] {
  const found: number[] = [];
  for (let n = 2; found.length < count; n++) if (found.every((prime) => n % prime !== 0)) found.push(n);
  return found;
}

/** The first 32 bits of the part of a number behind its point. */
function fraction(value: number): number {
  return ((value - Math.floor(value)) * 0x100000000) | 0;
}

// Section 5.3.3: of the square roots of the first 8 primes. Section 4.2.2: of the cube roots of the first 64. Both need
// 35 bits or fewer of the 53 that a number has.
const initialState = primes(8).map((prime) => fraction(Math.sqrt(prime)));
const roundConstants = Int32Array.from(primes(64), (prime) => fraction(Math.cbrt(prime)));
