import { folderOf, resolvePath } from "../../core/path";
import type { Span } from "../../core/query/syntax";
import { isShotColumn } from "../../core/table/shot-columns";
import { lineTable, textStart } from "../../core/text-position";
import type { FilePlace, LinkAnswer, SymbolAnswer } from "./answers";
import { outlineText } from "./outline-text";
import { looseTreeOf, nodeAt, placeIn, shapesAt, siblingText, type SessionPlace } from "./session-place";
import { endOf, type LooseEntry, type LooseNode, type LooseScalar } from "./session-text";
import type { SessionView } from "./session-view";

/** The keys of a session file, with heads, columns, sources and what is listed below them. */
export function sessionSymbols(view: SessionView): readonly SymbolAnswer[] {
  const root = looseTreeOf(view);
  if (root?.kind !== "map") return [];
  return root.entries.map((entry) => symbol(entry, "key", detailOf(entry.value), childrenOf(entry)));
}

function symbol(entry: LooseEntry, kind: SymbolAnswer["kind"], detail: string, children: readonly SymbolAnswer[]): SymbolAnswer {
  const { key, value } = entry;
  return { name: nameOf(key.text), detail, kind, from: key.from, to: Math.max(key.to, value === null ? 0 : endOf(value)), nameSpan: { from: key.from, to: key.to }, children };
}

function childrenOf({ key, value }: LooseEntry): readonly SymbolAnswer[] {
  const kind = key.text === "heads" ? "head" : key.text === "columns" ? "column" : "key";
  if (value?.kind === "map") return value.entries.map((entry) => symbol(entry, kind, detailOf(entry.value), []));
  if (value?.kind !== "list") return [];
  return value.items.flatMap((item) => (item === null ? [] : itemSymbol(item)));
}

/** An item of a list under what tells it best: its file, or its shots and column. */
function itemSymbol(item: LooseNode): readonly SymbolAnswer[] {
  const to = endOf(item);
  if (item.kind === "scalar") return [{ name: nameOf(item.text), detail: "", kind: "key", from: item.from, to, nameSpan: item, children: [] }];
  if (item.kind === "list") return [];
  const textAt = (key: string): string => textOf(item.entries.find((entry) => entry.key.text === key)?.value ?? null);
  const name = [textAt("file"), textAt("shots"), textAt("shot"), textAt("column")].filter((text) => text !== "").join(" ");
  const first = item.entries[0]?.value;
  const nameSpan = first?.kind === "scalar" ? first : { from: item.from, to: Math.min(item.from + 1, to) };
  return [{ name: nameOf(name), detail: outlineText(textAt("because") || textAt("intent") || textAt("note")), kind: "key", from: item.from, to, nameSpan: { from: nameSpan.from, to: nameSpan.to }, children: [] }];
}

/** What stands behind a key, in short. */
function detailOf(value: LooseNode | null): string {
  if (value?.kind !== "map") return outlineText(textOf(value));
  const parts = ["from", "kind", "loft", "unit", "name", "model"].map((key) => textOf(value.entries.find((entry) => entry.key.text === key)?.value ?? null));
  return outlineText(parts.filter((text) => text !== "").join(", "));
}

function textOf(node: LooseNode | null): string {
  if (node?.kind === "scalar") return node.text;
  const isPlain = node?.kind === "list" && node.items.every((item) => item?.kind === "scalar");
  return isPlain ? node.items.map(textOf).filter((text) => text !== "").join(", ") : "";
}

/** A name for an outline; one is needed even while there is nothing to name. */
function nameOf(text: string): string {
  return outlineText(text.trim()) || "…";
}

/** What can be folded: every key and item with more than one line. */
export function sessionFolds(view: SessionView): readonly Span[] {
  const folds: Span[] = [];
  const isLong = ({ from, to }: Span): boolean => view.text.slice(from, to).includes("\n");
  const visit = (node: LooseNode | null): void => {
    if (node?.kind === "list") for (const item of node.items) add(item, item?.from ?? 0);
    if (node?.kind === "map") for (const { key, value } of node.entries) add(value, key.from);
  };
  const add = (node: LooseNode | null, from: number): void => {
    if (node === null) return;
    const span = { from, to: endOf(node) };
    if (!isLong(span)) return;
    folds.push(span);
    visit(node);
  };
  visit(looseTreeOf(view));
  return folds;
}

/** The exports that a session names, as links. */
export function sessionLinks(view: SessionView): readonly LinkAnswer[] {
  const sources = nodeAt(looseTreeOf(view), "sources");
  const items = sources?.kind === "list" ? sources.items : [sources];
  return items.flatMap((item): LinkAnswer[] => {
    const file = item?.kind === "map" ? item.entries.find(({ key }) => key.text === "file")?.value : item;
    const path = file?.kind === "scalar" ? pathOf(view, file.text) : null;
    return file?.kind === "scalar" && path !== null ? [{ ...insideQuotes(file), path }] : [];
  });
}

function pathOf(view: SessionView, file: string): string | null {
  const path = file === "" ? null : resolvePath(folderOf(view.path), file).value;
  return path === "" ? null : path;
}

/** The stretch of a name or value without its quotes. */
export function insideQuotes({ from, to, quote, isClosed }: LooseScalar): Span {
  return quote === "" ? { from, to } : { from: from + 1, to: isClosed ? to - 1 : to };
}

/**
 * Where what stands at an offset is defined: a header in the exports, a head under `heads`, a shot column under `columns`
 * or, where it is read without being mapped, in the exports; a path leads to its file.
 */
export function sessionDefinitions(view: SessionView, offset: number): readonly FilePlace[] {
  const place = placeIn(looseTreeOf(view), offset);
  if (place === null) return [];
  const { text } = place.scalar;
  if (place.role === "key") return definitionsOfKey(view, place);
  for (const shape of shapesAt(place.path)) {
    const places = shape.kind === "choice" && isShotColumn(text) ? columnPlaces(view, text) : shape.kind === "name" ? namePlaces(view, place, shape.of) : [];
    if (places.length > 0) return places;
  }
  return [];
}

function definitionsOfKey(view: SessionView, { path, scalar, entry }: SessionPlace): readonly FilePlace[] {
  if (path.length !== 1 || !isShotColumn(scalar.text)) return [];
  if (path[0] !== "columns") return columnPlaces(view, scalar.text);
  const value = entry?.value ?? null;
  return headerPlaces(view, textOf(value?.kind === "map" ? nodeAt(value, "from") : value));
}

function namePlaces(view: SessionView, place: SessionPlace, of: string): readonly FilePlace[] {
  const { text } = place.scalar;
  switch (of) {
    case "header":
      return headerPlaces(view, text);
    case "column or header":
      return isShotColumn(text) ? columnPlaces(view, text) : headerPlaces(view, text);
    case "head":
      return keyPlaces(view, "heads", text);
    case "value":
      return siblingText(place, "column") === "head" ? keyPlaces(view, "heads", text) : [];
    case "export": {
      const path = pathOf(view, text);
      return path === null ? [] : [{ path, range: textStart }];
    }
    default:
      return [];
  }
}

function columnPlaces(view: SessionView, column: string): readonly FilePlace[] {
  const mapped = keyPlaces(view, "columns", column);
  return mapped.length > 0 ? mapped : headerPlaces(view, column);
}

function headerPlaces(view: SessionView, name: string): readonly FilePlace[] {
  return view.exports.flatMap(({ path, headers }) => headers.filter((header) => header.name === name).map(({ range }) => ({ path, range })));
}

/** Where a key of one of the session's own maps stands. */
function keyPlaces(view: SessionView, map: string, name: string): readonly FilePlace[] {
  const node = nodeAt(looseTreeOf(view), map);
  const entry = node?.kind === "map" ? node.entries.find(({ key, hasColon }) => hasColon && key.text === name) : undefined;
  return entry === undefined ? [] : [{ path: view.path, range: lineTable(view.text).rangeAt(entry.key.from, entry.key.to) }];
}
