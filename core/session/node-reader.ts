import { closestName } from "../closest-name";
import { defaultLimits } from "../limits";
import type { Fix, Problem } from "../problem";
import { problem } from "../problem";
import { oneOf, shown } from "../problem-kind";
import type { Quantity, Unit, Measure } from "../units";
import { convert, isConvertible, parseMeasure, parseUnit, units } from "../units";
import type { TextRange } from "../text-position";
import type { YamlEntry, YamlMap, YamlNode } from "../yaml-text";

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
  private readonly keys = new Map<YamlMap, ReadonlySet<string>>();

  /**
   * The entries of a map, each key one of `keys`; a missing or wrong map gives none. A key that is reported with the one
   * that was meant is read as that one, so that nothing seems to be missing besides.
   *
   * @param where what the map is, for messages: `a head`.
   */
  entries<K extends string>(node: YamlNode | undefined, where: string, keys: readonly K[]): Entries<K> {
    const known = new Map<K, YamlEntry>();
    for (const entry of this.map(node, where)) {
      if ((keys as readonly string[]).includes(entry.key)) known.set(entry.key as K, entry);
      else {
        const meant = this.unknownKey(entry, where, keys, node);
        if (meant !== null && !known.has(meant)) known.set(meant, entry);
      }
    }
    return known;
  }

  /** Says that a map has a key that means nothing in it, with the one that was meant, which is given unless it is there as well. */
  unknownKey<K extends string>({ key, keyRange }: YamlEntry, where: string, keys: readonly K[], map: YamlNode | undefined): K | null {
    const near = this.nearest(key, keys);
    const isTaken = near !== undefined && map?.kind === "map" && this.hasKey(map, near);
    const facts = { key, where, keys, ...(near === undefined ? {} : { near }) };
    this.problems.push(problem("session.unknown-key", facts, keyRange, isTaken ? {} : writing(near, keyRange)));
    return isTaken ? null : (near ?? null);
  }

  /** The candidate that was meant; not looked for once so many problems are found that no further one is shown. */
  nearest<C extends string>(text: string, candidates: readonly C[]): C | undefined {
    if (this.problems.length >= defaultLimits.problems) return undefined;
    return (closestName(text, candidates) as C | null) ?? undefined;
  }

  /** True when the map has the key; each map is gone through once. */
  hasKey(map: YamlMap, key: string): boolean {
    const known = this.keys.get(map) ?? new Set(map.entries.map((entry) => entry.key));
    this.keys.set(map, known);
    return known.has(key);
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

  /**
   * A text that is not empty, white space off its ends.
   *
   * @param wanted what is accepted, for the message where there is none.
   */
  text(node: YamlNode | undefined, what: string, wanted = "a text"): string | null {
    if (node === undefined) return null;
    if (node.kind !== "scalar" || node.text.trim() === "") {
      this.wrongShape(node, what, wanted);
      return null;
    }
    return node.text.trim();
  }

  /** One of a few words. */
  choice<C extends string>(node: YamlNode | undefined, what: string, choices: readonly C[]): C | null {
    const text = this.text(node, what, `one of ${oneOf(choices, 60)}`);
    if (node === undefined || text === null) return null;
    if ((choices as readonly string[]).includes(text)) return text as C;
    const near = this.nearest(text, choices) ?? onlyBegunBy(text, choices);
    const facts = { what, text, choices, ...(near === undefined ? {} : { near }) };
    this.problems.push(problem("session.wrong-choice", facts, node.range, writing(near, node.range)));
    return null;
  }

  /** A whole number from `least` to `most`. */
  whole(node: YamlNode | undefined, what: string, { least, most }: { readonly least: number; readonly most: number }): number | null {
    const wanted = `a whole number from ${least} to ${most}`;
    const text = this.text(node, what, wanted);
    if (node === undefined || text === null) return null;
    const value = /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
    if (value >= least && value <= most) return value;
    this.problems.push(problem("session.wrong-number", { what, text, wanted }, node.range));
    return null;
  }

  /** `true` or `false`. */
  truth(node: YamlNode | undefined, what: string): boolean | null {
    const text = node?.kind === "scalar" ? node.text.trim().toLowerCase() : "";
    const meant = /^(?:yes|y|on)$/u.test(text) ? "true" : /^(?:no|n|off)$/u.test(text) ? "false" : null;
    if (node !== undefined && meant !== null) {
      const facts = { what, text, choices: ["true", "false"], near: meant };
      this.problems.push(problem("session.wrong-choice", facts, node.range, writing(meant, node.range)));
      return null;
    }
    const word = this.choice(node, what, ["true", "false"]);
    return word === null ? null : word === "true";
  }

  /**
   * A number with a unit of the quantity.
   *
   * @param usual the unit that a number without one is most likely in; left out where there is no such unit.
   */
  measure(node: YamlNode | undefined, what: string, quantity: Quantity, usual?: Unit): Measure | null {
    return this.measureIn(node, what, unitsOf(quantity), usual);
  }

  /** A number with one of the units. */
  measureIn(node: YamlNode | undefined, what: string, accepted: readonly Unit[], usual?: Unit): Measure | null {
    const text = this.text(node, what, `a number and its unit, such as 3 ${accepted[0] ?? ""}`);
    if (node === undefined || text === null) return null;
    const measure = parseMeasure(text);
    if (measure !== undefined && accepted.includes(measure.unit)) return measure;
    const { fix } = writing(meantMeasure(text, accepted, usual), node.range);
    // Which unit a number without one is in, only a person can know.
    const isUnitLeftOut = /[\d.,]$/u.test(text);
    const more = fix === undefined ? {} : { fix: isUnitLeftOut ? { ...fix, byPerson: true as const } : fix };
    this.problems.push(problem("session.wrong-measure", { what, text, units: accepted }, node.range, more));
    return null;
  }

  /** A measure that a person is likely to have meant lies between the limits, or it is warned of; it is kept. */
  likely(node: YamlNode | undefined, what: string, quantity: Quantity, low: Measure, high: Measure, usual?: Unit): Measure | null {
    const number = node?.kind === "scalar" ? Number(node.text) : Number.NaN;
    // A number that is not likely in the usual unit is in some other one.
    const isLikely = usual !== undefined && convert(number, usual, low.unit) >= low.value && convert(number, usual, high.unit) <= high.value;
    const measure = this.measure(node, what, quantity, isLikely ? usual : undefined);
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

/** What is accepted where any text is, in words: with those that are usual. */
export function textLike({ typical }: { readonly typical: readonly string[] }): string {
  return `a text, such as ${oneOf(typical)}`;
}

/** True for a value that is left out: `heads:` with nothing behind it. */
export function isLeftOut(node: YamlNode): boolean {
  return node.kind === "scalar" && !node.quoted && node.text === "";
}

/** The fix that writes `text` in place of what is there; none where nothing is near. */
export function writing(text: string | undefined, range: TextRange): { readonly fix?: Fix } {
  return text === undefined ? {} : { fix: { title: `Write ${text}`, edits: [{ range, text }] } };
}

/** The one choice that the text is the beginning of: `R` for right. */
function onlyBegunBy<C extends string>(text: string, choices: readonly C[]): C | undefined {
  const begun = choices.filter((choice) => choice.startsWith(text.toLowerCase()));
  return begun.length === 1 ? begun[0] : undefined;
}

/** What was most likely meant by a text that is no measure: a decimal comma, a slip in the unit, the unit left out. */
function meantMeasure(text: string, accepted: readonly Unit[], usual: Unit | undefined): string | undefined {
  const [, number = "", word = ""] = /^([-+\u2212]?\d+(?:[.,]\d+)?)\s*(.*)$/u.exec(text) ?? [];
  if (number === "") return undefined;
  const parsed = parseUnit(word);
  const unit = word === "" ? usual : parsed !== undefined && accepted.includes(parsed) ? word : (closestName(word, accepted) ?? undefined);
  return unit === undefined ? undefined : `${number.replace(",", ".")} ${unit}`;
}
