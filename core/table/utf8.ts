/** The first byte of every sequence that goes on, with what its second byte may be (Unicode 15, table 3-7). */
function secondByteRange(lead: number): readonly [length: number, low: number, high: number] | null {
  if (lead >= 0xc2 && lead <= 0xdf) return [2, 0x80, 0xbf];
  if (lead === 0xe0) return [3, 0xa0, 0xbf];
  if (lead === 0xed) return [3, 0x80, 0x9f];
  if (lead >= 0xe1 && lead <= 0xef) return [3, 0x80, 0xbf];
  if (lead === 0xf0) return [4, 0x90, 0xbf];
  if (lead >= 0xf1 && lead <= 0xf3) return [4, 0x80, 0xbf];
  if (lead === 0xf4) return [4, 0x80, 0x8f];
  return null;
}

/** The bytes of the character at `at`, 1 to 4; 0 when no well-formed character stands there before `to`. */
export function characterLength(bytes: Uint8Array, at: number, to: number): number {
  const lead = bytes[at]!;
  if (lead < 0x80) return 1;
  const form = secondByteRange(lead);
  if (form === null) return 0;
  const [length, low, high] = form;
  if (at + length > to) return 0;
  const second = bytes[at + 1]!;
  if (second < low || second > high) return 0;
  for (let i = 2; i < length; i++) if ((bytes[at + i]! & 0xc0) !== 0x80) return 0;
  return length;
}

/** The code point of the well-formed character of `length` bytes at `at`. */
export function codePointAt(bytes: Uint8Array, at: number, length: number): number {
  if (length === 1) return bytes[at]!;
  let code = bytes[at]! & (0xff >> (length + 1));
  for (let i = 1; i < length; i++) code = (code << 6) | (bytes[at + i]! & 0x3f);
  return code;
}

/**
 * The text that the bytes from `from` up to `to` spell in UTF-8, or `null` when they are not well-formed.
 *
 * Nothing is replaced: one bad byte and there is no text. A byte order mark stays in the text as U+FEFF.
 * @example decodeUtf8(Uint8Array.of(0x37, 0xc2, 0xb0)) // "7°"
 */
export function decodeUtf8(bytes: Uint8Array, from = 0, to = bytes.length): string | null {
  let text = "";
  let units: number[] = [];
  for (let at = from; at < to; ) {
    const length = characterLength(bytes, at, to);
    if (length === 0) return null;
    const code = codePointAt(bytes, at, length);
    if (code < 0x10000) units.push(code);
    else units.push(0xd800 + ((code - 0x10000) >> 10), 0xdc00 + ((code - 0x10000) & 0x3ff));
    at += length;
    // A call takes only so many arguments, so a long text is put together in pieces.
    if (units.length >= 4096) {
      text += String.fromCharCode(...units);
      units = [];
    }
  }
  return text + String.fromCharCode(...units);
}

/** The UTF-16 units of the text that well-formed UTF-8 bytes spell. */
export function utf16Length(bytes: Uint8Array, from: number, to: number): number {
  let count = 0;
  for (let at = from; at < to; at++) if ((bytes[at]! & 0xc0) !== 0x80) count += bytes[at]! >= 0xf0 ? 2 : 1;
  return count;
}

/**
 * The bytes of a text in UTF-8. Half of a surrogate pair, which no decoded text has, becomes U+FFFD.
 *
 * @example encodeUtf8("7°") // 37 c2 b0
 */
export function encodeUtf8(text: string): Uint8Array {
  const bytes = new Uint8Array(3 * text.length);
  let at = 0;
  for (let i = 0; i < text.length; i++) {
    let code = text.codePointAt(i)!;
    if (code > 0xffff) i++;
    else if (code >= 0xd800 && code <= 0xdfff) code = 0xfffd;
    if (code < 0x80) bytes[at++] = code;
    else {
      const more = code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
      bytes[at++] = ((0xf00 >> (more + 1)) & 0xff) | (code >> (6 * more));
      for (let n = more - 1; n >= 0; n--) bytes[at++] = 0x80 | ((code >> (6 * n)) & 0x3f);
    }
  }
  return bytes.subarray(0, at);
}
