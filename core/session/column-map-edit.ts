import type { TextEdit } from "../problem";
import type { ShotColumn } from "../table/shot-columns";
import { lineTable } from "../text-position";
import type { YamlNode } from "../yaml-text";
import { readYaml } from "../yaml-text";
import { applyEdits } from "./apply-edits";
import { readSession } from "./read-session";
import type { ColumnMap } from "./session";
import { withoutPlaces } from "./without-places";
import { addEntry, entryOf, writtenInFlow, type YamlSource } from "./yaml-edits";

/** What a session is to say of a column besides its header: the direction of positive numbers, or the unit. */
export interface ColumnStatement {
  readonly key: "positive" | "unit";
  readonly value: string;
}

/**
 * The edit that makes a session file state something of a column, comments and layout kept: the value is changed where it
 * is there, else the key is added; a header alone becomes a map.
 *
 * The edited text is read again: unless it is the same session but for this column, there is no edit.
 *
 * @param text a session file, with or without its byte order mark; ranges are in the text without it.
 * @returns `null` where the column is not mapped, has letters for its sides while a direction is to be stated, or is
 *   written in a way in which it cannot be changed safely.
 * @example columnMapEdit("sources: a.csv\ncolumns:\n  carry: Carry", "carry", { key: "unit", value: "yd" })?.text // '{ from: Carry, unit: yd }'
 */
export function columnMapEdit(text: string, column: ShotColumn, statement: ColumnStatement): TextEdit | null {
  const body = text.startsWith("\ufeff") ? text.slice(1) : text;
  const columns = entryOf(readYaml(body).value, "columns");
  const node = columns === null ? null : entryOf(columns, column);
  if (node === null) return null;
  const edit = editOf({ body, lines: lineTable(body) }, node, statement);
  return edit !== null && isOnlyStated(body, edit, column, statement) ? edit : null;
}

function editOf(source: YamlSource, node: YamlNode, { key, value }: ColumnStatement): TextEdit | null {
  if (node.kind === "scalar") return { range: node.range, text: `{ from: ${writtenInFlow(source, node)}, ${key}: ${value} }` };
  if (node.kind !== "map" || (key === "positive" && entryOf(node, "sides") !== null)) return null;
  const stated = entryOf(node, key);
  if (stated !== null) return { range: stated.range, text: value };
  return addEntry(source, node, "from", `${key}: ${value}`);
}

function isOnlyStated(body: string, edit: TextEdit, column: ShotColumn, { key, value }: ColumnStatement): boolean {
  const [before, after] = [readSession(body), readSession(applyEdits(body, [edit]))];
  const errors = (problems: typeof before.problems): number => problems.filter(({ severity }) => severity === "error").length;
  if (before.value === null || after.value === null || errors(after.problems) > errors(before.problems)) return false;
  const map = after.value.columns.find((each) => each.column === column);
  const old = before.value.columns.find((each) => each.column === column);
  if (map === undefined || old === undefined) return false;
  const isStated = key === "unit" ? map.unit === value : map.flipped !== old.flipped && !map.directionAssumed;
  const others = (columns: readonly ColumnMap[]): readonly ColumnMap[] => columns.map((each) => (each.column === column ? { ...each, unit: null, directionAssumed: false, flipped: false } : each));
  return isStated && withoutPlaces({ ...before.value, columns: others(before.value.columns) }) === withoutPlaces({ ...after.value, columns: others(after.value.columns) });
}
