import { tokTypes, type TokenType } from "acorn";
import type { Fix } from "../problem";
import type { LineTable } from "../text-position";
import { functionFix, returnFix } from "./function-fix";

/** A token as far as its fix depends on it. */
interface FixedToken {
  readonly type: TokenType;
  readonly value: unknown;
  readonly from: number;
  readonly to: number;
}

/** Something that is reached by its name: `d.carry`, `d["Ball speed"]`, `limit`. */
const path = String.raw`(?:(?!(?:const|delete|function|let|new|return|typeof|var|void)\b)[\p{ID_Start}_$][\p{ID_Continue}$]*(?:\.[\p{ID_Start}_$][\p{ID_Continue}$]*|\["[^"\\\n]*"\])*)`;
const plain = String.raw`(?:-?\d+(?:\.\d+)?|"[^"\\\n]*"|'[^'\\\n]*'|null|true|false)`;

/** UTF-16 units in which an operand has to end. */
const longestOperand = 200;

/** Signs between which an operand stands alone, whatever binds more tightly. */
const alone = { before: String.raw`(?:^|[(,:{\[]|=>|[?:]|&&|\|\|)\s*`, after: String.raw`\s*(?:$|[),:;}\]]|&&|\|\|)` };

/**
 * What stands in place of a token that a cell cannot contain, where one answer is obvious; `undefined` where none is.
 *
 * @param text the whole cell's text; the tokens are those up to and with the one at `index`, and perhaps the next.
 * @param depth the brackets that are open before the token.
 */
export function tokenFix(text: string, tokens: readonly FixedToken[], index: number, depth: number, lines: LineTable): Fix | undefined {
  const token = tokens[index]!;
  const raw = text.slice(token.from, token.to);
  const replacing = (by: string, from = token.from, to = token.to): Fix => ({ title: by === "" ? "Remove it" : `Use ${by.trim()}`, edits: [{ range: lines.rangeAt(from, to), text: by }] });
  switch (token.type) {
    case tokTypes.bitwiseAND:
      return replacing("&&");
    case tokTypes.bitwiseOR:
      // Where no condition can stand, a sign between them is none.
      return depth > 0 && !/^>?\s*[\p{ID_Start}_$][\p{ID_Continue}$]*\s*\(/u.test(text.slice(token.to).trimStart()) ? replacing("||") : undefined;
    case tokTypes.questionDot:
      return replacing(/^\s*[([]/u.test(text.slice(token.to)) ? "" : ".");
    case tokTypes.coalesce:
      return call("op.if_missing", alone);
    case tokTypes.starstar:
      return call("op.pow", { before: String.raw`(?:^|[^\p{ID_Continue}$.)\]"'*-]\s*)`, after: String.raw`(?![\p{ID_Continue}$.([]|\s*\*\*)` });
    case tokTypes.eq: {
      if (raw !== "=" || tokens[index - 1] === undefined) return undefined;
      if (depth > 0) return replacing("===");
      const name = tokens[index - 1]!;
      const before = tokens[index - 2]?.type;
      const begins = before === undefined || before === tokTypes.semi || /\n\s*$/u.test(text.slice(tokens[index - 2]!.to, name.from));
      return begins && name.type === tokTypes.name ? { title: "Write const before the name", edits: [{ range: lines.rangeAt(name.from, name.from), text: "const " }] } : undefined;
    }
    case tokTypes._function:
      return functionFix(text, token.from, lines);
    case tokTypes._return:
      return returnFix(text, token.from, lines);
    case tokTypes._var:
      return replacing("const");
    case tokTypes.name:
      if (raw === "let") return replacing("const");
      return raw.includes("\\") && typeof token.value === "string" ? replacing(token.value) : undefined;
    case tokTypes.num:
      return /^\d+n$/u.test(raw) ? replacing(raw.slice(0, -1)) : undefined;
    case tokTypes.backQuote: {
      const whole = /^`([^`\\$\r\n]*)`/u.exec(text.slice(token.from));
      return whole === null || /[\p{ID_Continue}$)\]]\s*$/u.test(text.slice(0, token.from)) ? undefined : replacing(JSON.stringify(whole[1]!), token.from, token.from + whole[0].length);
    }
    default:
      return undefined;
  }

  /** The operands beside an operator as the arguments of a function, where both are plain. */
  function call(name: string, { before, after }: { readonly before: string; readonly after: string }): Fix | undefined {
    const begin = tokens[0]!.from;
    const start = Math.max(begin, token.from - longestOperand);
    const beside = new RegExp(`${before}(${path})\\s*$`, "u").exec(text.slice(start, token.from));
    const left = beside === null || (beside.index === 0 && start > begin) ? undefined : beside[1];
    const right = new RegExp(`^\\s*(${path}|${plain})(?=${after})`, "u").exec(text.slice(token.to));
    if (left === undefined || right === null) return undefined;
    const from = text.slice(0, token.from).trimEnd().length - left.length;
    return replacing(`${name}(${left}, ${right[1]!})`, from, token.to + right[0].length);
  }
}
