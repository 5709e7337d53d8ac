import type { Schema } from "../table/schema";
import { isConvertible, parseMeasure, type Unit } from "../units";
import { plainNumber, plainText, plainValue } from "./check-literal";
import { checkColumnName } from "./check-column";
import type { RowSurroundings } from "./check-row";
import { checkWindows } from "./check-windows";
import type { Entry, Span, Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";
import type { Options, OptionValue, OptionValues } from "./vocabulary";

/**
 * The options of a verb or a chart, checked against their table; `null` when one is wrong, which was reported.
 *
 * @param node the object between the brackets; `null` when there is none.
 * @param call the verb or chart, for messages, and where to say that an option is left out.
 */
export function checkOptions(
  node: Syntax | null,
  options: Options,
  input: Schema,
  call: { readonly name: string; readonly span: Span },
  around: RowSurroundings,
): OptionValues | null {
  const { reporter } = around;
  if (node !== null && node.kind !== "object") {
    reporter.say("query.expected", { wanted: `an object of options: { ${Object.keys(options)[0] ?? ""}: … }`, found: syntaxInWords(node) }, node);
    return null;
  }
  const entries = node?.entries ?? [];
  let complete = true;
  for (const [name, option] of Object.entries(options)) {
    if (!option.required || entries.some((entry) => entry.name === name)) continue;
    reporter.say("query.missing-argument", { call: call.name, argument: name, help: `${name}: ${option.help}` }, node ?? call.span);
    complete = false;
  }
  const values: [string, OptionValue][] = [];
  // A measure is checked after the columns whose unit it must have.
  const order = (entry: Entry): number => (Object.hasOwn(options, entry.name) && options[entry.name]!.kind === "measure" ? 1 : 0);
  for (const entry of [...entries].sort((a, b) => order(a) - order(b))) {
    if (!Object.hasOwn(options, entry.name)) {
      reporter.unknown("query.unknown-option", entry.name, entry.nameSpan, Object.keys(options));
      complete = false;
      continue;
    }
    const value = checkOption(options, entry, input, new Map(values), around);
    if (value === null) complete = false;
    else values.push([entry.name, value]);
  }
  return complete ? Object.fromEntries(values) : null;
}

function checkOption(
  options: Options,
  entry: Entry,
  input: Schema,
  given: ReadonlyMap<string, OptionValue>,
  around: RowSurroundings,
): OptionValue | null {
  const { reporter, constants } = around;
  const node = entry.value;
  const option = options[entry.name]!;
  const wrong = (wanted: string): null => {
    reporter.say("query.expected", { wanted, found: syntaxInWords(node) }, node);
    return null;
  };
  switch (option.kind) {
    case "column":
      return checkColumnName(node, option.of, input, around);
    case "columns": {
      const items = node.kind === "list" ? node.items : [node];
      const names = items.map((item) => checkColumnName(item, option.of, input, around));
      if (items.length === 0) return wrong("at least one name of a column");
      return names.includes(null) ? null : (names as readonly string[]);
    }
    case "choice": {
      const text = plainText(node, constants);
      if (text === undefined) return wrong("one of the choices in quotes");
      if (option.choices.includes(text)) return text;
      reporter.unknown("query.unknown-choice", text, node, option.choices);
      return null;
    }
    case "number": {
      const value = plainNumber(node, constants);
      const wanted = `${option.whole ? "a whole number" : "a number"}${boundsInWords(option.above, option.below)}`;
      if (value === undefined) return wrong(wanted);
      if (value > option.above && value < option.below && (!option.whole || Number.isInteger(value))) return value;
      reporter.say("query.number", { found: String(value), wanted }, node);
      return null;
    }
    case "measure":
      return checkMeasure(node, unitsOf(Object.hasOwn(options, option.unitOf) ? given.get(option.unitOf) : option.unitOf, input), around);
    case "truth": {
      const value = plainValue(node, constants);
      return typeof value === "boolean" ? value : wrong("true or false");
    }
    case "text":
      return plainText(node, constants) ?? wrong("text in quotes");
    case "windows":
      return checkWindows(node, input, around);
  }
}

function boundsInWords(above: number, below: number): string {
  if (Number.isFinite(above) && Number.isFinite(below)) return ` between ${above} and ${below}`;
  if (Number.isFinite(above)) return ` above ${above}`;
  return Number.isFinite(below) ? ` below ${below}` : "";
}

/** The units of the columns that are named; `null` stands for a column without one. */
function unitsOf(value: OptionValue | undefined, input: Schema): readonly (Unit | null)[] {
  const names = typeof value === "string" ? [value] : Array.isArray(value) ? (value as readonly string[]) : [];
  return names.flatMap((name) => input.columns.filter((column) => column.name === name).map((column) => column.unit));
}

/** A measure with a unit that converts to all of `units`, or a plain number where every column is without a unit. */
function checkMeasure(node: Syntax, units: readonly (Unit | null)[], around: RowSurroundings): OptionValue | null {
  const { reporter, constants } = around;
  const known = units.filter((unit) => unit !== null);
  const number = plainNumber(node, constants);
  if (number !== undefined) {
    if (units.length > 0 && known.length === 0) return number;
    const unit = known[0] ?? "yd";
    const found = reporter.textOf(node);
    const fix = known[0] === undefined ? undefined : reporter.replacing(`Write "${found} ${unit}"`, node, JSON.stringify(`${found} ${unit}`));
    reporter.say("query.missing-unit", { found, unit }, node, fix);
    return null;
  }
  const text = plainText(node, constants);
  const measure = text === undefined ? undefined : parseMeasure(text);
  if (measure === undefined) {
    const example = known[0] === undefined && units.length > 0 ? "a plain number" : `a number with its unit, such as "3 ${known[0] ?? "yd"}"`;
    reporter.say("query.expected", { wanted: example, found: text === undefined ? syntaxInWords(node) : JSON.stringify(text) }, node);
    return null;
  }
  const clash = known.find((unit) => !isConvertible(measure.unit, unit));
  if (clash === undefined && (units.length === 0 || known.length > 0)) return measure;
  reporter.say("query.unit-mismatch", { left: measure.unit, right: clash ?? "a column without a unit", does: "compare" }, node);
  return null;
}
