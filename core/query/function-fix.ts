import type { Fix } from "../problem";
import type { LineTable } from "../text-position";
import { bracketsMatch } from "./list-fixes";

/** The expression that a pair of braces with `return` gives, up to its closing brace; nothing with other statements, texts with braces or comments. */
const returned = String.raw`\{\s*return\s+((?:[^{};"'\x60\/]|"[^"\\\n{};]*"|'[^'\\\n{};]*'|\/(?![\/*]))+?)\s*;?\s*\}`;

const wholeFunction = new RegExp(String.raw`^function\s*(?:[\p{ID_Start}_$][\p{ID_Continue}$]*\s*)?\(\s*([\p{ID_Start}_$][\p{ID_Continue}$]*)\s*\)\s*${returned}`, "u");

const wholeBraces = new RegExp(`^${returned}`, "u");

/** UTF-16 units in which a function has to end. */
const longest = 2000;

/** `function (d) { return d.carry > 150; }` at `from` as a row function; `undefined` where it says more. */
export function functionFix(text: string, from: number, lines: LineTable): Fix | undefined {
  const [whole, row, value] = wholeFunction.exec(text.slice(from, from + longest)) ?? [];
  return whole === undefined || !isOne(value!) ? undefined : { title: `Write ${row!} => …`, edits: [{ range: lines.rangeAt(from, from + whole.length), text: `${row!} => ${value!}` }] };
}

/** `{ return d.carry > 150; }` behind an arrow, its `return` at `from`, as the value alone; `undefined` where it says more. */
export function returnFix(text: string, from: number, lines: LineTable): Fix | undefined {
  const opening = /=>\s*(\{\s*)$/u.exec(text.slice(Math.max(0, from - 200), from))?.[1];
  if (opening === undefined) return undefined;
  const start = from - opening.length;
  const [whole, value] = wholeBraces.exec(text.slice(start, start + longest)) ?? [];
  return whole === undefined || !isOne(value!) ? undefined : { title: "Write the value without return", edits: [{ range: lines.rangeAt(start, start + whole.length), text: value! }] };
}

/** True for one expression: brackets of it match, and no comma stands outside of them. */
function isOne(value: string): boolean {
  let outside = value.replace(/"[^"]*"|'[^']*'/gu, "");
  for (let before = ""; before !== outside; ) [before, outside] = [outside, outside.replace(/\([^()]*\)|\[[^[\]]*\]/gu, "")];
  return bracketsMatch(value) && !outside.includes(",");
}
