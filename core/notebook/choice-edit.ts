import { isFlow, type YamlSource } from "../session/yaml-edits";
import { lineEndOf } from "../session/apply-edits";
import type { TextEdit } from "../problem";
import { lineTable, type TextRange } from "../text-position";
import { yamlScalar } from "../yaml-scalar";
import { readYaml, type YamlEntry, type YamlMap, type YamlNode } from "../yaml-text";

/** What is to be chosen: values (`null` for any), bounds as they are written (`null` for none), or a word. */
export type Choosing =
  | { readonly kind: "values"; readonly values: readonly string[] | null }
  | { readonly kind: "range"; readonly from: string | null; readonly to: string | null }
  | { readonly kind: "word"; readonly word: string };

/**
 * The edits that make a choice in the text of the front matter; comments and layout stay, and where the choice stands on
 * one line, that line alone changes. None where nothing has to change; `null` where there is no such choice to be edited.
 *
 * @example editChoice("choose:\n  head: { of: head, is: any }", "head", { kind: "values", values: ["Wren"] })
 */
export function editChoice(text: string, name: string, choosing: Choosing): readonly TextEdit[] | null {
  const root = readYaml(text).value;
  const map = entryIn(entryIn(root, "choose")?.value ?? null, name)?.value;
  if (map?.kind !== "map" || map.entries.length === 0) return null;
  const source: YamlSource = { body: text, lines: lineTable(text) };
  if (choosing.kind === "range") return boundEdits(source, map, choosing);
  const wanted = choosing.kind === "word" ? choosing.word : choosing.values;
  return setEntry(source, map, "is", (old) => writtenChoice(old, wanted));
}

function boundEdits(source: YamlSource, map: YamlMap, { from, to }: Extract<Choosing, { kind: "range" }>): readonly TextEdit[] | null {
  const edits: TextEdit[] = [];
  const bounds = { from, to };
  const added: string[] = [];
  for (const key of ["from", "to"] as const) {
    const wanted = bounds[key];
    const entry = entryIn(map, key);
    if (entry !== undefined) {
      const written = wanted === null ? "" : yamlScalar(wanted, "flow");
      const edit = replaced(source, entry, written);
      if (edit === null) return null;
      edits.push(...edit);
    } else if (wanted !== null) added.push(`${key}: ${yamlScalar(wanted, "flow")}`);
  }
  // A bound that was not there goes behind what is, or before it where it is the lower one.
  const end = entryIn(map, "to");
  if (added.length > 0 && added[0]!.startsWith("from") && end !== undefined) {
    const at = end.keyRange.start;
    edits.push({ range: { start: at, end: at }, text: isFlow(source, map) ? `${added[0]!}, ` : `${added[0]!}${lineEndOf(source.body)}${" ".repeat(at.column - 1)}` });
  } else if (added.length > 0) edits.push(...behind(source, map, added));
  return edits;
}

/** The value of a key, set; the key is added behind the others where it is not there. */
function setEntry(source: YamlSource, map: YamlMap, key: string, write: (old: YamlNode | null) => string): readonly TextEdit[] | null {
  const entry = entryIn(map, key);
  return entry === undefined ? behind(source, map, [`${key}: ${write(null)}`]) : replaced(source, entry, write(entry.value));
}

/** The edits that put `written` in the place of a value; none where it stands there already, `null` for a value over several lines with comments in it. */
function replaced({ body, lines }: YamlSource, { keyRange, value }: YamlEntry, written: string): readonly TextEdit[] | null {
  const after = lines.offsetAt(keyRange.end);
  const colon = body.indexOf(":", after);
  const isNone = value.kind === "scalar" && value.text === "" && !value.quoted;
  const from = isNone ? colon + 1 : lines.offsetAt(value.range.start);
  const to = isNone ? colon + 1 : trimmedEnd(body, from, lines.offsetAt(value.range.end));
  const old = body.slice(from, to);
  if (old === written) return [];
  if (/[\r\n]/u.test(old) && /#/u.test(old)) return null;
  // A list over lines of its own becomes one on the line of its key.
  const isBelow = lines.positionAt(from).line > keyRange.end.line;
  const start = isNone || isBelow ? colon + 1 : from;
  const space = isNone || isBelow ? " " : "";
  if (written === "") return [{ range: rangeOf(lines, colon + 1, to), text: "" }];
  return [{ range: rangeOf(lines, start, to), text: `${space}${written}` }];
}

function behind(source: YamlSource, map: YamlMap, added: readonly string[]): readonly TextEdit[] {
  const { body, lines } = source;
  const last = map.entries.at(-1)!;
  const isNone = last.value.kind === "scalar" && last.value.text === "" && !last.value.quoted;
  const from = lines.offsetAt(last.value.range.start);
  const at = isNone ? body.indexOf(":", lines.offsetAt(last.keyRange.end)) + 1 : trimmedEnd(body, from, lines.offsetAt(last.value.range.end));
  if (isFlow(source, map)) return [{ range: rangeOf(lines, at, at), text: `, ${added.join(", ")}` }];
  const line = /[^\r\n]*/u.exec(body.slice(at))![0].length;
  const lead = `${lineEndOf(body)}${" ".repeat(last.keyRange.start.column - 1)}`;
  return [{ range: rangeOf(lines, at + line, at + line), text: added.map((each) => `${lead}${each}`).join("") }];
}

/** What is chosen, as it stands in YAML. */
function writtenChoice(old: YamlNode | null, wanted: string | readonly string[] | null): string {
  if (wanted === null) return "any";
  if (typeof wanted === "string") return yamlScalar(wanted, "flow");
  return wanted.length === 1 && old?.kind !== "list" ? chosenScalar(wanted[0]!) : `[${wanted.map(chosenScalar).join(", ")}]`;
}

/** A value of a choice as it stands in YAML: `any` as a value of that name is quoted. */
export function chosenScalar(text: string): string {
  return text === "any" ? '"any"' : yamlScalar(text, "flow");
}

function entryIn(node: YamlNode | null, key: string): YamlEntry | undefined {
  return node?.kind === "map" ? node.entries.find((entry) => entry.key === key) : undefined;
}

/** The end of a value without the blanks and line ends behind it. */
function trimmedEnd(body: string, from: number, to: number): number {
  return from + body.slice(from, to).trimEnd().length;
}

function rangeOf(lines: YamlSource["lines"], from: number, to: number): TextRange {
  return lines.rangeAt(from, to);
}
