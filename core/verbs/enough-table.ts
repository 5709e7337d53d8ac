import { shotsByThumb } from "../stats/plan-pairs";
import type { PairPlan, ShotScatter } from "../stats/plan-pairs";
import type { PairShots } from "../stats/comparison";
import type { Ground } from "../stats/judge-pair";
import type { ColumnSchema } from "../table/schema";
import type { Column, NumberColumn } from "../table/table";
import { numberColumn, textColumn } from "../table/table";
import type { Unit } from "../units";
import { marginColumn } from "./margin-column";

/** One pair with its plan, or with the ground for which there is none. */
export interface PlannedPair {
  readonly shots: PairShots;
  readonly ground: Ground;
  readonly plan: PairPlan | null;
}

/** What the rows and the sentences of `enough` share. */
export interface EnoughWords {
  readonly column: NumberColumn;
  /** What the groups are: `head`. */
  readonly by: string;
  readonly groups: readonly string[];
  readonly margin: number;
  readonly confidence: number;
  readonly power: number;
  readonly orderKnown: boolean;
  /** `null` where the shots do not tell. */
  readonly scatter: ShotScatter | null;
}

/** One column: its name, and its value for each pair. A measure is in the unit of what is asked about. */
type Maker = readonly [name: string, kind: "text" | "count" | "measure", value: (pair: PlannedPair, words: EnoughWords) => string | number];

const ofPlan = (value: (plan: PairPlan) => number) => ({ plan }: PlannedPair): number => (plan === null ? Number.NaN : value(plan));
const stintsKnown = (value: (shots: PairShots) => number) => ({ shots }: PlannedPair, { orderKnown }: EnoughWords): number => (orderKnown ? value(shots) : Number.NaN);

const makers: readonly Maker[] = [
  ["head", "text", ({ shots }, { groups }) => groups[shots.of]!],
  ["against", "text", ({ shots }, { groups }) => groups[shots.against]!],
  ["of", "text", (_, { column }) => column.name],
  ["margin", "measure", (_, { margin }) => margin],
  ["detectable", "measure", ofPlan((plan) => plan.detectable)],
  ["power_now", "count", ofPlan((plan) => plan.powerNow)],
  ["shots_to_see", "count", ofPlan((plan) => plan.outlook.shots + plan.more.toSee)],
  ["shots_to_show", "count", ofPlan((plan) => plan.outlook.shots + plan.more.toShow)],
  ["more_shots", "count", ofPlan((plan) => plan.more.shots)],
  ["more_from", "count", ofPlan((plan) => plan.more.from)],
  ["more_to", "count", ofPlan((plan) => plan.more.to)],
  ["shots_independent", "count", ({ plan }, { scatter, margin }) => (plan === null || scatter === null ? Number.NaN : shotsByThumb(scatter, margin))],
  ["n", "count", ({ shots }) => shots.n],
  ["n_against", "count", ({ shots }) => shots.nAgainst],
  ["stints", "count", stintsKnown((shots) => shots.stints)],
  ["stints_against", "count", stintsKnown((shots) => shots.stintsAgainst)],
  ["standard_error", "measure", ofPlan((plan) => plan.outlook.standardError)],
  ["df", "count", ofPlan((plan) => plan.outlook.df)],
  ["stints_worth", "count", ofPlan((plan) => plan.outlook.stints)],
  ["shots_per_stint", "count", ofPlan((plan) => plan.outlook.shotsPerStint)],
  ["compared", "count", ofPlan((plan) => plan.outlook.familySize)],
  ["hit_in_turn", "count", ofPlan((plan) => plan.outlook.heads)],
  ["shots_for_verdict", "count", ofPlan((plan) => plan.outlook.shots + plan.leastMore)],
  ["confidence", "count", (_, { confidence }) => confidence],
  ["power", "count", (_, { power }) => power],
];

/** Columns that are there but not shown until asked for: what the picture is drawn from. */
export const hiddenEnough: readonly string[] = ["standard_error", "df", "stints_worth", "shots_per_stint", "compared", "hit_in_turn", "shots_for_verdict", "confidence", "power"];

/** The columns of a plan for a column with unit `unit`. */
export function enoughSchema(unit: Unit | null): readonly ColumnSchema[] {
  return makers.map(([name, kind]) => ({ name, kind: kind === "text" ? "text" : "number", unit: kind === "measure" ? unit : null, origin: "computed" }));
}

/** One row a pair. */
export function enoughColumns(pairs: readonly PlannedPair[], words: EnoughWords): readonly Column[] {
  return makers.map(([name, kind, value]) => {
    const values = pairs.map((pair) => value(pair, words));
    if (name === "margin") return marginColumn(values as number[], words.column.unit);
    return kind === "text" ? textColumn(name, values as string[]) : numberColumn(name, values as number[], kind === "measure" ? words.column.unit : null);
  });
}
