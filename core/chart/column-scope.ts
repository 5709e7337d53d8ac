import type { ColumnSchema, Schema } from "../table/schema";
import type { Unit } from "../units";
import { keepsUnit } from "./aggregates";
import type { RowGrowth } from "./row-growth";

/** What is known of a column at some place of a specification. */
export interface KnownColumn {
  /** `null` when the table's columns are not all known. */
  readonly kind: ColumnSchema["kind"] | null;
  readonly unit: Unit | null;
  /** True for a column that a transform of the specification makes. */
  readonly isMade: boolean;
  /** The distinct values, where the schema knows them. */
  readonly values?: readonly string[];
}

/** The columns that can be named at some place of a specification. */
export interface ColumnScope {
  readonly columns: ReadonlyMap<string, KnownColumn>;
  /** True when there may be columns that are not listed. */
  readonly isOpen: boolean;
  /** True while the rows are those of the table: no transform has changed them. */
  readonly isPlain: boolean;
  /** How the transforms up to here change the number of rows. */
  readonly growth: readonly RowGrowth[];
}

/** The scope of a whole specification: the columns of the table. */
export function scopeOf(schema: Schema): ColumnScope {
  const columns = schema.columns.map(({ name, kind, unit, values }): [string, KnownColumn] => [
    name,
    { kind, unit, isMade: false, ...(values === undefined ? {} : { values }) },
  ]);
  return { columns: new Map(columns), isOpen: schema.open, isPlain: true, growth: [] };
}

/** The column that `name` means: as written, or as Vega-Lite escapes it (`a\\.b`). `null` when there is none. */
export function findName(scope: ColumnScope, name: string): string | null {
  if (scope.columns.has(name)) return name;
  const unescaped = name.replace(/\\(.)/gsu, "$1");
  if (scope.columns.has(unescaped)) return unescaped;
  return scope.isOpen ? unescaped : null;
}

/** What a transform gives, as far as columns go: names as the person wrote them. */
export interface TransformUse {
  readonly kind: string;
  readonly groupby: readonly string[];
  readonly as: readonly string[];
  /** The columns that the transform reads, by its property. */
  readonly reads: Readonly<Record<string, string>>;
  /** New columns of its list, with the column each is made of. */
  readonly made: readonly { readonly as: string; readonly of: string | null; readonly op: string }[];
  /** How it changes the number of rows; `null` where there are never more after it than before. */
  readonly growth: RowGrowth | null;
}

/** The scope after a transform. */
export function scopeAfter(scope: ColumnScope, use: TransformUse): ColumnScope {
  return { ...columnsAfter(scope, use), isPlain: false, growth: use.growth === null ? scope.growth : [...scope.growth, use.growth] };
}

function columnsAfter(scope: ColumnScope, use: TransformUse): Pick<ColumnScope, "columns" | "isOpen"> {
  const made = (unit: Unit | null, kind: ColumnSchema["kind"] = "number"): KnownColumn => ({ kind, unit, isMade: true });
  const unitOf = (name: string | undefined | null): Unit | null => (name ? (scope.columns.get(name)?.unit ?? null) : null);
  const kept = use.groupby.flatMap((name) => {
    const known = scope.columns.get(name);
    return known === undefined ? [] : [[name, known] as const];
  });
  const fromList = use.made.map(({ as, of, op }) => [as, made(keepsUnit(op) ? unitOf(of) : null)] as const);
  const on = use.reads["on"];
  type Columns = readonly (readonly [string, KnownColumn])[];
  const replaced = (columns: Columns) => ({ columns: new Map([...kept, ...columns]), isOpen: false });
  const added = (columns: Columns) => ({ columns: new Map([...scope.columns, ...columns]), isOpen: scope.isOpen });
  switch (use.kind) {
    case "aggregate":
      return replaced(fromList);
    case "joinaggregate":
    case "window":
      return added(fromList);
    case "bin":
    case "stack": {
      const unit = unitOf(use.reads["field"] ?? use.reads["stack"]);
      const [first] = use.as;
      const ends = use.as.length === 1 && first !== undefined ? [first, `${first}_end`] : use.as;
      return added(ends.map((name) => [name, made(unit)] as const));
    }
    case "fold":
      return added([[use.as[0] ?? "key", made(null, "text")], [use.as[1] ?? "value", made(null)]]);
    case "density":
      return replaced([[use.as[0] ?? "value", made(unitOf(use.reads["density"]))], [use.as[1] ?? "density", made(null)]]);
    case "quantile":
      return replaced([[use.as[0] ?? "prob", made(null)], [use.as[1] ?? "value", made(unitOf(use.reads["quantile"]))]]);
    case "regression":
    case "loess": {
      const of = use.reads[use.kind];
      return replaced([
        [use.as[0] ?? on ?? "x", made(unitOf(on))],
        [use.as[1] ?? of ?? "y", made(unitOf(of))],
      ]);
    }
    default:
      return scope;
  }
}
