import type { OptionValue, OptionValues, RunContext } from "../query/vocabulary";
import { headDefaults } from "../session/head-defaults";
import type { HeadKind, SessionFacts } from "../session/session-facts";
import type { ColumnSchema, Schema } from "../table/schema";
import { numberFacts } from "../table/schema";
import type { NumberColumn } from "../table/table";
import type { Measure } from "../units";
import { convertDifference, isConvertible } from "../units";
import { shotColumnFacts } from "../table/shot-columns";
import type { Refused } from "./verb-problem";
import { refuse } from "./verb-problem";

/** A margin in the unit of its column, and who chose it. */
export interface Margin {
  readonly value: number;
  /** As it was given, in the unit in which it was given; `null` for a plain number. */
  readonly stated: Measure | null;
  readonly chosenBy: "option" | "notebook" | "session" | "default";
}

/**
 * The margin of a column: of the option, else of the notebook, else of the sessions, else the default for the kind of
 * head, the smallest where kinds are mixed. Where the notebook or a session states a margin that cannot be read, what
 * comes after it does not stand in.
 *
 * @returns the margin, above 0, in the column's unit; or the problem for which there is none.
 */
export function marginFor(
  column: NumberColumn,
  option: OptionValue | undefined,
  context: Pick<RunContext, "margins" | "marginsUnread">,
  sessions: readonly SessionFacts[],
): Margin | Refused {
  if (typeof option === "number") return positive({ value: option, stated: null, chosenBy: "option" }, String(option));
  if (isMeasure(option)) return fitting(column, option, "option");
  const { name } = column;
  if (Object.hasOwn(context.margins, name)) return fitting(column, context.margins[name]!, "notebook");
  if (context.marginsUnread === true) return unread("the notebook's front matter", column);
  const stated = sessions.filter((session) => Object.hasOwn(session.margins, name)).map((session) => session.margins[name]!);
  if (stated.length > 0) {
    const margins = [...new Set(stated.map(inWords))];
    return margins.length > 1 ? refuse("margin", "trade.margins-differ", { column: name, margins }) : fitting(column, stated[0]!, "session");
  }
  const unreadIn = sessions.filter((session) => session.marginsUnread === true).map((session) => session.name);
  if (unreadIn.length > 0) return unread(`the session ${unreadIn.join(", ")}`, column);
  return defaultFor(column, sessions) ?? refuse("of", "trade.no-margin", noMargin(column));
}

/**
 * The problem of a column that can have no margin but that of the option, where that is left out: no notebook or session
 * states one for it, and no kind of head has a default. `null` where there may be one.
 */
export function missingMargin(input: Schema, values: OptionValues): Refused | null {
  const column = input.columns.find(({ name }) => name === values["of"]);
  if (column?.kind !== "number" || values["margin"] !== undefined || hasQuantity(column.name)) return null;
  return refuse("of", "trade.no-margin", noMargin(column));
}

/** True for the columns of which a notebook or a session can state a margin. */
function hasQuantity(name: string): boolean {
  return (shotColumnFacts(name)?.quantity ?? null) !== null;
}

function noMargin(column: NumberColumn | ColumnSchema): { column: string; unit: string; example: number; inFrontMatter: boolean; known: readonly string[] } {
  const { name, unit } = column;
  return { column: name, unit: unit ?? "", example: exampleMargin(column), inFrontMatter: hasQuantity(name), known: Object.keys(headDefaults.iron.margins) };
}

/**
 * A margin for an example: 1 in the column's unit. Without a unit a round number of the size of a sixtieth of what is
 * plausible, or of what is there; 1 where the column spans nothing.
 */
export function exampleMargin(column: NumberColumn | ColumnSchema): number {
  if (column.unit !== null) return 1;
  const found = column.values instanceof Float64Array ? numberFacts(column.values).range : (column as ColumnSchema).range;
  const [least, most] = shotColumnFacts(column.name)?.range ?? [found?.low ?? 0, found?.high ?? 0];
  const size = Number(((most - least) / 60).toPrecision(1));
  return Number.isFinite(size) && size > 0 ? size : 1;
}

function unread(where: string, column: NumberColumn): Refused {
  return refuse("margin", "trade.margin-unread", { where, unit: column.unit ?? "", example: exampleMargin(column) });
}

/** The default margin for the kinds of head that the sessions list, irons where they list none. */
function defaultFor(column: NumberColumn, sessions: readonly SessionFacts[]): Margin | null {
  const { unit, name } = column;
  const listed = new Set<HeadKind>(sessions.flatMap((session) => session.heads.map((head) => head.kind)));
  const kinds: readonly HeadKind[] = listed.size === 0 ? ["iron"] : [...listed];
  const margins = kinds.flatMap((kind) => (Object.hasOwn(headDefaults[kind].margins, name) ? headDefaults[kind].margins[name]! : []));
  if (unit === null || margins.length < kinds.length || margins.some((margin) => !isConvertible(margin.unit, unit))) return null;
  const inUnit = (margin: Measure): number => convertDifference(margin.value, margin.unit, unit);
  const stated = margins.reduce((least, margin) => (inUnit(margin) < inUnit(least) ? margin : least));
  return { value: inUnit(stated), stated, chosenBy: "default" };
}

function fitting(column: NumberColumn, measure: Measure, chosenBy: Margin["chosenBy"]): Margin | Refused {
  const margin = inWords(measure);
  if (column.unit === null || !isConvertible(measure.unit, column.unit)) {
    const where = chosenBy === "option" ? "the option" : `the ${chosenBy}`;
    return refuse("margin", "trade.margin-unit", { margin, column: column.name, unit: column.unit ?? "no unit", where });
  }
  return positive({ value: convertDifference(measure.value, measure.unit, column.unit), stated: measure, chosenBy }, margin);
}

function positive(margin: Margin, asGiven: string): Margin | Refused {
  return margin.value > 0 ? margin : refuse("margin", "trade.bad-margin", { margin: asGiven });
}

function inWords(measure: Measure): string {
  return `${measure.value} ${measure.unit}`;
}

function isMeasure(value: OptionValue | undefined): value is Measure {
  return typeof value === "object" && !Array.isArray(value);
}
