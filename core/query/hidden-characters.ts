import { problem, type Problem } from "../problem";
import type { LineTable } from "../text-position";

/** Direction marks, zero-width characters and the line ends that editors do not show. */
const hidden = /[\u0085\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]|[\u{e0000}-\u{e007f}]/gu;

/**
 * Problems for characters in the body that cannot be seen or change the direction of text.
 *
 * Line ends that JavaScript counts and editors do not show are errors, because a comment can end there unseen.
 */
export function findHiddenCharacters(text: string, bodyOffset: number, lines: LineTable): readonly Problem[] {
  const found: Problem[] = [];
  for (const match of text.slice(bodyOffset).matchAll(hidden)) {
    const from = bodyOffset + match.index;
    const range = lines.rangeAt(from, from + match[0].length);
    const code = codePoint(match[0]);
    const endsLine = match[0] === "\u2028" || match[0] === "\u2029";
    // Whether a text means the character, only a person knows; a line that ends unseen is never meant.
    if (endsLine) found.push(problem("query.line-separator", { code }, range, { fix: { title: "Use a space", edits: [{ range, text: " " }] } }));
    else found.push(problem("query.hidden-character", { code }, range, { fix: { title: "Remove it", edits: [{ range, text: "" }], byPerson: true } }));
  }
  return found;
}

/** Letters of other alphabets that are drawn like Latin ones. */
const lookAlike = /[\u0391-\u03a9\u03b1\u03b9\u03bd\u03bf\u03c1\u03c5\u0405\u0406\u0408\u0410-\u0425\u0430\u0435\u043e\u0440\u0441\u0443\u0445\u0455\u0456\u0458\u0501\u051b\u051d\uff21-\uff5a]/u;
/** Letters of Cyrillic and Greek with the Latin letter that is drawn like them. From memory. */
const latinOf: ReadonlyMap<string, string> = new Map(
  "АA ВB ЕE КK МM НH ОO РP СC ТT УY ХX ЅS ІI ЈJ аa еe оo рp сc уy хx ѕs іi јj ԁd ԛq ԝw ΑA ΒB ΕE ΖZ ΗH ΙI ΚK ΜM ΝN ΟO ΡP ΤT ΥY ΧX αa ιi νv οo ρp υu".split(" ").map((pair) => [pair[0]!, pair[1]!] as const),
);

const other = /[\p{Script=Cyrillic}\p{Script=Greek}]|[\uff21-\uff5a]/u;

/** Warnings for names that mix alphabets, or consist of nothing but letters that look like Latin ones. */
export function findLookAlikes(
  names: readonly { readonly name: string; readonly from: number; readonly to: number }[],
  lines: LineTable,
): readonly Problem[] {
  return names.flatMap(({ name, from, to }) => {
    const foreign = Array.from(name).filter((letter) => other.test(letter));
    if (foreign.length === 0) return [];
    const mixed = /\p{Script=Latin}/u.test(name.replace(/[\uff21-\uff5a]/gu, ""));
    if (!mixed && !foreign.every((letter) => lookAlike.test(letter))) return [];
    const codes = [...new Set(foreign)].map(codePoint);
    const range = lines.rangeAt(from, to);
    const plain = Array.from(name, (letter) => latinOf.get(letter) ?? letter.normalize("NFKC")).join("");
    const fix = /^[A-Za-z_$][\w$]*$/u.test(plain) ? { fix: { title: `Write ${plain} in Latin letters`, edits: [{ range, text: plain }], byPerson: true as const } } : {};
    return [problem("query.look-alike", { name, codes }, range, fix)];
  });
}

function codePoint(character: string): string {
  return `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")}`;
}
