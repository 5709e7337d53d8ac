import { contentKey } from "../content-key";

/** Names that Vega reads as they stand; none of them begins with `x_`. */
const plain = /^(?!x_)[\p{L}\p{N}][\p{L}\p{N}_ ()%/-]{0,59}$/u;

/**
 * The name under which a column goes into a chart's data.
 *
 * Vega reads `.`, `[`, quotes and backslashes in a field's name as a path into an object, and some names (`__proto__`,
 * `constructor`) are no ordinary keys. Plain names stay as they are; any other is `x_` and the codes of its characters,
 * or a key of it when it is long, since every row repeats it. What a reader sees is the title, which has the real name.
 * @example fieldName("a.b") // "x_61_2e_62"
 */
export function fieldName(column: string): string {
  if (plain.test(column) && !(column in Object.prototype)) return column;
  if (column.length > 60) return `x_${contentKey(column)}`;
  return `x_${Array.from({ length: column.length }, (_, i) => column.charCodeAt(i).toString(16)).join("_")}`;
}

/** The key of a row's group in data that a chart derives: no column goes into a chart under it. */
export const groupField = "x_group";

/** A column's name in words: `ball_speed` is `ball speed`. */
export function inWords(column: string): string {
  return harmless(column.replaceAll("_", " ").trim() || '""');
}

/**
 * A title or a value as Vega and Vega-Lite can take it: they keep both as keys of objects, where words such as
 * `constructor` mean something else. Such a word gets a space behind it, which nobody sees.
 */
export function harmless(text: string): string {
  return text in Object.prototype ? `${text} ` : text;
}
