import type { Syntax } from "../../core/query/syntax";
import type { Parameter, Verb } from "../../core/query/vocabulary";
import type { Schema } from "../../core/table/schema";
import { isShotColumn } from "../../core/table/shot-columns";

/** Where a column of a table was declared. */
export interface Origin {
  /** See `Occurrence.symbol`; `made:…` for a column that a verb makes under a name of its own. */
  readonly symbol: string | null;
  /** What a verb put behind the declared name. */
  readonly ending: string;
  /** The session files behind a shot column. */
  readonly files: readonly string[];
}

/** The declarations of a table's columns, by the names they have in it. */
export interface Origins {
  readonly columns: ReadonlyMap<string, Origin>;
  /** What a column is that is not listed. */
  readonly rest: "none" | "shot column" | "unknown";
}

/** A table as far as it is known at one place of a text: its columns, and where they were declared. */
export interface Scope {
  readonly schema: Schema;
  readonly origins: Origins;
}

/** What is known of nothing. */
export const unknownOrigins: Origins = { columns: new Map(), rest: "unknown" };

const nowhere: Origin = { symbol: null, ending: "", files: [] };

/** Where the column `name` of a table was declared; its symbol is `null` where there is no such column, or where that is not known. */
export function originOf({ columns, rest }: Origins, name: string): Origin {
  const known = columns.get(name);
  if (known !== undefined) return known;
  return rest === "shot column" && isShotColumn(name) ? shotColumn(name, []) : nowhere;
}

/** The columns of a table that session files give; `schema` is `null` while nothing is known of them. */
export function originsOfShots(schema: Schema | null, files: readonly string[]): Origins {
  const columns = (schema?.columns ?? []).map(({ name }) => [name, shotColumn(name, files)] as const);
  return { columns: new Map(columns), rest: schema === null || schema.open ? "shot column" : "none" };
}

function shotColumn(name: string, files: readonly string[]): Origin {
  return { symbol: `shot column:${name}`, ending: "", files };
}

/** The columns of a table that is made at one place, under names that nobody there gave. */
export function originsMade(schema: Schema, place: string): Origins {
  return { columns: new Map(schema.columns.map(({ name }) => [name, madeAt(place, name)])), rest: schema.open ? "unknown" : "none" };
}

function madeAt(place: string, name: string): Origin {
  return { symbol: `made:${place}:${name}`, ending: "", files: [] };
}

/** A verb as called, with what origins after it hang on. */
export interface VerbUse {
  readonly verb: Verb;
  readonly given: readonly { readonly parameter: Parameter; readonly nodes: readonly Syntax[] }[];
  /** The columns named by position, in order. */
  readonly named: readonly string[];
  /** Columns that the call declares. */
  readonly declared: ReadonlyMap<string, Origin>;
  /** Old name and new of each column that it renames. */
  readonly renamed: ReadonlyMap<string, string>;
  /** The table given to it. */
  readonly other: Scope | null;
  /** The column that the option `by` names, or would name when left out. */
  readonly by: string;
  /** Cell and offset of the verb's name. */
  readonly place: string;
}

/**
 * Where the columns of the table after a verb were declared.
 *
 * Verbs say which columns they give, not where these come from: that stands here. `merged` gets the declarations that
 * a verb puts into one column, so that they must have one name.
 */
export function originsAfter(use: VerbUse, before: Scope, after: Schema, merged: (readonly [string, string])[]): Origins {
  const { columns, rest } = before.origins;
  const picked = (names: readonly string[]): (readonly [string, Origin])[] => names.map((name) => [name, originOf(before.origins, name)]);
  const made = (name: string): readonly [string, Origin] => [name, madeAt(use.place, name)];
  const { named, declared, other } = use;
  switch (use.verb.name) {
    case "derive":
      return { columns: new Map([...columns, ...declared]), rest };
    case "rename":
      return { columns: renamedColumns(use, before.origins), rest };
    case "select":
      return { columns: new Map(picked(named)), rest: "none" };
    case "rollup":
      return { columns: new Map([...picked(before.schema.groupedBy), ...declared]), rest: "none" };
    case "count":
      return { columns: new Map([...picked(before.schema.groupedBy), made("count")]), rest: "none" };
    case "pivot":
      return { columns: new Map(picked(before.schema.groupedBy)), rest: "unknown" };
    case "fold": {
      const others = [...columns].filter(([name]) => !named.includes(name));
      return { columns: new Map([...others, made("key"), made("value")]), rest };
    }
    case "join":
    case "join_left":
      return other === null ? before.origins : sideBySide(before.origins, other.origins, named, merged);
    case "concat":
      return other === null ? before.origins : stacked(before.origins, other.origins, merged);
    default:
      return use.verb.family === "table" ? before.origins : afterTrade(use, before, after);
  }
}

function renamedColumns({ renamed, declared }: VerbUse, { columns }: Origins): ReadonlyMap<string, Origin> {
  const kept = [...columns].flatMap(([name, origin]) => {
    const to = renamed.get(name);
    return to === undefined ? [[name, origin] as const] : [[to, declared.get(to) ?? origin] as const];
  });
  return new Map([...kept, ...declared]);
}

/** A join: names that both tables have, and that are no keys, get `_1` and `_2`. */
function sideBySide(left: Origins, right: Origins, keys: readonly string[], merged: (readonly [string, string])[]): Origins {
  merge(left, right, keys, merged);
  const shared = (name: string): boolean => left.columns.has(name) && right.columns.has(name) && !keys.includes(name);
  const named = ({ columns }: Origins, ending: string) =>
    [...columns].map(([name, origin]) => (shared(name) ? ([name + ending, { ...origin, ending: origin.ending + ending }] as const) : ([name, origin] as const)));
  const beside = named(right, "_2").filter(([name]) => !keys.includes(name));
  return { columns: new Map([...named(left, "_1"), ...beside]), rest: left.rest === "none" && right.rest === "none" ? "none" : "unknown" };
}

function stacked(above: Origins, below: Origins, merged: (readonly [string, string])[]): Origins {
  merge(above, below, [...above.columns.keys()], merged);
  return { columns: new Map([...below.columns, ...above.columns]), rest: above.rest === "none" ? below.rest : above.rest };
}

function merge(first: Origins, second: Origins, names: readonly string[], merged: (readonly [string, string])[]): void {
  for (const name of names) {
    const [a, b] = [originOf(first, name).symbol, originOf(second, name).symbol];
    if (a !== null && b !== null && a !== b) merged.push([a, b]);
  }
}

/** A verb of the trade passes on the column that it groups by, and all columns where its rows are still the shots. */
function afterTrade(use: VerbUse, before: Scope, after: Schema): Origins {
  const names = new Set(after.columns.map(({ name }) => name));
  const keepsRows = [...before.origins.columns.keys()].every((name) => names.has(name));
  const isNew = (name: string): boolean => {
    const was = before.schema.columns.find((column) => column.name === name);
    const is = after.columns.find((column) => column.name === name);
    return was !== undefined && was.origin !== "computed" && is?.origin === "computed";
  };
  const columns = after.columns.map(({ name }) => {
    const passes = before.origins.columns.has(name) && (keepsRows ? !isNew(name) : name === use.by);
    return [name, passes ? originOf(before.origins, name) : madeAt(use.place, name)] as const;
  });
  if (keepsRows) return { columns: new Map(columns), rest: before.origins.rest };
  return { columns: new Map(columns), rest: after.open ? "unknown" : "none" };
}
