import { parse, tokenizer } from "acorn";
import type { Fix, TextEdit } from "../problem";
import { parseMeasure } from "../units";
import { betweenBounds, colonInEntry, namedAggregate, unitInCalculation } from "./entry-fix";
import { isThousands } from "./extra-fix";
import { signMeantAt } from "./sign-meant";
import { syntaxOptions } from "./syntax-options";
import type { Change, SyntaxStop } from "./syntax-stop";

/** UTF-16 units of a body beyond which no fix is looked for: each attempt parses all of it again. */
const longestMended = 8192;

/** Opening brackets with no closing one between them beyond which none is looked for: a parser walks into each of them. */
const deepest = 100;

/** What was meant where a body could not be read on: what would be accepted, and the fix where one answer is obvious. */
export interface SyntaxMeant {
  readonly instead?: string | undefined;
  readonly fix?: Fix;
}

/**
 * The change by which a body can be read on, where one answer is obvious: signs as other programs set them (typographic
 * quotes, U+2212), a number with its unit and no quotes, words for `&&` and `||`, signs in another order, brackets and quotes that are never closed,
 * a bracket too many, a colon left out.
 *
 * The changed text is parsed: a change after which reading would not come further is not offered.
 */
export function syntaxMeant(stop: SyntaxStop): SyntaxMeant {
  if (stop.text.length - stop.bodyOffset > longestMended || isDeep(stop.text)) return {};
  for (const attempt of attempts) {
    const change = attempt(stop);
    if (change === null) continue;
    const { title, instead, byPerson } = change;
    if (change.edits.length === 0) return { instead };
    if (!readsOn(stop, change)) continue;
    const edits: TextEdit[] = change.edits.map(({ from, to, text }) => ({ range: stop.lines.rangeAt(from, to), text }));
    return { instead, fix: { title, edits, ...(byPerson ? { byPerson } : {}) } };
  }
  return {};
}

const attempts: readonly ((stop: SyntaxStop) => Change | null)[] = [plainSigns, quotedMeasure, decimalPoint, signForWord, orderOfSigns, betweenBounds, namedAggregate, colonInEntry, closedText, closedBrackets, withoutCloser, unitInCalculation];

/** Signs that mean what another sign says in a cell. From memory: what word processors and keyboards set in their place. */
const plainSign: ReadonlyMap<string, string> = new Map([
  ..."\u2212\u2010\u2011\u2012\u2013\u2014\uff0d".split("").map((dash) => [dash, "-"] as const),
  ["\u00d7", "*"],
  ["\u00f7", "/"],
  ["\u2264", "<="],
  ["\u2265", ">="],
  ["\u2260", "!=="],
  ["\uff08", "("],
  ["\uff09", ")"],
  ["\uff0c", ","],
  ["\uff1a", ":"],
  ["\u2026", "..."],
]);

const doubleQuotes = "\u201c\u201d\u201e\u201f\u2033\u00ab\u00bb\uff02";
const singleQuotes = "\u2018\u2019\u201a\u201b\u2032\u2039\u203a";

/** Every sign of the body outside of texts that is in quotes of another kind, or stands for another sign. */
function plainSigns({ text, bodyOffset, at }: SyntaxStop): Change | null {
  const here = text[at] ?? "";
  if (here === "" || (!plainSign.has(here) && !doubleQuotes.includes(here) && !singleQuotes.includes(here))) return null;
  const parts = new RegExp(`"(?:[^"\\\\\\n]|\\\\.)*"|'(?:[^'\\\\\\n]|\\\\.)*'|[${doubleQuotes}]([^"${doubleQuotes}\\n]*)[${doubleQuotes}]|[${singleQuotes}]([^'${singleQuotes}\\n]*)[${singleQuotes}]|[${[...plainSign.keys()].join("")}]`, "gu");
  const edits = [...text.slice(bodyOffset).matchAll(parts)].flatMap((match) => {
    const inside = match[1] ?? match[2];
    const plain = inside === undefined ? plainSign.get(match[0]) : JSON.stringify(inside);
    const from = bodyOffset + match.index;
    return plain === undefined ? [] : [{ from, to: from + match[0].length, text: plain }];
  });
  return { title: edits.length === 1 ? `Write ${edits[0]!.text}` : "Write signs as they are in a cell", edits };
}

/** `3yd` or `3 yd` where a value may stand alone: in quotes. */
function quotedMeasure({ text, at }: SyntaxStop): Change | null {
  const before = /(?<=(?:[:,([<>]|[=<>]=)\s*)[-+]?\d+(?:[.,]\d+)?\s*$/u.exec(text.slice(Math.max(0, at - 60), at));
  const after = /^[\p{L}\u00b0%]+(?:\/[\p{L}]+)?(?=\s*(?:[,)\]}<>]|[=!]==|&&|\|\|))/u.exec(text.slice(at));
  if (before === null || after === null) return null;
  const [whole = "", part = ""] = before[0].trim().replace(/^[-+]/u, "").split(",");
  if (isThousands(whole, part)) return null;
  const written = `${before[0].trim().replace(",", ".")} ${after[0]}`;
  if (parseMeasure(written) === undefined) return null;
  return { title: `Write "${written}"`, edits: [{ from: at - before[0].length, to: at + after[0].length, text: JSON.stringify(written) }], instead: `a unit is written in quotes with its number: "${written}"; beside a column a number is in the column's unit` };
}

/** `1,5` where a comma cannot stand: with a point. `1,500` may be a thousand and a half as well. */
function decimalPoint({ text, at }: SyntaxStop): Change | null {
  const written = /(?<![\p{ID_Continue}$.]|\d,)(\d+),(\d+)\s*$/u.exec(text.slice(Math.max(0, at - 60), at));
  if (written === null || isThousands(written[1]!, written[2]!)) return null;
  const comma = Math.max(0, at - 60) + written.index + written[1]!.length;
  return { title: `Write ${written[1]!}.${written[2]!}`, edits: [{ from: comma, to: comma + 1, text: "." }] };
}

/** `and` and `or` between conditions. */
function signForWord({ text, at }: SyntaxStop): Change | null {
  const word = /^(?:and|or)\b/iu.exec(text.slice(at))?.[0];
  if (word === undefined) return null;
  const sign = word.toLowerCase() === "and" ? "&&" : "||";
  return { title: `Use ${sign}`, edits: [{ from: at, to: at + word.length, text: sign }] };
}

/** Signs in another order, or of another language. */
function orderOfSigns({ text, at }: SyntaxStop): Change | null {
  const meant = signMeantAt(text, at);
  return meant && { title: `Use ${meant.write}`, edits: [{ from: meant.from, to: meant.to, text: meant.write }], instead: meant.instead };
}

/** A text whose quote is not closed on its line: closed before the brackets and signs at the line's end. */
function closedText({ text, at }: SyntaxStop): Change | null {
  const quote = text[at];
  if (quote !== '"' && quote !== "'") return null;
  const line = /^[^\n]*/u.exec(text.slice(at + 1))![0];
  if (line.includes(quote) || line.includes("\\")) return null;
  const end = at + 1 + line.replace(/[\s)\]},;]*$/u, "").length;
  return { title: "Close the quote", edits: [{ from: end, to: end, text: quote }] };
}

/** Brackets that are open where the text ends, closed there. */
function closedBrackets({ text, bodyOffset, at }: SyntaxStop): Change | null {
  const end = text.trimEnd().length;
  const open = at < end - 1 ? null : openBrackets(text.slice(bodyOffset));
  if (open === null || open.length === 0) return null;
  const closers = open.map((bracket) => closerOf[bracket]!).reverse().join("");
  return { title: `Close the brackets with ${closers}`, edits: [{ from: end, to: end, text: closers }] };
}

/** A closing bracket that closes nothing. */
function withoutCloser({ text, at }: SyntaxStop): Change | null {
  return ")]}".includes(text[at] ?? " ") ? { title: `Remove ${text[at]!}`, edits: [{ from: at, to: at + 1, text: "" }] } : null;
}

const closerOf: Readonly<Record<string, string>> = { "(": ")", "[": "]", "{": "}", "${": "}" };

/** The brackets that are open at the end of a body, from outside in; `null` where they cross or the tokens cannot be read. */
function openBrackets(body: string): readonly string[] | null {
  const open: string[] = [];
  try {
    for (const token of tokenizer(body, syntaxOptions)) {
      const raw = body.slice(token.start, token.end);
      if (Object.hasOwn(closerOf, raw)) open.push(raw);
      else if (raw === ")" || raw === "]" || raw === "}") {
        const opener = open.pop();
        if (opener === undefined || closerOf[opener] !== raw) return null;
      }
    }
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return null;
  }
  return open;
}

function isDeep(text: string): boolean {
  let depth = 0;
  for (const sign of text) {
    if ("([{".includes(sign) && ++depth > deepest) return true;
    if (")]}".includes(sign) && depth > 0) depth--;
  }
  return false;
}

/** True when the changed body can be read to its end, or comes further than before. */
function readsOn({ text, bodyOffset, at }: SyntaxStop, { edits }: Change): boolean {
  let changed = text;
  for (const { from, to, text: by } of [...edits].sort((a, b) => b.from - a.from)) changed = changed.slice(0, from) + by + changed.slice(to);
  try {
    parse(changed.slice(bodyOffset), syntaxOptions);
    return true;
  } catch (error) {
    if (error instanceof RangeError) return false;
    if (!(error instanceof SyntaxError)) throw error;
    const last = Math.max(...edits.map(({ to }) => to));
    return bodyOffset + ((error as { pos?: number }).pos ?? 0) > Math.max(at, last) + Math.max(0, changed.length - text.length);
  }
}
