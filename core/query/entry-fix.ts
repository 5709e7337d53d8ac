import { parseMeasure } from "../units";
import type { Change, SyntaxStop } from "./syntax-stop";

/** UTF-16 units before a stop that are looked at. */
const longest = 200;

const word = String.raw`[\p{ID_Start}_$][\p{ID_Continue}$]*`;

/** What can stand on a side of `between`: a column or constant, or a number. */
const operand = String.raw`(?:${word}(?:\.${word})*|-?\d+(?:\.\d+)?)`;

/** `{ of "carry" }`: with the colon behind the name. */
export function colonInEntry({ text, at }: SyntaxStop): Change | null {
  const before = new RegExp(`[{,]\\s*(?:${word}|"[^"\\\\\\n]*")(\\s+)$`, "u").exec(text.slice(Math.max(0, at - longest), at));
  if (before === null) return null;
  const end = at - before[1]!.length;
  return { title: "Write a colon behind the name", edits: [{ from: end, to: end, text: ":" }], instead: "an entry between braces is a name, a colon and a value" };
}

/** `{ op.mean("carry") }`: with a name for the new column, which a person may want otherwise. */
export function namedAggregate({ text, at }: SyntaxStop): Change | null {
  const before = /[{,]\s*op$/u.exec(text.slice(Math.max(0, at - longest), at));
  const call = /^\.([a-z_]+)\(\s*(?:["']([\p{ID_Start}_][\p{ID_Continue}]*)["'])?/u.exec(text.slice(at, at + longest));
  if (before === null || call === null) return null;
  const name = call[2] === undefined ? call[1]! : `${call[1]!}_${call[2]}`;
  return { title: `Name it ${name}`, edits: [{ from: at - 2, to: at - 2, text: `${name}: ` }], instead: `give the new column a name and a colon: { ${name}: op.${call[1]!}(…) }`, byPerson: true };
}

/** `d.carry between 3 and 4`: as two comparisons. */
export function betweenBounds({ text, at }: SyntaxStop): Change | null {
  const [whole, low, high] = new RegExp(`^between\\s+(${operand})\\s+and\\s+(${operand})(?=\\s*(?:$|[),;}\\]]|&&|\\|\\|))`, "iu").exec(text.slice(at, at + longest)) ?? [];
  if (whole === undefined) return null;
  const instead = "a value between two others is compared with each: d.carry >= 100 && d.carry <= 150";
  const before = new RegExp(`(?:[(,:]|=>|&&|\\|\\|)\\s*(${operand})\\s*$`, "u").exec(text.slice(Math.max(0, at - longest), at))?.[1];
  if (before === undefined) return { title: "", edits: [], instead };
  return { title: "Write it as two comparisons", edits: [{ from: at, to: at + whole.length, text: `>= ${low!} && ${before} <= ${high!}` }], instead };
}

/** A number with a unit and no quotes, in a calculation: numbers are in the unit of the column that they meet. */
export function unitInCalculation({ text, at }: SyntaxStop): Change | null {
  const number = /\d+(?:\.\d+)?\s*$/u.exec(text.slice(Math.max(0, at - longest), at))?.[0].trim();
  const unit = /^[\p{L}\u00b0%]+(?:\/[\p{L}]+)?/u.exec(text.slice(at, at + longest))?.[0];
  if (number === undefined || unit === undefined || parseMeasure(`${number} ${unit}`) === undefined) return null;
  return { title: "", edits: [], instead: `beside a column a number is in the column's unit and has none of its own: ${number}; where an option takes a unit it is written in quotes: "${number} ${unit}"` };
}
