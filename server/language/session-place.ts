import type { Session } from "../../core/session/session";
import { shapeOf, type Shape } from "../../core/session/session-shapes";
import { isShotColumn, type ShotColumn } from "../../core/table/shot-columns";
import type { LooseEntry, LooseList, LooseMap, LooseNode, LooseScalar } from "./session-text";
import { endOf, readLoosely } from "./session-text";
import type { SessionView } from "./session-view";

/** A name or a value of a session file, and where in the session it stands. */
export interface SessionPlace {
  readonly scalar: LooseScalar;
  /** `key` for a name before a colon, or one that may get a colon; `item` in a list. */
  readonly role: "key" | "value" | "item";
  /** The keys from the top, `null` for an item of a list; a key itself is not in its path, a value's key is. */
  readonly path: readonly (string | null)[];
  /** The maps and lists around it, the outermost first. */
  readonly around: readonly (LooseMap | LooseList)[];
  /** The entry that it is the key or the value of. */
  readonly entry: LooseEntry | null;
}

/** The name or value at an offset, its ends included; `null` where there is none. */
export function placeIn(root: LooseNode | null, offset: number): SessionPlace | null {
  const path: (string | null)[] = [];
  const around: (LooseMap | LooseList)[] = [];
  let node = root;
  let entry: LooseEntry | null = null;
  while (node !== null && node.kind !== "scalar") {
    around.push(node);
    if (node.kind === "list") {
      const item: LooseNode | null | undefined = node.items.find((each) => each !== null && isIn(each, offset));
      entry = null;
      path.push(null);
      node = item ?? null;
      continue;
    }
    const found: LooseEntry | undefined = node.entries.find(({ key, value }) => isIn(key, offset) || (value !== null && isIn(value, offset)));
    if (found === undefined) return null;
    if (isIn(found.key, offset)) return { scalar: found.key, role: "key", path, around, entry: found };
    path.push(found.key.text);
    entry = found;
    node = found.value;
  }
  if (node === null || !isIn(node, offset)) return null;
  return { scalar: node, role: entry === null ? "item" : "value", path, around, entry };
}

function isIn(node: LooseNode, offset: number): boolean {
  return node.from <= offset && offset <= endOf(node);
}

const trees = new WeakMap<SessionView, LooseNode | null>();

/** The tree of a session's text as it is while it is written; made once a view. */
export function looseTreeOf(view: SessionView): LooseNode | null {
  const known = trees.get(view);
  if (known !== undefined) return known;
  const tree = readLoosely(view.text);
  trees.set(view, tree);
  return tree;
}

const top: Shape = { kind: "map", map: "session", needed: ["session", "sources"] };

/** What may stand at the end of a path: every alternative, with those for one item of a list. */
export function shapesAt(path: readonly (string | null)[]): readonly Shape[] {
  let shapes: readonly Shape[] = [top];
  for (const key of path) shapes = shapes.flatMap((shape) => alternatives(key === null ? itemOf(shape) : valueOf(shape, key)));
  return shapes;
}

function itemOf(shape: Shape): Shape | null {
  if (shape.kind === "list") return shape.item;
  if (shape.kind === "shots") return shape;
  return shape.kind === "of the column" && shape.as === "limits" ? { kind: "of the column", as: "measure" } : null;
}

function valueOf(shape: Shape, key: string): Shape | null {
  if (shape.kind === "map") return shape.only?.includes(key) === false ? null : (shapeOf(shape.map, key) ?? null);
  if (shape.kind === "entries") return shape.value;
  return shape.kind === "name" && shape.of === "sides" ? { kind: "text" } : null;
}

/** A shape itself or each of its alternatives; a list may be left out around one item. */
function alternatives(shape: Shape | null): readonly Shape[] {
  if (shape === null) return [];
  if (shape.kind === "either") return shape.shapes.flatMap(alternatives);
  return shape.kind === "list" ? [shape, ...alternatives(shape.item)] : [shape];
}

/** The shot column that a path goes through: `carry` in `columns: { carry: … }`; `null` where it goes through none. */
export function columnOf(path: readonly (string | null)[]): ShotColumn | null {
  const [first, second] = path;
  const isByColumn = first !== undefined && first !== null && ["columns", "margin", "reading_error", "plausible"].includes(first);
  return isByColumn && typeof second === "string" && isShotColumn(second) ? second : null;
}

/** The text of another key of the innermost map around a place; `null` where it is not a scalar there. */
export function siblingText({ around }: SessionPlace, key: string): string | null {
  const map = around.findLast((node) => node.kind === "map");
  const value = map?.entries.find((entry) => entry.key.text === key)?.value;
  return value?.kind === "scalar" ? value.text : null;
}

/** The value that stands at the keys of a path; `null` where there is none. */
export function nodeAt(root: LooseNode | null, ...keys: readonly string[]): LooseNode | null {
  let node = root;
  for (const key of keys) node = node?.kind === "map" ? (node.entries.find((entry) => entry.key.text === key)?.value ?? null) : null;
  return node;
}

/** The headers of the exports that the session maps, with the column each stands for. */
export function mappedHeaders(session: Session | null): ReadonlyMap<string, ShotColumn> {
  return new Map((session?.columns ?? []).map(({ header, column }) => [header, column]));
}
