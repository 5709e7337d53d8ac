import { closestName } from "../closest-name";
import type { Problem } from "../problem";
import { problem } from "../problem";
import { shown } from "../problem-kind";
import type { Quantity, Unit, Measure } from "../units";
import { convert, isConvertible, parseMeasure, units } from "../units";
import type { YamlEntry, YamlNode } from "../yaml-text";

/** The entries of a map by key. */
export type Entries<K extends string> = ReadonlyMap<K, YamlEntry>;

/** Units of a quantity, the one shown by default first, for hints. */
export function unitsOf(quantity: Quantity): readonly Unit[] {
  const all = Object.keys(units) as Unit[];
  const own = all.filter((unit) => units[unit].quantity === quantity);
  return [...own, ...all.filter((unit) => !own.includes(unit) && own.some((first) => isConvertible(first, unit)))];
}

/** Reads values out of YAML nodes and keeps what was wrong with them; every method gives `null` where nothing fits. */
export class NodeReader {
  readonly problems: Problem[] = [];

  /**
   * The entries of a map, each key one of `keys`; a missing or wrong map gives none.
   *
   * @param where what the map is, for messages: `a head`.
   */
  entries<K extends string>(node: YamlNode | undefined, where: string, keys: readonly K[]): Entries<K> {
    const known = new Map<K, YamlEntry>();
    for (const entry of this.map(node, where)) {
      if ((keys as readonly string[]).includes(entry.key)) known.set(entry.key as K, entry);
      else {
        const near = closestName(entry.key, keys) ?? undefined;
        const facts = { key: entry.key, where, keys, ...(near === undefined ? {} : { near }) };
        this.problems.push(problem("session.unknown-key", facts, entry.keyRange, replacing(entry, near)));
      }
    }
    return known;
  }

  /** The entries of a map with free keys. */
  map(node: YamlNode | undefined, what: string): readonly YamlEntry[] {
    if (node === undefined || isLeftOut(node)) return [];
    if (node.kind === "map") return node.entries;
    this.wrongShape(node, what, "a map of keys and values");
    return [];
  }

  /** The items of a list; a single value counts as a list of one. */
  list(node: YamlNode | undefined): readonly YamlNode[] {
    if (node === undefined || isLeftOut(node)) return [];
    return node.kind === "list" ? node.items : [node];
  }

  /** A text that is not empty, white space off its ends. */
  text(node: YamlNode | undefined, what: string): string | null {
    if (node === undefined) return null;
    if (node.kind !== "scalar" || node.text.trim() === "") {
      this.wrongShape(node, what, "a text");
      return null;
    }
    return node.text.trim();
  }

  /** One of a few words. */
  choice<C extends string>(node: YamlNode | undefined, what: string, choices: readonly C[]): C | null {
    const text = this.text(node, what);
    if (node === undefined || text === null) return null;
    if ((choices as readonly string[]).includes(text)) return text as C;
    const near = closestName(text, choices) ?? undefined;
    const facts = { what, text, choices, ...(near === undefined ? {} : { near }) };
    const fix = near === undefined ? {} : { fix: { title: `Write ${near}`, edits: [{ range: node.range, text: near }] } };
    this.problems.push(problem("session.wrong-choice", facts, node.range, fix));
    return null;
  }

  /** A whole number from `least` to `most`. */
  whole(node: YamlNode | undefined, what: string, least: number, most: number): number | null {
    const text = this.text(node, what);
    if (node === undefined || text === null) return null;
    const value = /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
    if (value >= least && value <= most) return value;
    this.problems.push(problem("session.wrong-number", { what, text, wanted: `a whole number from ${least} to ${most}` }, node.range));
    return null;
  }

  /** `true` or `false`. */
  truth(node: YamlNode | undefined, what: string): boolean | null {
    const word = this.choice(node, what, ["true", "false"]);
    return word === null ? null : word === "true";
  }

  /** A number with a unit of the quantity. */
  measure(node: YamlNode | undefined, what: string, quantity: Quantity): Measure | null {
    const text = this.text(node, what);
    if (node === undefined || text === null) return null;
    const accepted = unitsOf(quantity);
    const measure = parseMeasure(text);
    if (measure !== undefined && accepted.includes(measure.unit)) return measure;
    this.problems.push(problem("session.wrong-measure", { what, text, units: accepted }, node.range));
    return null;
  }

  /** A measure that a person is likely to have meant lies between the limits, or it is warned of; it is kept. */
  likely(node: YamlNode | undefined, what: string, quantity: Quantity, low: Measure, high: Measure): Measure | null {
    const measure = this.measure(node, what, quantity);
    if (node === undefined || measure === null) return null;
    const tooLow = convert(measure.value, measure.unit, low.unit) < low.value;
    if (tooLow || convert(measure.value, measure.unit, high.unit) > high.value) {
      const facts = { what, text: `${measure.value} ${measure.unit}`, low: `${low.value} ${low.unit}`, high: `${high.value} ${high.unit}` };
      this.problems.push(problem("session.implausible", facts, node.range));
    }
    return measure;
  }

  /** Says that `where` has no `key`. */
  missingKey(key: string, where: string, node: YamlNode): null {
    const start = node.range.start;
    this.problems.push(problem("session.missing-key", { key, where }, { start, end: start }));
    return null;
  }

  wrongShape(node: YamlNode, what: string, wanted: string): void {
    const found = isLeftOut(node) ? "empty" : node.kind === "scalar" ? shown(node.text) : `a ${node.kind}`;
    this.problems.push(problem("session.wrong-shape", { what, wanted, found }, node.range));
  }
}

/** True for a value that is left out: `heads:` with nothing behind it. */
export function isLeftOut(node: YamlNode): boolean {
  return node.kind === "scalar" && !node.quoted && node.text === "";
}

function replacing(entry: YamlEntry, near: string | undefined): { fix?: { title: string; edits: { range: YamlEntry["keyRange"]; text: string }[] } } {
  return near === undefined ? {} : { fix: { title: `Write ${near}`, edits: [{ range: entry.keyRange, text: near }] } };
}
