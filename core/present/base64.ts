const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const codes = Uint8Array.from(alphabet, (character) => character.charCodeAt(0));
const padding = "=".charCodeAt(0);
const none = 255;
/** Bytes encoded at a time: a multiple of 3, so that no stretch but the last is padded. */
const stretch = 6144;
const values = new Uint8Array(256).fill(none);
codes.forEach((code, value) => (values[code] = value));

/** The text in base64, padded, of some bytes: the same on every platform. Source: RFC 4648, section 4. */
export function encodeBase64(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let from = 0; from < bytes.length; from += stretch) parts.push(encodeStretch(bytes.subarray(from, from + stretch)));
  return parts.join("");
}

/** The same of few bytes: few enough that their characters can be the arguments of one call. */
function encodeStretch(bytes: Uint8Array): string {
  const text = new Uint8Array(Math.ceil(bytes.length / 3) * 4);
  let at = 0;
  for (let i = 0; i < bytes.length; i += 3) {
    const bits = (bytes[i]! << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    text[at++] = codes[bits >> 18]!;
    text[at++] = codes[(bits >> 12) & 63]!;
    text[at++] = i + 1 < bytes.length ? codes[(bits >> 6) & 63]! : padding;
    text[at++] = i + 2 < bytes.length ? codes[bits & 63]! : padding;
  }
  return String.fromCharCode(...text);
}

/** The bytes of a text in base64, padded; `null` when it is none. Source: RFC 4648, section 4. */
export function decodeBase64(text: string): Uint8Array<ArrayBuffer> | null {
  if (text.length % 4 !== 0) return null;
  const padded = text.endsWith("==") ? 2 : text.endsWith("=") ? 1 : 0;
  const bytes = new Uint8Array((text.length / 4) * 3 - padded);
  let at = 0;
  let bits = 0;
  let held = 0;
  for (let i = 0; i < text.length - padded; i++) {
    const value = values[text.charCodeAt(i)] ?? none;
    if (value === none) return null;
    held = ((held << 6) | value) & 0xffffff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    bytes[at++] = (held >> bits) & 0xff;
  }
  return bytes;
}
