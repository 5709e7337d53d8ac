import { oneOf } from "../problem-kind";
import type { Schema } from "../table/schema";
import type { Unit } from "../units";
import { convert, isConvertible, measuredBy, parseUnit, unitsBeside } from "../units";
import { plainText } from "./check-literal";
import type { RowSurroundings } from "./check-row";
import type { Entry, Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";
import type { Window, WrittenWindow } from "./window";
import { readWindow } from "./window";

/**
 * Windows of columns, `{ launch_angle: "14 to 18 deg" }`, each in the unit of its column; `null` when one is wrong, which
 * was reported.
 */
export function checkWindows(node: Syntax, input: Schema, around: RowSurroundings): readonly Window[] | null {
  const { reporter } = around;
  if (node.kind !== "object" || node.entries.length === 0) {
    const found = node.kind === "object" ? "an empty object" : syntaxInWords(node);
    reporter.say("query.expected", { wanted: 'an object of windows by column: { launch_angle: "14 to 18 deg" }', found }, node);
    return null;
  }
  const windows = node.entries.map((entry) => checkWindow(entry, input, around));
  return windows.includes(null) ? null : (windows as readonly Window[]);
}

function checkWindow(entry: Entry, input: Schema, around: RowSurroundings): Window | null {
  const { reporter, constants } = around;
  const { name: column, nameSpan, value: node } = entry;
  const known = input.columns.find((each) => each.name === column);
  if (known === undefined && !input.open) {
    const candidates = input.columns.filter((each) => each.kind === "number").map((each) => each.name);
    reporter.unknown("query.unknown-column", column, nameSpan, candidates);
    return null;
  }
  if (known !== undefined && known.kind !== "number") {
    reporter.say("query.column-kind", { name: column, kind: known.kind === "text" ? "text" : "truth values", wanted: "numbers" }, nameSpan);
    return null;
  }
  const text = plainText(node, constants);
  const written = text === undefined ? null : readWindow(text);
  const unit = known?.unit ?? null;
  if (written === null) {
    const found = text === undefined ? syntaxInWords(node) : JSON.stringify(text);
    const last = unit === null ? "" : ` ${unit}`;
    reporter.say("query.expected", { wanted: `a window in quotes, such as "10 to 20${last}", "from 10${last}" or "up to 20${last}"`, found }, node);
    return null;
  }
  const bounds = known === undefined ? null : boundsIn({ name: column, unit }, written, text!, node, around);
  if (known === undefined) return { column, from: written.from?.value ?? null, to: written.to?.value ?? null, unit };
  if (bounds === null) return null;
  const { from, to } = bounds;
  if (from !== null && to !== null && from >= to) {
    const swapped = from === to ? null : /^\s*(\S+)(\s+to\s+)(\S+)(.*)$/iu.exec(text!);
    const turned = swapped === null ? null : `${swapped[3]!}${swapped[2]!}${swapped[1]!}${swapped[4]!}`;
    reporter.say("query.window-crossed", { window: text! }, node, turned === null || readWindow(turned) === null ? undefined : reporter.replacing(`Write "${turned}"`, node, JSON.stringify(turned)));
    return null;
  }
  return { column, from, to, unit };
}

/** The bounds in the column's unit; `null` when theirs is none, an unknown one or one of something else. */
function boundsIn(
  { name: column, unit }: { readonly name: string; readonly unit: Unit | null },
  written: WrittenWindow,
  text: string,
  node: Syntax,
  around: RowSurroundings,
): { readonly from: number | null; readonly to: number | null } | null {
  const { reporter } = around;
  const values: (number | null)[] = [];
  for (const bound of [written.from, written.to]) {
    const own = bound === null || bound.unit === "" ? null : parseUnit(bound.unit);
    if (bound === null) values.push(null);
    else if (own === undefined) {
      const wanted = unit === null ? "a window without a unit, as the column has none" : `a window in ${unit}, such as "10 to 20 ${unit}"`;
      reporter.say("query.expected", { wanted, found: JSON.stringify(text) }, node);
      return null;
    } else if (own === null && unit !== null) {
      const fix = reporter.replacing(`Write "${text.trim()} ${unit}"`, node, JSON.stringify(`${text.trim()} ${unit}`));
      reporter.say("query.missing-unit", { found: text.trim(), unit }, node, fix);
      return null;
    } else if (own !== null && (unit === null || !isConvertible(own, unit))) {
      reporter.say("query.unit-mismatch", { left: own, what: `a window of ${column}`, ...wantedIn(unit) }, node);
      return null;
    } else values.push(own === null || unit === null ? bound.value : convert(bound.value, own, unit));
  }
  return { from: values[0]!, to: values[1]! };
}

/** What a value of a column is, and the units in which it can be written. */
export function wantedIn(unit: Unit | null): { readonly wanted: string; readonly units: string } {
  return unit === null ? { wanted: "a plain number", units: "" } : { wanted: measuredBy(unit), units: oneOf(unitsBeside(unit)) };
}
