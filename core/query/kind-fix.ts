import type { Fix } from "../problem";
import { convert, isConvertible, parseMeasure } from "../units";
import type { Reporter } from "./reporter";
import type { RowExpression } from "./row-expression";
import { typeInWords } from "./row-units";
import type { Syntax } from "./syntax";

type Constant = Extract<RowExpression, { kind: "constant" }>;

/** Reports two sides of a comparison that are of different kinds, at the constant where one of them is that. */
export function sayKinds({ operator, operatorSpan }: Extract<Syntax, { kind: "binary" }>, left: RowExpression, right: RowExpression, reporter: Reporter): void {
  const isLeft = left.kind === "constant";
  const [wrong, other] = isLeft || right.kind !== "constant" ? [left, right] : [right, left];
  const what = `the ${wrong === left ? "left" : "right"} of ${operator}`;
  const isPlain = wrong.kind === "constant" && other.kind !== "constant";
  const fix = isPlain ? kindFix(wrong, other, reporter) : undefined;
  reporter.say("query.kind", { what, found: typeInWords(wrong.type), wanted: typeInWords(other.type) }, isPlain ? wrong : operatorSpan, fix);
}

/** A constant compared with a value of another kind: its quotes added or taken away, or its number in the value's unit. */
function kindFix(constant: Constant, { type }: RowExpression, reporter: Reporter): Fix | undefined {
  const write = (text: string): Fix => reporter.replacing(`Write ${text}`, constant, text);
  const written = constant.value;
  // A constant of the cell is used by its name, and may be used elsewhere.
  if (/^[\p{ID_Start}_$]/u.test(reporter.textOf(constant)) && typeof written !== "boolean") return undefined;
  if (type.kind === "text") return typeof written === "number" ? write(JSON.stringify(reporter.textOf(constant))) : undefined;
  if (typeof written !== "string") return undefined;
  const text = written.trim();
  if (type.kind === "truth") return text === "true" || text === "false" ? write(text) : undefined;
  if (type.kind !== "number") return undefined;
  if (/^-?\d+(?:\.\d+)?$/u.test(text)) return write(text);
  const measure = parseMeasure(text);
  if (measure === undefined || type.unit === null || !isConvertible(measure.unit, type.unit)) return undefined;
  // Ten digits are more than any launch monitor gives.
  return write(String(Number(convert(measure.value, measure.unit, type.unit).toPrecision(10))));
}
