import { closestName } from "../closest-name";
import { problem, type Checked, type Problem } from "../problem";
import { shotColumnFacts, shotColumnNames } from "../table/shot-columns";
import { isConvertible, parseMeasure, unitFor, type UnitSystem } from "../units";
import type { YamlEntry, YamlMap, YamlNode, YamlScalar } from "../yaml-text";
import { boundText, isUpsideDown, type Bound, type NotebookChoice } from "./choice";

/** What the keys of one choice say, for completion and hover. */
export const choiceKeyHelp = {
  of: "the column whose values are chosen from; shots.choose(\"NAME\") keeps the rows that the choice lets through",
  is: "what is chosen: any, one value, or a list of values; of a choice among words, the one word",
  from: "the least number that is let through, with its unit",
  to: "the greatest number that is let through, with its unit",
  among: "words to choose one from; chosen.NAME stands for it in a cell",
} as const satisfies Record<string, string>;

const choiceKeys = Object.keys(choiceKeyHelp);
const examples = "{ of: head, is: any }, { of: carry, from: 120 yd } or { among: [carry, offline], is: carry }";

/** The most choices, and values of one, that are read: as many as anybody can look over. Common practice, no source. */
const mostListed = 100;

/**
 * Reads the named choices of the front matter, the value of its key `choose`. One that cannot be read is left out, which
 * is said; that its column and values are in the data is for the check of the whole notebook.
 */
export function readChoices(node: YamlNode, system: UnitSystem): Checked<readonly NotebookChoice[]> {
  if (isLeftOut(node)) return { value: [], problems: [] };
  if (node.kind !== "map") return { value: [], problems: [refused("choose", node, `names with what is chosen: { head: { of: head, is: any } }`)] };
  const problems: Problem[] = [];
  const value = node.entries.slice(0, mostListed).flatMap((entry) => readChoice(entry, system, problems) ?? []);
  if (node.entries.length > mostListed) problems.push(refused("choose", node, `at most ${mostListed} choices`));
  return { value, problems };
}

/** True for what a choice can be called: a name that can stand behind `chosen.`. */
export function isChoiceName(name: string): boolean {
  return /^[\p{ID_Start}_][\p{ID_Continue}]*$/u.test(name);
}

function readChoice({ key: name, keyRange: nameRange, value: map }: YamlEntry, system: UnitSystem, problems: Problem[]): NotebookChoice | null {
  const refuse = (node: YamlNode, accepted: string, nearest: string | null = null): null => {
    problems.push(refused(name, node, accepted, nearest));
    return null;
  };
  if (!isChoiceName(name)) {
    problems.push(problem("nb.choice-name", { name }, nameRange));
    return null;
  }
  if (map.kind !== "map") return refuse(map, `a choice such as ${examples}`);
  for (const { key, keyRange } of map.entries) {
    if (choiceKeys.includes(key)) continue;
    const nearest = closestName(key, choiceKeys);
    problems.push(problem("nb.choice-key", { name, key, nearest: nearest ?? undefined, known: choiceKeys }, keyRange, nearest === null ? {} : { fix: { title: `Change to ${nearest}`, edits: [{ range: keyRange, text: nearest }] } }));
    return null;
  }
  const [of, is, from, to, among] = ["of", "is", "from", "to", "among"].map((key) => valueOf(map, key));
  if ((of === undefined) === (among === undefined)) return refuse(map, `either of a column or among words: ${examples}`);
  if (among !== undefined) {
    const known = words(among);
    if (from !== undefined || to !== undefined) return refuse(from ?? to!, "among words, without from and to");
    if (known === null || known.length === 0) return refuse(among, "among a list of words: { among: [carry, offline], is: carry }");
    if (is === undefined) return refuse(map, `one of its words: is: ${known[0]!.text}`);
    const list = known.map(({ text }) => text);
    if (is.kind === "scalar" && list.includes(is.text)) return { kind: "word", name, nameRange, among: list, word: is.text };
    return refuse(is, `one of ${list.join(", ")}`, is.kind === "scalar" ? closestName(is.text, list) : null);
  }
  if (of!.kind !== "scalar" || of!.text === "") return refuse(of!, "of one column: of: head");
  const column = { name, nameRange, column: of!.text, columnRange: of!.range };
  if (from === undefined && to === undefined && is !== undefined) {
    if (is.kind === "scalar" && is.text === "any" && !is.quoted) return { kind: "values", ...column, values: null };
    const values = is.kind === "scalar" && !isLeftOut(is) ? [is] : words(is);
    if (values === null || values.length === 0) return refuse(is, "any, one value, or a list of at least one value");
    const any = is.kind === "list" ? values.find(({ text, quoted }) => text === "any" && !quoted) : undefined;
    if (any !== undefined) {
      problems.push(anyInList(name, is, any, values));
      return { kind: "values", ...column, values: null };
    }
    return { kind: "values", ...column, values };
  }
  if (is !== undefined) return refuse(is, "either is, or from and to");
  const isNumber = shotColumnFacts(of!.text)?.kind !== "text";
  if (!isNumber) {
    if (from === undefined && to === undefined) return { kind: "values", ...column, values: null };
    return refuse(from ?? to!, `is, since ${of!.text} holds text: { of: ${of!.text}, is: any }`);
  }
  const bounds = [from, to].map((node) => (node === undefined || isLeftOut(node) ? null : readBound(node, column.column, system, refuse)));
  const [low, high] = bounds.map((bound) => (bound === "wrong" ? undefined : bound));
  if (low === undefined || high === undefined) return null;
  // It is there all the same: a cell without it would show all rows.
  if (low !== null && high !== null && isUpsideDown(low, high)) problems.push(upsideDown(name, { node: from!, bound: low }, { node: to!, bound: high }));
  return { kind: "range", ...column, from: low, to: high };
}

function readBound(node: YamlNode, column: string, system: UnitSystem, refuse: (node: YamlNode, accepted: string) => null): Bound | "wrong" {
  const quantity = shotColumnFacts(column)?.quantity ?? null;
  const unit = quantity === null ? null : unitFor(quantity, system);
  const text = node.kind === "scalar" ? node.text : "";
  const isPlain = /^-?\d{1,15}(?:\.\d{1,15})?$/u.test(text.trim());
  const measure = parseMeasure(text);
  // Of a column that no shot has from the start, the table that the choice is used on says the unit.
  if (unit === null) {
    if (isPlain) return Number(text);
    if (measure !== undefined && !shotColumnNames.includes(column as (typeof shotColumnNames)[number])) return measure;
  } else if (measure !== undefined && isConvertible(measure.unit, unit)) return measure;
  refuse(node, unit === null ? "a plain number" : `a number with its unit: 120 ${unit}${isPlain ? `; write ${text.trim()} ${unit}` : ""}`);
  return "wrong";
}

function valueOf(map: YamlMap, key: string): YamlNode | undefined {
  return map.entries.find((entry) => entry.key === key)?.value;
}

/** The texts of a list of scalars; `null` for anything else. */
function words(node: YamlNode): readonly YamlScalar[] | null {
  if (node.kind !== "list" || node.items.length > mostListed) return null;
  const scalars = node.items.filter((item) => item.kind === "scalar" && !isLeftOut(item));
  return scalars.length === node.items.length ? (scalars as readonly YamlScalar[]) : null;
}

function refused(key: string, value: YamlNode, accepted: string, instead: string | null = null): Problem {
  const found = value.kind === "scalar" ? value.text : `a ${value.kind}`;
  const fix = instead === null ? {} : { fix: { title: `Change to ${instead}`, edits: [{ range: value.range, text: instead }] } };
  return problem("nb.value", { key, found, accepted }, value.range, fix);
}

/** That `any` stands in a list, which is read as `any` by itself. */
function anyInList(key: string, list: YamlNode, any: YamlScalar, values: readonly YamlScalar[]): Problem {
  const facts = { key, found: `[${values.map(({ text }) => text).join(", ")}]`, accepted: "any, which stands alone, without a list: is: any; in quotes it is a value of that name" };
  const isOneLine = list.range.start.line === list.range.end.line;
  if (values.length > 1 || !isOneLine) return problem("nb.value", facts, any.range);
  return problem("nb.value", facts, any.range, { fix: { title: "Change to any", edits: [{ range: list.range, text: "any" }] } });
}

/** A bound with its place. */
interface PlacedBound {
  readonly node: YamlNode;
  readonly bound: Bound;
}

function upsideDown(key: string, from: PlacedBound, to: PlacedBound): Problem {
  const [low, high] = [boundText(from.bound), boundText(to.bound)];
  const edits = [{ range: from.node.range, text: high }, { range: to.node.range, text: low }];
  return problem("nb.value", { key, found: `from ${low} to ${high}`, accepted: "a range whose from is not above its to" }, from.node.range, { fix: { title: "Swap from and to", edits } });
}

function isLeftOut(value: YamlNode): boolean {
  return value.kind === "scalar" && value.text === "" && !value.quoted;
}
