import { problem } from "../problem";
import type { Measure } from "../units";
import { convert } from "../units";
import type { TextRange } from "../text-position";
import type { YamlEntry, YamlNode } from "../yaml-text";
import { headDefaults } from "./head-defaults";
import type { NodeReader } from "./node-reader";
import type { HeadDescription } from "./session";
import type { HeadKind } from "./session-facts";
import { keysOf } from "./session-keys";
import { sessionShapes } from "./session-shapes";

/** The `heads` of a session: what is stated about each build. A head without a kind is taken for an iron. */
export function readHeads(reader: NodeReader, node: YamlNode | undefined): HeadDescription[] {
  const heads = reader.map(node, "heads").map((entry) => readHead(reader, entry));
  const owners = new Map<string, string>();
  for (const head of heads) owners.set(head.name, head.name);
  for (const { name: head, calledRanges, called } of heads) {
    called.forEach((name, i) => {
      const owner = owners.get(name);
      if (owner !== undefined && owner !== head)
        reader.problems.push(problem("session.stated-twice", { what: "head's name", name, first: owner }, calledRanges[i]!));
      else owners.set(name, head);
    });
  }
  return heads.map(({ calledRanges: _calledRanges, ...head }) => head);
}

function readHead(reader: NodeReader, { key, keyRange, value }: YamlEntry): HeadDescription & { readonly calledRanges: readonly TextRange[] } {
  const where = `the head ${key}`;
  const entries = reader.entries(value, where, keysOf("head"));
  const kindNode = entries.get("kind")?.value;
  const stated: HeadKind | null = kindNode === undefined ? reader.missingKey("kind", where, value) : reader.choice(kindNode, "kind of head", sessionShapes.head.kind.choices);
  const kind = stated ?? "iron";
  const text = (name: "design" | "set" | "club" | "shaft"): Partial<Record<typeof name, string>> => {
    const read = reader.text(entries.get(name)?.value, `the ${name} of ${key}`);
    return read === null ? {} : { [name]: read };
  };
  const likely = (name: "loft" | "lie" | "length", low: Measure, high: Measure): Partial<Record<typeof name, Measure>> => {
    const quantity = name === "length" ? "club length" : "angle";
    const read = reader.likely(entries.get(name)?.value, `${name} of a head`, quantity, low, high, low.unit);
    return read === null ? {} : { [name]: read };
  };
  const called = reader.list(entries.get("called")?.value).flatMap((item) => {
    const name = reader.text(item, `another name of ${key}`);
    return name === null ? [] : [{ name, range: item.range }];
  });
  const reference = readReference(reader, entries.get("strike_reference")?.value, key, kind);
  return {
    name: key,
    nameRange: keyRange,
    kind,
    ...text("design"),
    ...text("set"),
    ...text("club"),
    ...likely("loft", { value: 5, unit: "deg" }, { value: 70, unit: "deg" }),
    ...likely("lie", { value: 45, unit: "deg" }, { value: 75, unit: "deg" }),
    ...likely("length", { value: 30, unit: "in" }, { value: 50, unit: "in" }),
    ...text("shaft"),
    strikeReference: reference,
    referenceAssumed: !entries.has("strike_reference"),
    called: called.map(({ name }) => name),
    calledRanges: called.map(({ range }) => range),
  };
}

function readReference(reader: NodeReader, node: YamlNode | undefined, head: string, kind: HeadKind): HeadDescription["strikeReference"] {
  const usual = headDefaults[kind].strikeReference;
  const entries = reader.entries(node, `the strike_reference of ${head}`, keysOf("strike_reference"));
  const read = (axis: "x" | "y"): number => {
    const edge: Measure = { value: 45, unit: "mm" };
    const what = `strike reference ${axis}`;
    const measure = reader.likely(entries.get(axis)?.value, what, "face distance", { ...edge, value: -45 }, edge, "mm");
    return measure === null ? usual[axis] : convert(measure.value, measure.unit, "mm");
  };
  return { x: read("x"), y: read("y") };
}
