import { tokenizer, tokTypes, type Token, type TokenType } from "acorn";
import type { Limits } from "../limits";
import { problem, type Checked, type Problem } from "../problem";
import type { LineTable } from "../text-position";
import { findHiddenCharacters, findLookAlikes } from "./hidden-characters";
import { signMeant } from "./sign-meant";
import { syntaxMeant } from "./syntax-fix";
import { syntaxOptions } from "./syntax-options";
import { tokenFix } from "./token-fix";

/** One token of a cell's body, its place in the cell's whole text. */
export interface CellToken {
  readonly type: TokenType;
  readonly value: unknown;
  readonly from: number;
  readonly to: number;
}

/** Operators, members and calls that may follow one another inside the open brackets, counted together over all of them. */
const longestRun = 500;

/** Refused tokens that are listed; a cell that is another language altogether needs no more. */
const mostProblems = 20;

const onlyExpressions = "a cell is const names, then one expression: a table with verbs, a chart or a text";

const asRowFunction = "a row function has one plain name and one expression: d => d.carry > 150";

const onlyText = 'plain text stands in quotes, "Wren"; words with computed numbers in them are text`…`, a cell\'s last expression'

const reasonFor = new Map<TokenType, string>([
  [tokTypes.regexp, "regular expressions are not part of a cell: use op.starts_with, op.ends_with, op.includes or op.any_of"],
  [tokTypes.ellipsis, "write the values one by one"],
  [tokTypes.questionDot, "a missing value stays missing by itself: write d.carry"],
  [tokTypes.privateId, "a column is d.carry or d[\"its name\"]"],
  [tokTypes.incDec, "nothing in a cell changes a value: derive a new column instead"],
  [tokTypes.assign, "nothing in a cell changes a value: derive a new column instead"],
  [tokTypes.eq, "nothing in a cell changes a value: write const name = … first, or compare with ==="],
  [tokTypes.coalesce, "op.if_missing(d.carry, 0) says what stands for a missing value"],
  [tokTypes.starstar, "op.pow(d.carry, 2) is a power"],
  [tokTypes.bitwiseOR, "conditions are joined with ||"],
  [tokTypes.bitwiseXOR, "conditions are joined with || and &&"],
  [tokTypes.bitwiseAND, "conditions are joined with &&"],
  [tokTypes.bitShift, "numbers have + - * / and %"],
]);

/** Tokens that make an expression longer, each a step down the tree of it. */
const lengthening: ReadonlySet<TokenType> = new Set([
  tokTypes.dot,
  tokTypes.question,
  // Labels can follow one another, and each would be a step of recursion.
  tokTypes.colon,
  tokTypes.arrow,
  tokTypes.logicalOR,
  tokTypes.logicalAND,
  tokTypes.equality,
  tokTypes.relational,
  tokTypes.plusMin,
  tokTypes.modulo,
  tokTypes.star,
  tokTypes.slash,
  tokTypes.prefix,
]);

const plainTypes: ReadonlySet<TokenType> = new Set([
  ...lengthening,
  tokTypes.name,
  tokTypes.num,
  tokTypes.string,
  tokTypes.parenL,
  tokTypes.parenR,
  tokTypes.bracketL,
  tokTypes.bracketR,
  tokTypes.braceL,
  tokTypes.braceR,
  tokTypes.comma,
  tokTypes.semi,
  tokTypes._const,
  tokTypes._null,
  tokTypes._true,
  tokTypes._false,
  tokTypes.template,
  tokTypes.dollarBraceL,
]);

const openers: ReadonlySet<TokenType> = new Set([tokTypes.parenL, tokTypes.bracketL, tokTypes.braceL, tokTypes.dollarBraceL]);
const closers: ReadonlySet<TokenType> = new Set([tokTypes.parenR, tokTypes.bracketR, tokTypes.braceR]);

/**
 * True when this bracket takes up what the bracket before it closed: `f()()`, `a[0][0]`, `(a)(b)`.
 *
 * Such brackets lie beside one another in the text and inside one another in the tree. The bracket of `.count()` is
 * counted with its dot.
 */
function continues(tokens: readonly CellToken[], index: number): boolean {
  const { type } = tokens[index]!;
  const before = tokens[index - 1]?.type;
  return (type === tokTypes.parenL || type === tokTypes.bracketL) && before !== undefined && closers.has(before);
}

/** Words that are names to the tokenizer and begin something to the parser, some of them over and over. */
const statementWords: ReadonlySet<string> = new Set(["async", "await", "let", "yield"]);

/**
 * The tokens of a cell's body, each checked against a list of what a cell may contain; `null` with an error when one
 * is not listed or the text is too long or too deep.
 *
 * This is the first of two gates, and it runs before the parser: whatever passes is shallow enough for anything that
 * walks it by recursion, so that no text can exhaust the stack.
 */
export function readTokens(
  text: string,
  bodyOffset: number,
  lines: LineTable,
  limits: Limits,
): Checked<readonly CellToken[] | null> {
  const body = text.slice(bodyOffset);
  if (body.length > limits.cellText) {
    const found = problem("query.too-long", { length: body.length, most: limits.cellText }, lines.rangeAt(bodyOffset, bodyOffset + 1));
    return { value: null, problems: [found] };
  }
  const problems: Problem[] = [...findHiddenCharacters(text, bodyOffset, lines)];
  const gate = makeGate(text, lines, limits, problems);
  const tokens: CellToken[] = [];
  try {
    for (const token of tokenizer(body, syntaxOptions) as Iterable<Token & { value?: unknown }>) {
      tokens.push({ type: token.type, value: token.value, from: token.start + bodyOffset, to: token.end + bodyOffset });
      // One token is checked when the next is known, since a word before a colon is a key.
      if (tokens.length > 1 && !gate(tokens, tokens.length - 2)) return { value: null, problems };
    }
  } catch (error) {
    problems.push(syntaxProblem(error, text, bodyOffset, lines));
    return { value: null, problems };
  }
  if (tokens.length > 0) gate(tokens, tokens.length - 1);
  problems.push(...findLookAlikes(tokens.filter((token) => token.type === tokTypes.name).map(({ value, from, to }) => ({ name: String(value), from, to })), lines));
  return { value: problems.some((found) => found.severity === "error") ? null : tokens, problems };
}

/**
 * What acorn says about text it cannot read, as a problem at the place it names; a full stack, should any text pass
 * the gate that fills it, as text that is too deep. Anything else is thrown on.
 */
export function syntaxProblem(error: unknown, text: string, bodyOffset: number, lines: LineTable): Problem {
  if (error instanceof RangeError) {
    return problem("query.too-deep", { what: "operators, members and calls in one expression", most: longestRun }, lines.rangeAt(bodyOffset, text.length));
  }
  if (!(error instanceof SyntaxError)) throw error;
  const at = bodyOffset + ((error as { pos?: number }).pos ?? 0);
  const found = /^(?:[\p{L}\p{N}_$]+|[^\s])/u.exec(text.slice(at))?.[0] ?? "";
  const reason = error.message.replace(/\s*\(\d+:\d+\)$/, "").toLowerCase();
  // At the end there is nothing to mark, so the last character before it is.
  const from = found === "" ? Math.max(bodyOffset, text.trimEnd().length - 1) : at;
  const { fix, instead } = syntaxMeant({ text, bodyOffset, at, lines });
  return problem("query.syntax", { found, reason, instead }, lines.rangeAt(from, from + Math.max(1, found.length)), fix === undefined ? {} : { fix });
}

/** Returns a function that checks one token in its surroundings; false when reading on would be pointless. */
function makeGate(text: string, lines: LineTable, limits: Limits, problems: Problem[]): (tokens: readonly CellToken[], index: number) => boolean {
  const runs = [0];
  let refused = 0;
  let run = 0;
  /** The brackets that were open where the text with holes began that is being read; `null` outside of one. */
  let textDepth: number | null = null;

  function refuse(token: CellToken, code: "query.too-deep", what: string, most: number): false {
    problems.push(problem(code, { what, most }, lines.rangeAt(token.from, token.to)));
    return false;
  }

  return (tokens, index) => {
    const token = tokens[index]!;
    const { type } = token;
    if (index >= limits.nodes) return refuse(token, "query.too-deep", "words and signs", limits.nodes);
    if (lengthening.has(type) || continues(tokens, index)) {
      run++;
      runs[runs.length - 1]!++;
      if (run > longestRun) return refuse(token, "query.too-deep", "operators, members and calls in one expression", longestRun);
    }
    if (openers.has(type)) {
      if (runs.length > limits.depth) return refuse(token, "query.too-deep", "brackets inside one another", limits.depth);
      runs.push(0);
    } else if (closers.has(type)) {
      if (runs.length > 1) run -= runs.pop()!;
    } else if (type === tokTypes.comma || type === tokTypes.semi || type === tokTypes._const) {
      run -= runs[runs.length - 1]!;
      runs[runs.length - 1] = 0;
    }
    const reason = type === tokTypes.backQuote ? backQuote(tokens, index) : refusal(text, tokens, index, runs.length - 1, lines);
    if (reason !== null) {
      const fix = reason.fix ?? tokenFix(text, tokens, index, runs.length - 1, lines);
      problems.push(fix === undefined ? reason : { ...reason, fix });
      refused++;
    }
    // After text of another lexical kind the tokens that follow cannot be trusted.
    const lost = type === tokTypes.regexp || (type === tokTypes.backQuote && reason !== null);
    return !lost && refused < mostProblems;
  };

  /** One level of text`…` is let through: the name `text` by itself opens it, and nothing inside a hole opens another. */
  function backQuote(tokens: readonly CellToken[], index: number): Problem | null {
    const token = tokens[index]!;
    const depth = runs.length;
    if (textDepth === depth) {
      textDepth = null;
      return null;
    }
    const tag = tokens[index - 1];
    const isTagged = tag?.type === tokTypes.name && text.slice(tag.from, tag.to) === "text" && tokens[index - 2]?.type !== tokTypes.dot;
    if (textDepth === null && isTagged) {
      textDepth = depth;
      return null;
    }
    const instead = textDepth === null ? onlyText : "a text has no other text in it";
    return problem("query.not-allowed", { found: "`", instead }, lines.rangeAt(token.from, token.to));
  }
}

function refusal(text: string, tokens: readonly CellToken[], index: number, depth: number, lines: LineTable): Problem | null {
  const token = tokens[index]!;
  const raw = text.slice(token.from, token.to);
  const range = lines.rangeAt(token.from, token.to);
  const notAllowed = (instead: string): Problem => problem("query.not-allowed", { found: raw, instead }, range);

  if (token.type === tokTypes.name) {
    if (raw.includes("\\")) return notAllowed("write the letters of a name as they are");
    return statementWords.has(raw) && !isKeyOrMember(tokens, index) ? notAllowed(onlyExpressions) : null;
  }
  if (token.type === tokTypes.num) {
    if (typeof token.value === "bigint") return notAllowed(`write ${raw.replace(/n$/, "")}`);
    if (!Number.isFinite(token.value)) return problem("query.number", { found: raw, wanted: "a number that can be held" }, range);
    return null;
  }
  if (token.type === tokTypes.equality && (raw === "==" || raw === "!=")) {
    const use = `${raw}=`;
    const fix = { title: `Use ${use}`, edits: [{ range, text: use }] };
    return problem("query.loose-equality", { found: raw, use }, range, { fix });
  }
  if (token.type === tokTypes.prefix && raw !== "!") return notAllowed("a condition is reversed with !, a number with -");
  if (token.type === tokTypes.eq && declares(text, tokens, index - 2)) return null;
  if (token.type === tokTypes.dollarBraceL && tokens[index + 1]?.type === tokTypes.braceR) {
    return problem("query.not-a-hole", { found: "" }, lines.rangeAt(token.from, tokens[index + 1]!.to));
  }
  if (token.type === tokTypes.invalidTemplate) return unreadEscape(token.from, raw, lines);
  if (plainTypes.has(token.type)) return null;
  if (token.type.keyword !== undefined) {
    if (isKeyOrMember(tokens, index)) return null;
    // What a function gives back is wrong with the function.
    if (token.type === tokTypes._return && tokens.slice(0, index).some(({ type }) => type === tokTypes._function)) return null;
    const isFunction = token.type === tokTypes._function || (token.type === tokTypes._return && tokens[index - 2]?.type === tokTypes.arrow);
    return notAllowed(isFunction ? asRowFunction : onlyExpressions);
  }
  const meant = signMeant(text, tokens, index, depth);
  if (meant === null) return notAllowed(reasonFor.get(token.type) ?? onlyExpressions);
  const fix = { title: `Use ${meant.write}`, edits: [{ range: lines.rangeAt(meant.from, meant.to), text: meant.write }] };
  return problem("query.not-allowed", { found: raw, instead: meant.instead }, range, { fix });
}

/** True for the word before a name and `=`: `const`, or one that was said to be none. */
function declares(text: string, tokens: readonly CellToken[], index: number): boolean {
  const word = tokens[index];
  if (word === undefined || isKeyOrMember(tokens, index)) return false;
  return word.type === tokTypes._const || word.type === tokTypes._var || (word.type === tokTypes.name && text.slice(word.from, word.to) === "let");
}

/** The first backslash of a text with holes that begins no escape. */
function unreadEscape(from: number, raw: string, lines: LineTable): Problem {
  const whole = /\\(?:[^xu0-9]|x[\da-f]{2}|u[\da-f]{4}|u\{0*(?:10[\da-f]{4}|[\da-f]{1,5})\}|0(?!\d))|[^\\]/iuy;
  let at = 0;
  while (whole.test(raw)) at = whole.lastIndex;
  const found = /^.{1,3}/su.exec(raw.slice(at))?.[0] ?? raw;
  const instead = "a backslash in a text begins an escape of JavaScript, such as \\n; for a backslash write two";
  return problem("query.not-allowed", { found, instead }, lines.rangeAt(from + at, from + at + found.length));
}

/** True when the word at `index` is a member (`d.class`) or a key (`{ new: … }`), where any word may stand. */
function isKeyOrMember(tokens: readonly CellToken[], index: number): boolean {
  const before = tokens[index - 1]?.type;
  if (before === tokTypes.dot) return true;
  return (before === tokTypes.braceL || before === tokTypes.comma) && tokens[index + 1]?.type === tokTypes.colon;
}
