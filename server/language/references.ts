import type { CellPlace } from "./answers";
import type { NotebookView } from "./notebook-view";
import { namesOf } from "./occurrences";
import type { WrittenName } from "./written-name";

/** A name with the cell that it stands in. */
export interface PlacedName extends WrittenName {
  readonly cell: number;
}

/** Parts of the language have no symbol: the same word is the same thing. */
const languageRoles: ReadonlySet<string> = new Set(["verb", "function", "aggregate", "chart kind", "source", "path"]);

/** The name at an offset of a cell's text; where two touch there, the one that begins. */
export function nameAt(view: NotebookView, cell: number, offset: number): PlacedName | null {
  const found = namesOf(view, cell).names.filter(({ from, to }) => from <= offset && offset <= to).at(-1);
  return found === undefined ? null : { ...found, cell };
}

/** Every name in the notebook that stands for what `name` stands for, itself included, cell by cell in the order of their texts. */
export function sameAs(view: NotebookView, name: PlacedName): readonly PlacedName[] {
  const { symbol } = name;
  if (symbol !== null) return indexOf(view).bySymbol.get(symbolOf(view, symbol)) ?? [];
  if (languageRoles.has(name.role)) return everyName(view).filter((each) => each.role === name.role && each.name === name.name);
  return namesOf(view, name.cell).names.filter((each) => isAlike(each, name)).map((each) => ({ ...each, cell: name.cell }));
}

function isAlike(one: WrittenName, other: WrittenName): boolean {
  return one.symbol === null && one.role === other.role && one.name === other.name && one.verb === other.verb;
}

/** The symbol for what `symbol` and all that verbs have put into one column with it stand for: a shot column's where one is among them. */
export function symbolOf(view: NotebookView, symbol: string): string {
  return find(indexOf(view).leaders, symbol);
}

/** Every name of the notebook. */
export function everyName(view: NotebookView): readonly PlacedName[] {
  return indexOf(view).names;
}

/** Where else the name at an offset stands in the notebook, its declaration only where it is asked for. */
export function referencesAt(view: NotebookView, cell: number, offset: number, withDeclaration: boolean): readonly CellPlace[] {
  const name = nameAt(view, cell, offset);
  if (name === null) return [];
  return sameAs(view, name)
    .filter((each) => withDeclaration || !each.isDeclaration)
    .map(placeOf);
}

/** Every place of the name at an offset; it is written where it is declared, and read elsewhere. */
export function highlightsAt(view: NotebookView, cell: number, offset: number): readonly (CellPlace & { readonly isWrite: boolean })[] {
  const name = nameAt(view, cell, offset);
  if (name === null) return [];
  return sameAs(view, name).map((each) => ({ ...placeOf(each), isWrite: each.isDeclaration }));
}

/** The place of a name. */
export function placeOf({ cell, from, to }: PlacedName): CellPlace {
  return { cell, from, to };
}

interface Index {
  readonly names: readonly PlacedName[];
  readonly bySymbol: ReadonlyMap<string, readonly PlacedName[]>;
  readonly leaders: Map<string, string>;
}

const indexes = new WeakMap<NotebookView, Index>();

function indexOf(view: NotebookView): Index {
  const before = indexes.get(view);
  if (before !== undefined) return before;
  const leaders = new Map<string, string>();
  for (const { index } of view.cells) for (const [a, b] of namesOf(view, index).merged) unite(leaders, a, b);
  const names = view.cells.flatMap(({ index }) => namesOf(view, index).names.map((name): PlacedName => ({ ...name, cell: index })));
  const bySymbol = new Map<string, PlacedName[]>();
  for (const name of names) {
    if (name.symbol === null) continue;
    const symbol = find(leaders, name.symbol);
    const same = bySymbol.get(symbol);
    if (same === undefined) bySymbol.set(symbol, [name]);
    else same.push(name);
  }
  const index = { names, bySymbol, leaders };
  indexes.set(view, index);
  return index;
}

function find(leaders: ReadonlyMap<string, string>, symbol: string): string {
  let leader = symbol;
  for (let next = leaders.get(leader); next !== undefined; next = leaders.get(leader)) leader = next;
  return leader;
}

/** What cannot be renamed leads, so that nothing that is one with it is renamed either. */
function unite(leaders: Map<string, string>, a: string, b: string): void {
  const [one, other] = [find(leaders, a), find(leaders, b)];
  if (one === other) return;
  const leads = !one.startsWith("column:") || (other.startsWith("column:") && one < other);
  if (leads) leaders.set(other, one);
  else leaders.set(one, other);
}
