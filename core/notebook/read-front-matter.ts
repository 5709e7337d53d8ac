import { checkPath } from "../path";
import { placedPath } from "../placed-path";
import type { Checked, Problem } from "../problem";
import { problem } from "../problem";
import { closestName } from "../closest-name";
import { shotColumnFacts } from "../table/shot-columns";
import { lineTable, onOneLine, type LineTable, type TextPosition } from "../text-position";
import type { Measure, UnitSystem } from "../units";
import { isConvertible, parseMeasure, unitFor, unitSystems } from "../units";
import type { YamlEntry, YamlNode, YamlScalar } from "../yaml-text";
import { readYaml } from "../yaml-text";
import { besidesSyntax } from "../yaml-syntax";
import type { FrontMatter, NamedPath } from "./document";
import type { NotebookChoice } from "./choice";
import { readChoices } from "./read-choices";
import { frontMatterKeys, marginColumns } from "./front-matter-keys";

/** The largest seed: 32 bits, which is what the generators take. */
const largestSeed = 2 ** 32 - 1;

/** A front matter while it is read. */
interface Draft {
  title: string | null;
  shots: readonly NamedPath[];
  units: UnitSystem;
  margins: Readonly<Record<string, Measure>>;
  marginsUnread: boolean;
  seed: number;
  choices: readonly NotebookChoice[];
}

/**
 * Reads the front matter of a notebook, the YAML between its `---` lines. What is absent or cannot be read has its
 * default: no title, no sessions, yards and miles per hour, no margins, seed 1.
 *
 * Paths are checked by grammar alone; `folder/*.session.yaml` stands for the sessions of a folder. Unknown keys are
 * reported and otherwise left alone. That the format is newer than ours is for `parseNotebook` to say.
 */
export function readFrontMatter(text: string): Checked<FrontMatter> {
  const { value: root, problems: found } = readYaml(text);
  const problems: Problem[] = [...found];
  const draft: Draft = { title: null, shots: [], units: unitSystems[0]!, margins: {}, marginsUnread: false, seed: 1, choices: [] };
  if (root !== null && root.kind !== "map") problems.push(problem("nb.not-a-map", {}, root.range));
  const entries = root?.kind === "map" ? root.entries : [];
  // Margins without a unit are taken to be in these.
  draft.units = unitsIn(entries) ?? draft.units;
  const lines = lineTable(text);
  for (const entry of entries) problems.push(...besidesSyntax(readEntry(entry, draft, text, lines), found));
  return { value: draft, problems: problems.map((each) => ({ ...each, range: onOneLine(each.range, lines) })) };
}

function unitsIn(entries: readonly YamlEntry[]): UnitSystem | undefined {
  const value = entries.find(({ key }) => key === "units")?.value;
  return value?.kind === "scalar" ? unitSystems.find((system) => system === value.text) : undefined;
}

function readEntry(entry: YamlEntry, draft: Draft, text: string, lines: LineTable): readonly Problem[] {
  const { key, keyRange, value } = entry;
  switch (key) {
    case "fairstrike":
      return isWhole(value, 1, 999_999_999) ? [] : [refused(key, value, "the format of the notebook, 1")];
    case "title":
      if (value.kind !== "scalar") return [refused(key, value, "a line of text")];
      draft.title = value.text === "" ? null : value.text;
      return [];
    case "shots":
      return readShots(value, draft, (from, to) => text.slice(lines.offsetAt(from), lines.offsetAt(to)));
    case "units": {
      if (unitsIn([entry]) !== undefined) return [];
      const near = value.kind === "scalar" ? closestName(value.text, unitSystems) : null;
      return [refused(key, value, unitSystems.join(", "), near)];
    }
    case "margin": {
      const problems = readMargins(value, draft);
      draft.marginsUnread = problems.length > 0;
      return problems;
    }
    case "choose": {
      const read = readChoices(value, draft.units);
      draft.choices = read.value;
      return read.problems;
    }
    case "seed":
      if (!isWhole(value, 0, largestSeed)) return [refused(key, value, `a whole number from 0 to ${largestSeed}`)];
      draft.seed = Number(value.text);
      return [];
    default: {
      const nearest = closestName(key, frontMatterKeys);
      const fix = nearest === null ? {} : { fix: { title: `Change to ${nearest}`, edits: [{ range: keyRange, text: nearest }] } };
      return [problem("nb.unknown-key", { key, nearest: nearest ?? undefined, known: frontMatterKeys }, keyRange, fix)];
    }
  }
}

/** Session files, one or a list; a path that is malformed or there twice is reported and left out. */
function readShots(value: YamlNode, draft: Draft, textOf: (from: TextPosition, to: TextPosition) => string): readonly Problem[] {
  if (isLeftOut(value)) return [];
  const problems: Problem[] = [];
  const shots: NamedPath[] = [];
  const items = value.kind === "list" ? value.items : [value];
  for (const [index, item] of items.entries()) {
    if (item.kind !== "scalar") {
      problems.push(refused("shots", item, "the path of a session file, or a list of paths"));
      continue;
    }
    const { text: path, range } = item;
    const faults = checkPath(path.replace(/(^|\/)\*\.session\.yaml$/, "$1x.session.yaml")).problems;
    const write = (instead: string): string => JSON.stringify(instead.replace(/(^|\/)x\.session\.yaml$/u, (name, folder: string) => (path.endsWith("*.session.yaml") ? `${folder}*.session.yaml` : name)));
    if (faults.length > 0) problems.push(...faults.map((fault) => placedPath(fault, range, write)));
    else if (shots.some((other) => other.path === path)) {
      const span = { start: items[index - 1]!.range.end, end: range.end };
      // A comment in between is about something, perhaps about the one before.
      const fix = textOf(span.start, range.start).includes("#") ? {} : { fix: { title: "Leave the second one out", edits: [{ range: span, text: "" }] } };
      problems.push(problem("nb.duplicate-session", { path }, range, fix));
    }
    else shots.push({ path, range });
  }
  draft.shots = shots;
  return problems;
}

function readMargins(value: YamlNode, draft: Draft): readonly Problem[] {
  if (isLeftOut(value)) return [];
  if (value.kind !== "map") return [refused("margin", value, "a margin for each column: { carry: 3 yd, ball_speed: 1 mph }")];
  const problems: Problem[] = [];
  const margins: [string, Measure][] = [];
  for (const entry of value.entries) {
    const margin = readMargin(entry, draft.units);
    if ("unit" in margin) margins.push([entry.key, margin]);
    else problems.push(margin);
  }
  draft.margins = Object.fromEntries(margins);
  return problems;
}

function readMargin({ key: name, keyRange, value }: YamlEntry, system: UnitSystem): Measure | Problem {
  const quantity = shotColumnFacts(name)?.quantity ?? null;
  if (quantity === null) {
    const nearest = closestName(name, marginColumns);
    const fix = nearest === null ? {} : { fix: { title: `Change to ${nearest}`, edits: [{ range: keyRange, text: nearest }] } };
    return problem("nb.margin-column", { name, nearest: nearest ?? undefined, known: marginColumns }, keyRange, fix);
  }
  const unit = unitFor(quantity, system);
  const measure = value.kind === "scalar" ? parseMeasure(value.text) : undefined;
  if (measure !== undefined && measure.value > 0 && isConvertible(measure.unit, unit)) return measure;
  const found = value.kind === "scalar" ? value.text : `a ${value.kind}`;
  const number = /^\d+(?:\.\d+)?$/u.test(found) && Number(found) > 0 ? found : null;
  const fix = number === null ? {} : { fix: { title: `Add the unit ${unit}`, edits: [{ range: value.range, text: `${number} ${unit}` }] } };
  return problem("nb.margin", { name, found, example: `3 ${unit}` }, value.range, fix);
}

function refused(key: string, value: YamlNode, accepted: string, instead: string | null = null): Problem {
  const found = value.kind === "scalar" ? value.text : `a ${value.kind}`;
  const fix = instead === null ? {} : { fix: { title: `Change to ${instead}`, edits: [{ range: value.range, text: instead }] } };
  return problem("nb.value", { key, found, accepted }, value.range, fix);
}

function isWhole(value: YamlNode, least: number, most: number): value is YamlScalar {
  if (value.kind !== "scalar" || !/^\d{1,15}$/.test(value.text)) return false;
  const number = Number(value.text);
  return number >= least && number <= most;
}

function isLeftOut(value: YamlNode): boolean {
  return value.kind === "scalar" && value.text === "" && !value.quoted;
}
