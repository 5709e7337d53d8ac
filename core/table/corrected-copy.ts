import { fixAllEdits } from "../fix-all";
import { defaultLimits } from "../limits";
import type { Problem } from "../problem";
import { applyEdits } from "../session/apply-edits";
import { decodeText } from "./decode-text";
import { readDelimited } from "./read-csv";
import type { ReadOptions } from "./read-options";
import { encodeUtf8 } from "./utf8";

/** Bytes of the largest export of which a corrected copy is made. */
export const largestCopied = 5 * 1024 * 1024;

/** Times a text is looked at again: mending one character may bring another problem of the same field to light. */
const mostRounds = 20;

/** Problems of one kind that are mended in one round: a file of nothing else must not fill the memory. */
const mostAtOnce = 10_000;

/**
 * The text of an export as it would be without what a session file cannot say: empty header names are named as they are
 * read, a name that is there twice is numbered, quotes are doubled and closed, characters that nobody sees are left out,
 * and numbers with a stray character are the number alone. Nothing else is touched.
 *
 * @param problems those of the export as it stands; only their `mends` are used, and all that reading finds is mended.
 * @returns `null` for what is larger than 5 MB, is not UTF-8, or has nothing to mend.
 * @example correctedCopy(bytesOf("a,\n1,2"), {}, []) // "a,column 2\n1,2"
 */
export function correctedCopy(bytes: Uint8Array, reading: ReadOptions, problems: readonly Problem[]): string | null {
  if (bytes.length > largestCopied) return null;
  const whole = decodeText(bytes).value;
  if (whole === null) return null;
  const original = whole.startsWith("\ufeff") ? whole.slice(1) : whole;
  const options: ReadOptions = { ...reading, limits: { ...defaultLimits, problems: mostAtOnce } };
  let text = original;
  for (let round = 0; round < mostRounds; round++) {
    const found = readDelimited(round === 0 ? bytes : encodeUtf8(text), options).problems;
    const edits = fixAllEdits([...found, ...(round === 0 ? problems : [])].flatMap(({ mends, ...each }) => (mends === undefined ? [] : [{ ...each, fix: { title: "", edits: mends } }])));
    if (edits.length === 0) break;
    text = applyEdits(text, edits);
  }
  return text === original ? null : text;
}
