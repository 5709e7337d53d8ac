import type { Span } from "../../core/query/syntax";
import { isShotColumn } from "../../core/table/shot-columns";
import { insideQuotes } from "./session-outline";
import { looseTreeOf, placeIn, shapesAt, siblingText, type SessionPlace } from "./session-place";
import type { LooseEntry, LooseList, LooseMap, LooseNode } from "./session-text";
import type { SessionView } from "./session-view";

/** What a name in a session file is the name of. */
type Named = "head" | "column" | "header";

/** One place of a name in a session file, without its quotes. */
export interface SessionName extends Span {
  /** True where the session says what the name is: under `heads`, and under `columns`. */
  readonly isDeclaration: boolean;
}

/** Every place in a session file of the head, the shot column or the header whose name stands at an offset; none for anything else. */
export function sessionNamesAt(view: SessionView, offset: number): readonly SessionName[] {
  const root = looseTreeOf(view);
  const at = placeIn(root, offset);
  const named = at === null ? null : namedAt(at);
  if (at === null || named === null) return [];
  const same = (place: SessionPlace): boolean => place.scalar.text === at.scalar.text && namedAt(place) === named;
  return placesIn(root).filter(same).map((place) => ({ ...insideQuotes(place.scalar), isDeclaration: isDeclaration(place) }));
}

function isDeclaration({ role, path }: SessionPlace): boolean {
  return role === "key" && path.length === 1 && (path[0] === "heads" || path[0] === "columns");
}

/** What the name at a place is the name of; `null` for keys of the session itself and for other values. */
function namedAt(place: SessionPlace): Named | null {
  const { scalar, role, path } = place;
  if (scalar.text === "") return null;
  for (const shape of shapesAt(path)) {
    if (role === "key") {
      if (shape.kind === "entries") return shape.keys === "heads" ? "head" : isShotColumn(scalar.text) ? "column" : null;
    } else if (shape.kind === "choice" && isShotColumn(scalar.text)) return "column";
    else if (shape.kind === "name") {
      if (shape.of === "head" || (shape.of === "value" && siblingText(place, "column") === "head")) return "head";
      if (shape.of === "header") return "header";
      if (shape.of === "column or header") return isShotColumn(scalar.text) ? "column" : "header";
    }
  }
  return null;
}

/** Every key and value of a tree, in the order of the text. */
function placesIn(root: LooseNode | null): readonly SessionPlace[] {
  const places: SessionPlace[] = [];
  const visit = (node: LooseNode | null, path: readonly (string | null)[], around: readonly (LooseMap | LooseList)[], entry: LooseEntry | null): void => {
    if (node === null) return;
    if (node.kind === "scalar") {
      places.push({ scalar: node, role: entry === null ? "item" : "value", path, around, entry });
      return;
    }
    const inside = [...around, node];
    if (node.kind === "list") for (const item of node.items) visit(item, [...path, null], inside, null);
    else
      for (const each of node.entries) {
        places.push({ scalar: each.key, role: "key", path, around: inside, entry: each });
        visit(each.value, [...path, each.key.text], inside, each);
      }
  };
  visit(root, [], [], null);
  return places;
}
