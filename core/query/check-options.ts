import { closestName } from "../closest-name";
import type { Fix } from "../problem";
import type { Schema } from "../table/schema";
import { shotColumnFacts } from "../table/shot-columns";
import { isConvertible, parseMeasure, type Unit, unitFor } from "../units";
import { plainNumber, plainText, plainValue } from "./check-literal";
import { checkColumnName } from "./check-column";
import { saidSeveral } from "./column-fixes";
import type { RowSurroundings } from "./check-row";
import { checkWindows, wantedIn } from "./check-windows";
import { optionsFix } from "./options-fix";
import type { Entry, Span, Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";
import type { Option, Options, OptionValue, OptionValues } from "./vocabulary";

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
    reporter.say("query.expected", { wanted: `an object of options: { ${Object.keys(options)[0] ?? ""}: … }`, found: syntaxInWords(node) }, node, optionsFix([node], options, input, reporter));
    return null;
  }
  const entries = node?.entries ?? [];
  let complete = true;
  const misnamed = misnamedOptions(entries, options);
  for (const [name, option] of Object.entries(options)) {
    if (!option.required || entries.some((entry) => entry.name === name)) continue;
    complete = false;
    // One that is called otherwise is not left out.
    if (misnamed.required.has(name)) continue;
    reporter.say("query.missing-argument", { call: call.name, argument: name, help: `${name}: ${option.help}` }, node ?? call.span);
  }
  const values: [string, OptionValue][] = [];
  // A measure is checked after the columns whose unit it must have.
  const order = (entry: Entry): number => (Object.hasOwn(options, entry.name) && options[entry.name]!.kind === "measure" ? 1 : 0);
  for (const entry of [...entries].sort((a, b) => order(a) - order(b))) {
    if (!Object.hasOwn(options, entry.name)) {
      reporter.unknown("query.unknown-option", entry.name, entry.nameSpan, misnamed.candidates);
      complete = false;
      continue;
    }
    const value = checkOption(options, entry, input, { values: new Map(values), written: new Set(entries.map((each) => each.name)) }, around);
    if (value === null) complete = false;
    else values.push([entry.name, value]);
  }
  return complete ? Object.fromEntries(values) : null;
}

/** What entries that are no options can have been meant to be, and which required options that leaves nobody to say are missing. */
function misnamedOptions(entries: readonly Entry[], options: Options): { readonly candidates: readonly string[]; readonly required: ReadonlySet<string> } {
  const free = Object.keys(options).filter((name) => entries.every((entry) => entry.name !== name));
  const candidates = free.length === 0 ? Object.keys(options) : free;
  const missing = free.filter((name) => options[name]!.required);
  const unknown = entries.filter(({ name }) => !Object.hasOwn(options, name));
  const nearest = unknown.map(({ name }) => closestName(name, candidates));
  const unclear = nearest.filter((name) => name === null).length;
  const taken = missing.filter((name) => nearest.includes(name));
  const others = missing.filter((name) => !taken.includes(name)).slice(0, unclear);
  return { candidates, required: new Set([...taken, ...others]) };
}

/** The options beside one: their values so far, and the names of all. */
interface Given {
  readonly values: ReadonlyMap<string, OptionValue>;
  readonly written: ReadonlySet<string>;
}

function checkOption(
  options: Options,
  entry: Entry,
  input: Schema,
  given: Given,
  around: RowSurroundings,
): OptionValue | null {
  const { reporter, constants } = around;
  const node = entry.value;
  const option = options[entry.name]!;
  const wrong = (wanted: string): null => {
    const instead = valueMeant(option, node);
    reporter.say("query.expected", { wanted, found: syntaxInWords(node) }, node, instead === null ? undefined : reporter.replacing(`Write ${instead}`, node, instead));
    return null;
  };
  switch (option.kind) {
    case "column":
      return checkColumnName(node, option.of, input, around);
    case "columns": {
      const items = node.kind === "list" ? node.items : [node];
      const write = (names: string): string => (node.kind === "list" ? names : `[${names}]`);
      const names = items.map((item) => (saidSeveral(item, input, around, write) ? null : checkColumnName(item, option.of, input, around)));
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
      const wanted = option.whole ? `a whole number${wholeBounds(option.above, option.below)}` : `a number${boundsInWords(option.above, option.below)}`;
      if (value === undefined) return wrong(wanted);
      if (value > option.above && value < option.below && (!option.whole || Number.isInteger(value))) return value;
      // A share is often written in per cent.
      const share = value / 100;
      const isShare = !option.whole && value > 1 && option.above >= 0 && option.below <= 1 && share > option.above && share < option.below;
      const fix = isShare ? reporter.replacing(`Write ${share}`, node, String(share)) : undefined;
      reporter.say("query.number", { found: String(value), wanted, ...(isShare ? { instead: String(share) } : {}) }, node, fix);
      return null;
    }
    case "measure":
      return checkMeasure(entry, columnsMeant(option, options, given), input, around);
    case "quantity":
      return checkQuantity(entry, option, around);
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

/** What stands there with its quotes added or taken away, where it is then a value that the option can have; `null` otherwise. */
function valueMeant(option: Option, node: Syntax): string | null {
  const text = node.kind === "text" ? node.value.trim() : null;
  switch (option.kind) {
    case "choice":
      return node.kind === "name" && option.choices.includes(node.name) ? JSON.stringify(node.name) : null;
    case "number":
      return text !== null && /^-?\d+(?:\.\d+)?$/u.test(text) && Number(text) > option.above && Number(text) < option.below ? text : null;
    case "truth":
      return text === "true" || text === "false" ? text : null;
    default:
      return null;
  }
}

/** A number in quotes without the unit that it needs: with it. */
function withUnit(text: string | undefined, unit: Unit | undefined, node: Syntax, reporter: RowSurroundings["reporter"]): Fix | undefined {
  if (text === undefined || unit === undefined || !/^\s*-?\d+(?:\.\d+)?\s*$/u.test(text)) return undefined;
  return reporter.replacing(`Write "${text.trim()} ${unit}"`, node, JSON.stringify(`${text.trim()} ${unit}`));
}

/** A number with a unit of the option's quantity, or of one that converts to it. */
function checkQuantity({ name, value: node }: Entry, option: Extract<Option, { kind: "quantity" }>, around: RowSurroundings): OptionValue | null {
  const { reporter, constants } = around;
  const unit = parseMeasure(option.example)?.unit ?? unitFor(option.quantity, "yd-mph");
  const number = plainNumber(node, constants);
  if (number !== undefined) {
    const found = reporter.textOf(node);
    reporter.say("query.missing-unit", { found, unit }, node, reporter.replacing(`Write "${found} ${unit}"`, node, JSON.stringify(`${found} ${unit}`)));
    return null;
  }
  const text = plainText(node, constants);
  const measure = text === undefined ? undefined : parseMeasure(text);
  if (measure === undefined) {
    const found = text === undefined ? syntaxInWords(node) : JSON.stringify(text);
    reporter.say("query.expected", { wanted: `a number with its unit, such as "${option.example}"`, found }, node, withUnit(text, unit, node, reporter));
    return null;
  }
  if (isConvertible(measure.unit, unit)) return measure;
  reporter.say("query.unit-mismatch", { left: measure.unit, what: name.replaceAll("_", " "), ...wantedIn(unit) }, node);
  return null;
}

function boundsInWords(above: number, below: number): string {
  const bounds = [Number.isFinite(above) ? `above ${above}` : "", Number.isFinite(below) ? `below ${below}` : ""].filter((part) => part !== "");
  return bounds.length === 0 ? "" : ` ${bounds.join(" and ")}`;
}

/** The bounds of whole numbers, which belong to them: ` from 1 to 50`. */
function wholeBounds(above: number, below: number): string {
  if (Number.isFinite(above) && Number.isFinite(below)) return ` from ${Math.floor(above) + 1} to ${Math.ceil(below) - 1}`;
  return boundsInWords(above, below);
}

/** The columns in whose unit a measure is: those of its option, its default where that is left out, or a column itself. */
function columnsMeant({ unitOf, unless }: Extract<Option, { kind: "measure" }>, options: Options, { values, written }: Given): readonly string[] {
  if (!Object.hasOwn(options, unitOf)) return [unitOf];
  const value = written.has(unitOf) ? values.get(unitOf) : unless;
  return typeof value === "string" ? [value] : Array.isArray(value) ? (value as readonly string[]) : [];
}

/** The unit for an example: that of the first column, as far as it is known, else the one in which it is usually shown. */
function exampleUnit(names: readonly string[], known: readonly Unit[]): Unit {
  const quantity = names.map((name) => shotColumnFacts(name)?.quantity ?? null).find((each) => each !== null);
  return known[0] ?? (quantity === undefined || quantity === null ? "yd" : unitFor(quantity, "yd-mph"));
}

/** A measure with a unit that converts to those of all `names`, or a plain number where every one of them is without a unit. */
function checkMeasure({ name: option, value: node }: Entry, names: readonly string[], input: Schema, around: RowSurroundings): OptionValue | null {
  const { reporter, constants } = around;
  const columns = names.flatMap((name) => input.columns.filter((column) => column.name === name));
  const known = columns.flatMap((column) => column.unit ?? []);
  const hasNoUnit = columns.length > 0 && known.length === 0;
  const unit = exampleUnit(names, known);
  const number = plainNumber(node, constants);
  if (number !== undefined) {
    if (hasNoUnit) return number;
    const found = reporter.textOf(node);
    const fix = known[0] === undefined ? undefined : reporter.replacing(`Write "${found} ${unit}"`, node, JSON.stringify(`${found} ${unit}`));
    reporter.say("query.missing-unit", { found, unit }, node, fix);
    return null;
  }
  const text = plainText(node, constants);
  const measure = text === undefined ? undefined : parseMeasure(text);
  if (measure === undefined) {
    const example = hasNoUnit ? "a plain number" : `a number with its unit, such as "3 ${unit}"`;
    reporter.say("query.expected", { wanted: example, found: text === undefined ? syntaxInWords(node) : JSON.stringify(text) }, node, withUnit(text, known[0], node, reporter));
    return null;
  }
  const clash = columns.find((column) => (column.unit === null ? hasNoUnit : !isConvertible(measure.unit, column.unit)));
  if (clash === undefined) return measure;
  const words = option.replaceAll("_", " ");
  const what = `a ${words}${option === clash.name ? "" : ` of ${clash.name}`}`;
  reporter.say("query.unit-mismatch", { left: measure.unit, what, ...wantedIn(clash.unit) }, node);
  return null;
}
