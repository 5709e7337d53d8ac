import { tokTypes, type TokenType } from "acorn";

/** A token as far as what was meant by it depends on it. */
interface SignToken {
  readonly type: TokenType;
  readonly from: number;
  readonly to: number;
}

/** What was meant by signs that a cell does not have: what is written in place of which stretch, and that in words. */
export interface SignMeant {
  readonly from: number;
  readonly to: number;
  readonly write: string;
  readonly instead: string;
}

const word = String.raw`[\p{ID_Start}_$][\p{ID_Continue}$]*`;

/**
 * What was meant by a token that cannot be used, from the signs beside it: `=<` and `= >` for an order, `d = > …` for an
 * arrow, `shots | filter(…)` for a verb. `null` where the token alone says what was meant.
 *
 * @param depth the brackets that are open before the token.
 */
export function signMeant(text: string, tokens: readonly SignToken[], index: number, depth: number): SignMeant | null {
  const { type, from, to } = tokens[index]!;
  const after = text.slice(to, to + 200);
  if (type === tokTypes.eq) {
    const sign = /^\s*([<>])(?![<>=])/u.exec(after);
    if (sign === null) return null;
    const write = sign[1] === "<" ? "<=" : isParameter(text, from) ? "=>" : ">=";
    const instead = write === "=>" ? "a row function has the arrow => between its name and its expression" : `${write === "<=" ? "at most" : "at least"} is written ${write}`;
    return { from, to: to + sign[0].length, write, instead };
  }
  const verb = type === tokTypes.bitwiseOR ? new RegExp(`^>?\\s*(?=${word}\\s*\\()`, "u").exec(after) : null;
  if (verb === null || depth > 0) return null;
  return { from: text.slice(0, from).trimEnd().length, to: to + verb[0].length, write: ".", instead: "a verb stands behind a point: shots.filter(d => d.carry > 150)" };
}

/** True where a single name stands before `at`, as that of a row function does. */
function isParameter(text: string, at: number): boolean {
  return new RegExp(`[(,:]\\s*(?:${word}|\\(\\s*${word}\\s*\\))\\s*$`, "u").test(text.slice(Math.max(0, at - 200), at));
}

/** What was meant by the signs at which a text could not be read on: `->`, `<>`, `=>` between two values, the word `not`. */
export function signMeantAt(text: string, at: number): SignMeant | null {
  const before = text[at - 1];
  if (text[at] === ">" && before === "-" && isParameter(text, at - 1)) return { from: at - 1, to: at + 1, write: "=>", instead: "a row function has the arrow => between its name and its expression" };
  if (text[at] === ">" && before === "<") return { from: at - 1, to: at + 1, write: "!==", instead: "values that differ are compared with !==" };
  if (text.startsWith("=>", at)) return { from: at, to: at + 2, write: ">=", instead: "at least is written >=" };
  const not = /(?<![\p{ID_Continue}$.])not\s+$/u.exec(text.slice(Math.max(0, at - 200), at))?.[0];
  // What is reversed is the value behind it alone: before a comparison it would be another one.
  const isAlone = new RegExp(`^(?:${word}\\.)*${word}\\s*(?:$|[),;}\\]]|&&|\\|\\|)`, "u").test(text.slice(at, at + 200));
  return not === undefined || !isAlone ? null : { from: at - not.length, to: at, write: "!", instead: "a condition is reversed with !" };
}
