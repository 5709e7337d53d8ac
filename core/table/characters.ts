import { characterLength, codePointAt } from "./utf8";

/** Characters that are there but not seen, or that turn the direction of reading. */
export function isInvisible(code: number): boolean {
  return (
    code === 0x00ad ||
    code === 0x061c ||
    code === 0x180e ||
    (code >= 0x200b && code <= 0x200f) ||
    (code >= 0x2028 && code <= 0x202e) ||
    (code >= 0x2060 && code <= 0x2069) ||
    code === 0xfeff ||
    (code >= 0xe0000 && code <= 0xe007f)
  );
}

/** How a character is named in a message: `U+200B`. */
export function codePointName(code: number): string {
  return `U+${code.toString(16).toUpperCase().padStart(4, "0")}`;
}

/** One character worth a word: where it is and how many bytes it takes. */
export interface OddCharacter {
  readonly at: number;
  readonly length: number;
  readonly code: number;
  /** `lost` is U+FFFD: some program before us could not read what stood here. */
  readonly sort: OddSort;
}

/** How a character is odd. */
export type OddSort = "control" | "invisible" | "lost";

/** What the characters of a text are like. */
export interface CharacterReport {
  /** The offset of the first byte that is not UTF-8; −1 when all are. */
  readonly firstInvalid: number;
  /** Bytes that are not UTF-8. */
  readonly invalidCount: number;
  /** The first odd characters in order, of each sort at most as many as asked for. */
  readonly odd: readonly OddCharacter[];
  readonly counts: Readonly<Record<OddSort, number>>;
}

/**
 * Reads all bytes once: are they UTF-8, and which characters would nobody see?
 *
 * Tab and line ends are ordinary. Linear in the bytes; plain ASCII goes four bytes at a time.
 * @param most odd characters listed of each sort; the counts are always true.
 */
export function reportCharacters(bytes: Uint8Array, from: number, to: number, most: number): CharacterReport {
  let firstInvalid = -1;
  let invalidCount = 0;
  const counts: Record<OddSort, number> = { control: 0, invisible: 0, lost: 0 };
  const odd: OddCharacter[] = [];
  const aligned = from + ((4 - ((bytes.byteOffset + from) & 3)) & 3);
  const words = aligned < to ? new Int32Array(bytes.buffer, bytes.byteOffset + aligned, (to - aligned) >> 2) : new Int32Array(0);
  let at = from;
  while (at < to) {
    if (at >= aligned && ((at - aligned) & 3) === 0) {
      let word = (at - aligned) >> 2;
      while (word < words.length && isPlainWord(words[word]!)) word++;
      at = aligned + (word << 2);
      if (at >= to) break;
    }
    const byte = bytes[at]!;
    if (byte < 0x80) {
      if (byte < 0x20 ? byte !== 9 && byte !== 10 && byte !== 13 : byte === 0x7f) {
        if (counts.control++ < most) odd.push({ at, length: 1, code: byte, sort: "control" });
      }
      at++;
      continue;
    }
    const length = characterLength(bytes, at, to);
    if (length === 0) {
      if (firstInvalid < 0) firstInvalid = at;
      invalidCount++;
      at++;
      continue;
    }
    const code = codePointAt(bytes, at, length);
    const sort = code < 0xa0 ? "control" : code === 0xfffd ? "lost" : isInvisible(code) ? "invisible" : null;
    if (sort !== null && counts[sort]++ < most) odd.push({ at, length, code, sort });
    at += length;
  }
  return { firstInvalid, invalidCount, odd, counts };
}

/**
 * True when each of the four bytes is between space and tilde: no byte under 0x20, none of 0x7F or above.
 *
 * The subtraction borrows into the top bit of a byte that is under 0x20; adding 1 carries into that of 0x7F.
 */
function isPlainWord(word: number): boolean {
  return ((((word - 0x20202020) & ~word) | word | (word + 0x01010101)) & 0x80808080) === 0;
}
