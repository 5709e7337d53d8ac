import type { Problem } from "../problem";
import type { Limits } from "../limits";
import type { ColumnSchema, Schema } from "../table/schema";
import type { Chart, Column, Table } from "../table/table";
import type { TextRange } from "../text-position";
import type { Measure, Quantity, Unit, UnitSystem } from "../units";
import type { Window } from "./window";

/**
 * What the query language consists of. The tables of verbs, functions, charts and sources are handed to parsing, checking
 * and running; nothing in `core/query` imports an entry.
 */
export interface Vocabulary {
  readonly verbs: ReadonlyMap<string, Verb>;
  readonly rowFunctions: ReadonlyMap<string, RowFunction>;
  readonly aggregates: ReadonlyMap<string, Aggregate>;
  readonly charts: ReadonlyMap<string, ChartKind>;
  readonly sources: ReadonlyMap<string, SourceKind>;
}

/** Help for one name: what completion, hover and the reference show. */
export interface Help {
  /** One sentence, ending in a full stop. */
  readonly summary: string;
  /** A cell body that runs on the table `shots` of the samples. */
  readonly example: string;
  /** How it is computed, in two or three sentences with its primary sources; every verb of the trade has it. */
  readonly method?: string;
}

/** One named option: `of: "carry"`, `margin: "3 yd"`. */
export type Option = { readonly help: string; readonly required: boolean } & (
  /** A column of `group` holds what tells rows apart: text, truth values, or numbers that count stints or passes. */
  | { readonly kind: "column"; readonly of: "number" | "text" | "group" }
  | { readonly kind: "columns"; readonly of: "number" | "text" | "any" }
  | { readonly kind: "choice"; readonly choices: readonly string[] }
  /** `usual` is what completion writes: what counts when nothing is told, if that is one number. */
  | { readonly kind: "number"; readonly above: number; readonly below: number; readonly whole: boolean; readonly usual: number }
  /**
   * A number with its unit in a string, convertible to the unit of the column that the option `unitOf` names, or of the
   * column `unitOf` itself where there is no option of that name; to that of the column `unless` where that option is left out.
   */
  | { readonly kind: "measure"; readonly unitOf: string; readonly unless?: string }
  /** A number with its unit in a string, of a quantity that no column of the table need have: `"21 degC"`. */
  | { readonly kind: "quantity"; readonly quantity: Quantity; readonly example: string }
  | { readonly kind: "truth" }
  /** Text that is no name of a column, such as that of a head; the verb says whether there is such a one. */
  | { readonly kind: "text" }
  /** Ranges of values by column: `{ launch_angle: "14 to 18 deg" }`. */
  | { readonly kind: "windows" }
);

/** The options of a verb or a chart kind, by name. */
export type Options = Readonly<Record<string, Option>>;

/** What an option was given as. */
export type OptionValue = string | readonly string[] | number | boolean | Measure | readonly Window[];

/** Options as given, checked; options left out are absent. */
export type OptionValues = Readonly<Record<string, OptionValue>>;

/** One parameter of a verb, by position. */
export type Parameter = { readonly name: string; readonly help: string } & (
  /** A row function giving a truth value: `d => d.carry > 150`. */
  | { readonly kind: "condition" }
  /** New columns from row functions: `{ curve: d => d.offline - d.carry * 0.01 }`. */
  | { readonly kind: "new columns" }
  /** New columns from aggregates: `{ typical: op.median("carry"), shots: op.count() }`. */
  | { readonly kind: "aggregates" }
  /** One or more names of columns: `"head", "carry"`. Always last. */
  | { readonly kind: "columns"; readonly least: number }
  /** One or more columns to order by: `"head", op.desc("carry")`. Always last. */
  | { readonly kind: "ordering" }
  /** New names: `{ carry: "carry_length" }` (old to new). */
  | { readonly kind: "renames" }
  /** Another table: the name of a cell or of a constant. */
  | { readonly kind: "table" }
  /** Names of choices of the front matter, all of them where none is given. Always last; the argument is the condition they make. */
  | { readonly kind: "choices" }
  | { readonly kind: "number"; readonly least: number; readonly most: number; readonly optional: boolean }
  | { readonly kind: "options"; readonly options: Options; readonly optional: boolean }
);

/** A parameter's argument as far as it is known without rows. */
export type CheckedArgument =
  /** `narrows` says which values a text column can have left where the condition holds. */
  | { readonly kind: "condition"; readonly narrows: ReadonlyMap<string, readonly string[]> }
  | { readonly kind: "new columns"; readonly columns: readonly ColumnSchema[] }
  | { readonly kind: "aggregates"; readonly columns: readonly ColumnSchema[] }
  | { readonly kind: "columns"; readonly names: readonly string[] }
  | { readonly kind: "ordering"; readonly names: readonly string[] }
  | { readonly kind: "renames"; readonly names: readonly (readonly [from: string, to: string])[] }
  | { readonly kind: "table"; readonly schema: Schema }
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "options"; readonly values: OptionValues };

/** One aggregate to compute: its new column's name, the entry, its evaluated argument and its further numbers. */
export interface AggregateCall {
  readonly name: string;
  readonly aggregate: Aggregate;
  /** The argument's column, evaluated for every row of the input; `null` for `op.count()`. */
  readonly column: Column | null;
  readonly numbers: readonly number[];
  readonly result: ColumnSchema;
}

/** A parameter's argument as a verb's `run` gets it: row functions are evaluated to columns already. */
export type Argument =
  | { readonly kind: "condition"; readonly holds: Int8Array }
  | { readonly kind: "new columns"; readonly columns: readonly Column[] }
  | { readonly kind: "aggregates"; readonly calls: readonly AggregateCall[] }
  | { readonly kind: "columns"; readonly names: readonly string[] }
  | { readonly kind: "ordering"; readonly keys: readonly { readonly name: string; readonly descending: boolean }[] }
  | { readonly kind: "renames"; readonly names: readonly (readonly [from: string, to: string])[] }
  | { readonly kind: "table"; readonly table: Table }
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "options"; readonly values: OptionValues };

/** What a run hands to every verb besides table and arguments. */
export interface RunContext {
  readonly limits: Limits;
  readonly units: UnitSystem;
  /** Margins of the notebook's front matter by column; they win over the session's, which win over the defaults. */
  readonly margins: Readonly<Record<string, Measure>>;
  /** True when the front matter states a margin that cannot be read: no default may stand in for it. */
  readonly marginsUnread?: boolean;
  readonly seed: number;
  /** Reports something that is worth saying but stops nothing, at the verb's name. */
  readonly warn: (found: VerbProblem) => void;
  /** Throws `Cancelled` when the run was cancelled or is over its time; called often in long loops. */
  readonly checkpoint: () => void;
}

/** A problem that a verb finds: the reporter places it on the argument or option it concerns. */
export interface VerbProblem {
  /** The parameter or option concerned; `null` for the verb itself. */
  readonly at: string | null;
  readonly make: (range: TextRange) => Problem;
}

/** What inference gives: the schema after the verb, and what is wrong with its use. */
export interface Inferred {
  readonly schema: Schema;
  readonly problems: readonly VerbProblem[];
}

/** What running a verb gives: a table, or the problems for which there is none. */
export type VerbResult = Table | { readonly type: "refused"; readonly problems: readonly VerbProblem[] };

/**
 * One verb: a file of `core/verbs/` exports one.
 *
 * Before `infer` and `run` are called, arguments have been checked against `parameters`: columns named exist in the
 * input and have the asked kind, options are known, of their kind, and the required ones are there. Before `run` is
 * called, `infer` has found no error on the columns that are really there; what depends on rows is for `run` to check.
 */
export interface Verb {
  readonly name: string;
  /** `table` for verbs that reshape; `trade` for verbs that answer a question, with method and sentences. */
  readonly family: "table" | "trade";
  readonly help: Help;
  readonly parameters: readonly Parameter[];
  readonly infer: (input: Schema, given: readonly CheckedArgument[], units: UnitSystem) => Inferred;
  readonly run: (input: Table, given: readonly Argument[], context: RunContext) => VerbResult;
}

/** The type of an expression inside a row function. `missing` is the type of `null` alone. */
export interface ValueType {
  readonly kind: "number" | "text" | "truth" | "missing";
  readonly unit: Unit | null;
  /** True for a number written in the text, which takes the unit of what it meets. */
  readonly literal?: boolean;
}

/** One parameter of a row function; `rest` takes one or more values and is last, as is `optional`. */
export interface RowParameter {
  readonly name: string;
  readonly kind: "number" | "text" | "truth" | "any";
  readonly rest?: boolean;
  readonly optional?: boolean;
}

/** A function of one row, `op.abs(d.offline)`. Missing in, missing out, unless `takesMissing`. */
export interface RowFunction {
  readonly name: string;
  readonly help: Help;
  readonly parameters: readonly RowParameter[];
  /** The type of the result; when the argument types do not fit, what would, in words. */
  readonly type: (given: readonly ValueType[]) => ValueType | string;
  readonly takesMissing?: boolean;
  /** Compares its first argument with the others, so that text which the first never holds can be pointed out. */
  readonly matches?: boolean;
  /** Numbers, text and truth values in; `null` is missing, and `NaN` says that there is no result. Never throws. */
  readonly apply: (...given: (number | string | boolean | null)[]) => number | string | boolean | null;
}

/** A function of the rows of a group, `op.mean("carry")`; missing values are left out and never count as 0. */
export interface Aggregate {
  readonly name: string;
  readonly help: Help;
  /** Kind of the column; `none` for `op.count()`. */
  readonly of: "number" | "text" | "any" | "none";
  /** Further plain numbers after the column, with their bounds: the `p` of `op.quantile("carry", 0.9)`. */
  readonly numbers: readonly { readonly name: string; readonly least: number; readonly most: number }[];
  /** Kind and unit of the result, from those of the column. */
  readonly type: (column: ColumnSchema | null) => Pick<ColumnSchema, "kind" | "unit">;
  /**
   * The aggregate of each group. `groups[row]` is the group's number, below `groupCount`; −1 rows are in none.
   * Gives one value a group; `NaN` (or code −1) where the rows do not determine it.
   */
  readonly compute: (
    column: Column | null,
    groups: Int32Array,
    groupCount: number,
    numbers: readonly number[],
  ) => Float64Array | { readonly codes: Int32Array; readonly labels: readonly string[] };
}

/** One kind of chart, called as `chart.NAME(table, { … })`; a file of `core/chart/kinds/` exports one. */
export interface ChartKind {
  readonly name: string;
  readonly help: Help;
  /** Columns that the table must have. */
  readonly needs: readonly string[];
  /** The verb whose table it draws, for a chart that draws no shots. */
  readonly tableOf?: string;
  readonly options: Options;
  readonly build: (table: Table, options: OptionValues, context: RunContext) => Chart | { readonly type: "refused"; readonly problems: readonly VerbProblem[] };
}

/**
 * One kind of table that is made from options alone, called as `NAME({ … })` where a table can stand; a file of
 * `core/sources/` exports one. Its name is reserved in `names.ts`.
 *
 * Its options are of kinds that need no column of a table. Before `run` is called, `infer` has found no error.
 */
export interface SourceKind {
  readonly name: string;
  readonly help: Help;
  readonly options: Options;
  readonly infer: (values: OptionValues, units: UnitSystem) => Inferred;
  readonly run: (values: OptionValues, context: RunContext) => VerbResult;
}
