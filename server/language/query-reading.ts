import type { PlainConstant } from "../../core/query/check-row";
import type { Syntax } from "../../core/query/syntax";
import type { Vocabulary } from "../../core/query/vocabulary";
import { nothingKnown, withoutColumns } from "../../core/table/schema";
import { unknownOrigins, type Origin, type Origins, type Scope } from "./column-origins";
import type { NameList } from "./name-list";
import type { StepsOf } from "./query-steps";
import type { WrittenName } from "./written-name";

/** The names of one cell, and what was met on the way to them. */
export interface CellNames {
  /** In the order of the text; none is empty. */
  readonly names: readonly WrittenName[];
  /** The table that the cell gives; `null` for any other cell, and while nothing is known of it. */
  readonly result: Scope | null;
  /** The columns of every table in the cell, before and after each verb. */
  readonly tables: readonly Origins[];
  /** Calls that add columns to those of the table before, or put them in the place of one: what they declare. */
  readonly additions: readonly { readonly before: Origins; readonly declared: ReadonlyMap<string, Origin> }[];
  /** Verbs of the trade and charts, which look for columns by their usual names; `needs` are those of a chart's own. */
  readonly lookers: readonly { readonly name: string; readonly origins: Origins; readonly needs: readonly string[] }[];
  /** Declarations that verbs put into one column. */
  readonly merged: readonly (readonly [string, string])[];
  /** Constants whose text names several columns or choices: the symbols of those. */
  readonly shared: readonly string[];
  /** True where `choose` is given what is no name in quotes: the word of a choice. */
  readonly choosesUnwritten: boolean;
  /** Names that a chart's own transforms give. */
  readonly fieldsMade: readonly string[];
}

/** What a query cell's names are read against. */
export interface NamesPlace {
  readonly index: number;
  readonly text: string;
  readonly vocabulary: Vocabulary;
  /** The schemas of each call in the cell, as it was checked. */
  readonly stepsOf: StepsOf;
  /** The table that a cell of this name, or `shots`, gives. */
  readonly tableOf: (name: string) => Scope;
  /** The table that a path as written gives. */
  readonly sessionsAt: (path: string) => Scope;
}

/** The names of one query cell while they are read: what was found so far. */
export interface QueryReading {
  readonly place: NamesPlace;
  readonly list: NameList;
  /** Constants that stand for plain values, as far as the cell was read. */
  readonly plain: Map<string, PlainConstant>;
  readonly tables: Origins[];
  readonly additions: CellNames["additions"][number][];
  readonly lookers: CellNames["lookers"][number][];
  readonly merged: (readonly [string, string])[];
  choosesUnwritten: boolean;
  /** Reads the names of a table, and gives what is known of it. */
  readonly tableOf: (node: Syntax) => Scope;
}

/** A table of which nothing is known. */
export const unknownTable: Scope = { schema: nothingKnown, origins: unknownOrigins };
/** Where no column can be named. */
export const noColumns: Scope = { schema: withoutColumns, origins: { columns: new Map(), rest: "none" } };

/** A call of a member. */
export type MemberCall = Extract<Syntax, { kind: "call" }> & { readonly callee: Extract<Syntax, { kind: "member" }> };

/** True for a verb on a table: a call of a member that belongs to neither `op` nor `chart`. */
export function isTableCall(node: Syntax): node is MemberCall {
  if (node.kind !== "call" || node.callee.kind !== "member") return false;
  const { of } = node.callee;
  return of.kind !== "name" || (of.name !== "op" && of.name !== "chart");
}
