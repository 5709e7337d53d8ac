import type { Checked } from "../problem";
import { problem } from "../problem";
import type { TextRange } from "../text-position";
import { rangeOfBytes } from "./byte-position";
import { reportCharacters } from "./characters";
import { decodeUtf8 } from "./utf8";

/**
 * The text of a file's bytes, or `null` with the reason when they are not UTF-8.
 *
 * A byte order mark at the beginning is kept as U+FEFF: whether it matters is for the reader to say. Nothing is
 * ever replaced.
 */
export function decodeText(bytes: Uint8Array): Checked<string | null> {
  const other = otherEncoding(bytes);
  if (other !== null) return { value: null, problems: [problem("csv.encoding", { found: other, byte: 0 }, firstCharacter)] };
  const text = decodeUtf8(bytes);
  if (text !== null) return { value: text, problems: [] };
  const at = reportCharacters(bytes, 0, bytes.length, 0).firstInvalid;
  const from = { at: 0, line: 1, column: 1 };
  return { value: null, problems: [problem("csv.encoding", { found: "not UTF-8", byte: at }, rangeOfBytes(bytes, at, at + 1, from))] };
}

/** The very first character, for problems of a file that is not text. */
export const firstCharacter: TextRange = { start: { line: 1, column: 1 }, end: { line: 1, column: 2 } };

const signatures: readonly { readonly bytes: readonly number[]; readonly name: string }[] = [
  { bytes: [0xff, 0xfe, 0x00, 0x00], name: "UTF-32" },
  { bytes: [0x00, 0x00, 0xfe, 0xff], name: "UTF-32" },
  { bytes: [0xff, 0xfe], name: "UTF-16" },
  { bytes: [0xfe, 0xff], name: "UTF-16" },
  { bytes: [0x50, 0x4b, 0x03, 0x04], name: "a spreadsheet or an archive, not text" },
  { bytes: [0xd0, 0xcf, 0x11, 0xe0], name: "a spreadsheet of an old form, not text" },
  { bytes: [0x50, 0x41, 0x52, 0x31], name: "Parquet, not text" },
];

/**
 * What the bytes plainly are when they are not UTF-8 text, from their first bytes; `null` when nothing tells.
 *
 * UTF-16 without a mark shows by NUL in every other byte: no text of an export has that.
 */
export function otherEncoding(bytes: Uint8Array): string | null {
  for (const { bytes: start, name } of signatures) {
    if (bytes.length >= start.length && start.every((byte, i) => bytes[i] === byte)) return name;
  }
  const looked = Math.min(bytes.length, 512) & ~1;
  if (looked < 8) return null;
  const zeros = [0, 0];
  for (let i = 0; i < looked; i++) if (bytes[i] === 0) zeros[i & 1]!++;
  return Math.max(...zeros) > 0.4 * (looked / 2) && Math.min(...zeros) < 0.1 * (looked / 2) ? "UTF-16 without a byte order mark" : null;
}
