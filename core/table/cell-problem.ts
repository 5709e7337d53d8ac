import type { Problem } from "../problem";
import { problem } from "../problem";
import { shown } from "../problem-kind";
import type { DelimitedText } from "./delimited-text";
import { fieldRange, fieldText } from "./delimited-text";
import type { NumberForm } from "./read-number";
import { readNumber } from "./read-number";
import { shotColumnFacts } from "./shot-columns";

/**
 * The problem of a field that is not the number its column wants.
 *
 * @param name the column's name for the message.
 * @throws {RangeError} when the field holds a number or is missing.
 */
export function cellProblem(text: DelimitedText, row: number, column: number, form: NumberForm, name: string): Problem {
  const written = fieldText(text, row, column);
  const range = fieldRange(text, row, column);
  const reading = written === null ? null : readNumber(written, form);
  if (written === null || reading?.kind !== "wrong") throw new RangeError(`the field ${String(written)} has nothing wrong with it`);
  const shownText = written.trim();
  const { direction = null } = shotColumnFacts(name) ?? {};
  // What stands behind a number may be its side, and then the number alone is the wrong answer.
  const instead = reading.wrong === "not a number" && direction !== null && /\p{L}/u.test(shownText) ? undefined : reading.instead;
  const directions = direction !== null && form.sides === null ? { directions: direction } : {};
  const mends = instead === undefined ? {} : { mends: [{ range, text: instead.includes(text.delimiter) ? `"${instead}"` : instead }] };
  switch (reading.wrong) {
    case "not a number":
      return problem("value.not-a-number", { text: shownText, column: name, ...(instead === undefined ? {} : { instead }), ...directions }, range, mends);
    case "thousands":
      return problem("value.thousands-separator", { text: shownText, column: name, instead: instead ?? "" }, range);
    case "precision":
      return problem("value.precision-loss", { text: shownText, column: name, kept: false }, range);
    case "unit": {
      const facts = { column: name, found: reading.unit ?? "", expected: form.unit ?? "", where: `the value ${shown(shownText)}`, whole: false };
      return problem("schema.unit", facts, range);
    }
    case "no side":
    case "sign and side":
      return problem("value.side", { text: shownText, column: name, sides: form.sides === null ? [] : [form.sides.positive, form.sides.negative] }, range);
  }
}
