import type { OptionValue, OptionValues } from "../query/vocabulary";
import { headDefaults } from "../session/head-defaults";
import { headKindOf, standardMissOf } from "../session/head-kind";
import type { SessionFacts, StandardMiss } from "../session/session-facts";
import type { ColumnSchema, Schema } from "../table/schema";
import type { NumberColumn } from "../table/table";
import type { Measure } from "../units";
import { convert, convertDifference, isConvertible } from "../units";
import type { Margin } from "./margins";
import { exampleMargin } from "./margins";
import { asStated } from "./session-sentences";
import type { UsedShots } from "./used-shots";
import type { Refused } from "./verb-problem";
import { refuse } from "./verb-problem";

/** The margin of a difference of losses: of the option, else the smallest default for the kinds of head. */
export function lossMargin(column: NumberColumn, option: OptionValue | undefined, sessions: readonly SessionFacts[]): Margin | Refused {
  const { name, unit } = column;
  const stated = isMeasure(option) ? option : null;
  if (stated !== null && (unit === null || !isConvertible(stated.unit, unit))) {
    return refuse("margin", "trade.margin-unit", { margin: asStated(stated), column: name, unit: unit ?? "no unit", where: "the option" });
  }
  if (stated !== null && unit !== null) return positive({ value: convertDifference(stated.value, stated.unit, unit), stated, chosenBy: "option" }, asStated(stated));
  if (typeof option === "number") return positive({ value: option, stated, chosenBy: "option" }, String(option));
  const kinds = new Set(sessions.flatMap((session) => session.heads.map((head) => head.kind)));
  const defaults = [...(kinds.size === 0 ? (["iron"] as const) : kinds)].flatMap((kind) => (Object.hasOwn(headDefaults[kind].lossMargins, name) ? headDefaults[kind].lossMargins[name]! : []));
  if (unit === null || defaults.length === 0 || defaults.some((each) => !isConvertible(each.unit, unit))) {
    return noMargin(column);
  }
  return { value: Math.min(...defaults.map((each) => convertDifference(each.value, each.unit, unit))), stated: null, chosenBy: "default" };
}

/** The problem of a loss for which no kind of head has a default margin, where the option is left out; `null` where there may be one. */
export function missingLossMargin(input: Schema, values: OptionValues, name: string): Refused | null {
  const column = input.columns.find((each) => each.name === name);
  const hasDefault = Object.values(headDefaults).some(({ lossMargins }) => Object.hasOwn(lossMargins, name));
  return column?.kind !== "number" || values["margin"] !== undefined || hasDefault ? null : noMargin(column);
}

function noMargin(column: NumberColumn | ColumnSchema): Refused {
  return refuse("of", "trade.no-margin", { column: column.name, unit: column.unit ?? "", example: exampleMargin(column), inFrontMatter: false, known: [] });
}

function positive(margin: Margin, asGiven: string): Margin | Refused {
  return margin.value > 0 ? margin : refuse("margin", "trade.bad-margin", { margin: asGiven });
}

/** Standard misses, in mm. */
export interface Misses {
  /** One a group. */
  readonly each: readonly StandardMiss[];
  /** Who says so, in words. */
  readonly source: string;
}

/** Beyond so many mm from its centre a face is hit no more. Common practice, no source. */
const mostMiss = 40;

/** The refusal of a stated miss that is none, or off the face; `null` where both may be. */
export function missProblem(values: OptionValues): Refused | null {
  for (const name of ["miss_across", "miss_up"]) {
    const option = values[name];
    if (!isMeasure(option)) continue;
    const miss = convert(option.value, option.unit, "mm");
    if (!(miss > 0)) return refuse(name, "trade.bad-miss", { miss: String(miss) });
    if (miss > mostMiss) return refuse(name, "trade.miss-off-face", { miss: asStated(option), most: mostMiss });
  }
  return null;
}

/** How far off the standard misses of each group are: of the options, else of the sessions, else the defaults by kind of head. */
export function missesOf(values: OptionValues, used: UsedShots, by: string): Misses {
  const inMillimetres = (option: OptionValue | undefined): number | null => (isMeasure(option) ? convert(option.value, option.unit, "mm") : null);
  const [across, up] = [inMillimetres(values["miss_across"]), inMillimetres(values["miss_up"])];
  const kinds = used.groups.map((group) => headKindOf(used.sessions, by === "head" ? group : null));
  const standard = kinds.map((kind) => standardMissOf(used.sessions, kind));
  const isDefault = standard.every(({ x, y }, i) => x === headDefaults[kinds[i]!].standardMiss.x && y === headDefaults[kinds[i]!].standardMiss.y);
  const rest = isDefault ? "the default" : "those of the session";
  return {
    each: standard.map(({ x, y }) => ({ x: across ?? x, y: up ?? y })),
    source: across !== null && up !== null ? "stated here" : across === null && up === null ? rest : `stated here, else ${rest}`,
  };
}

function isMeasure(value: OptionValue | undefined): value is Measure {
  return typeof value === "object" && !Array.isArray(value);
}
