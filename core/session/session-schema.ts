import { shotColumns, type ShotColumn, type ShotColumnFacts } from "../table/shot-columns";
import { parseUnit, units, type Quantity, type Unit } from "../units";
import { forbiddenNames } from "../yaml-text";
import { wordsOfDirection } from "./directions";
import { unitsOf } from "./node-reader";
import { keysOf, sessionKeyHelp, type SessionMap } from "./session-keys";
import { columnsThatAre, numberColumns, shapeOf, type Shape } from "./session-shapes";

/** A schema or a part of one, in the keywords of JSON Schema. */
export type JsonSchema = Readonly<Record<string, unknown>> | false;

/**
 * The JSON Schema (draft 2020-12) of a session file as YAML 1.2 readers see it: what may stand behind each key, with the
 * help of each key as its description.
 *
 * A text may come as a number or a truth, because that is what other readers make of `club: 7`. What needs the exports, or
 * two values at once (limits that are crossed, shots stated twice), no schema says; reading does.
 */
export function sessionSchema(): JsonSchema {
  const maps = Object.keys(sessionKeyHelp) as SessionMap[];
  const ofColumns = new Set(numberColumns.flatMap((column) => shotColumns[column].quantity ?? []));
  const quantities: readonly Quantity[] = [...ofColumns, "temperature", "pressure", "share", "club length"];
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    $id: "urn:fairstrike:session",
    title: "Session of shots",
    description: "Everything that the exports of one session do not say: NAME.session.yaml",
    ...mapSchema("session", [], keysOf("session")),
    required: ["session", "sources"],
    $defs: {
      text: { type: ["string", "number", "boolean"], pattern: "\\S" },
      truth: { enum: [true, false, "true", "false"] },
      date: { type: "string", format: "date", pattern: "^\\d{4}-\\d{2}-\\d{2}$" },
      shotNumbers: { anyOf: [{ $ref: "#/$defs/shotRange" }, { type: "array", items: { $ref: "#/$defs/shotRange" } }, { type: "null" }] },
      shotRange: { anyOf: [{ type: "integer", minimum: 1 }, { type: "string", pattern: `^${shotRange}(,${shotRange})*$` }] },
      ...Object.fromEntries(quantities.map((quantity) => [unitDef(quantity), { type: "string", pattern: `^\\s*(${spellings(quantity)})\\s*$`, examples: unitsOf(quantity) }])),
      ...Object.fromEntries(quantities.map((quantity) => [measureDef(quantity), measureSchema(quantity)])),
      ...Object.fromEntries(maps.flatMap((map) => (map === "session" || map === "column" ? [] : [[map, mapSchema(map, neededIn[map] ?? [], keysOf(map))]]))),
    },
  };
}

/** The schema as the text of `schemas/session.schema.json`. */
export function sessionSchemaText(): string {
  return `${JSON.stringify(sessionSchema(), null, 2)}\n`;
}

/** Shots as text: `41`, `1-6`, with a hyphen or a dash. */
const shotRange = "\\s*0*[1-9]\\d{0,14}\\s*([-\u2013]\\s*0*[1-9]\\d{0,14}\\s*)?";

/** The keys without which a map means nothing; `shots` may be called `shot`. */
const neededIn: Partial<Record<SessionMap, readonly string[]>> = neededKeys();

function neededKeys(): Partial<Record<SessionMap, readonly string[]>> {
  const needed: Partial<Record<SessionMap, readonly string[]>> = {};
  const visit = (shape: Shape): void => {
    if (shape.kind === "map") needed[shape.map] ??= shape.needed;
    else if (shape.kind === "list") visit(shape.item);
    else if (shape.kind === "entries") visit(shape.value);
    else if (shape.kind === "either") shape.shapes.forEach(visit);
  };
  for (const key of keysOf("session")) visit(shapeOf("session", key)!);
  return needed;
}

function mapSchema(map: SessionMap, needed: readonly string[], keys: readonly string[]): Record<string, unknown> {
  const help: Readonly<Record<string, string>> = sessionKeyHelp[map];
  return {
    type: "object",
    properties: Object.fromEntries(keys.map((key) => [key, { description: help[key], ...schemaOf(shapeOf(map, key)!, null) }])),
    additionalProperties: false,
    ...requiredOf(needed),
  };
}

function requiredOf(needed: readonly string[]): Record<string, unknown> {
  const plain = needed.filter((key) => key !== "shots");
  return {
    ...(plain.length === 0 ? {} : { required: plain }),
    ...(plain.length === needed.length ? {} : { anyOf: [{ required: ["shots"] }, { required: ["shot"] }] }),
  };
}

/** The schema of a shape; `column` is the shot column that it is stated of. */
function schemaOf(shape: Shape, column: ShotColumn | null): Record<string, unknown> {
  switch (shape.kind) {
    case "text":
      return { $ref: "#/$defs/text", ...(shape.typical === undefined ? {} : { examples: shape.typical }) };
    case "name":
      return { $ref: "#/$defs/text" };
    case "date":
      return { $ref: "#/$defs/date" };
    case "truth":
      return { $ref: "#/$defs/truth" };
    case "shots":
      return { $ref: "#/$defs/shotNumbers" };
    case "whole":
      return { anyOf: [{ type: "integer", minimum: shape.least, maximum: shape.most }, { type: "string", pattern: "^\\d{1,9}$" }] };
    case "choice":
      return { enum: shape.choices };
    case "measure":
      return { $ref: `#/$defs/${measureDef(shape.quantity)}`, examples: [shape.typical] };
    case "of the column":
      return column === null ? {} : (columnMeasure(shape.as, column) as Record<string, unknown>);
    case "list":
      return { anyOf: [...alternatives(shape.item, column), { type: "array", items: schemaOf(shape.item, column) }, { type: "null" }] };
    case "either":
      return { anyOf: alternatives(shape, column) };
    case "map":
      return shape.map === "column" ? columnSchema(column) : nullable(shape);
    case "entries":
      return entriesSchema(shape.keys, shape.value);
  }
}

function alternatives(shape: Shape, column: ShotColumn | null): readonly Record<string, unknown>[] {
  return shape.kind === "either" ? shape.shapes.flatMap((each) => alternatives(each, column)) : [schemaOf(shape, column)];
}

/** A map; one of which nothing is needed may be left out behind its key. */
function nullable({ map, needed, only }: Shape & { readonly kind: "map" }): Record<string, unknown> {
  const schema = only === undefined ? { $ref: `#/$defs/${map}` } : mapSchema(map, [], only);
  return needed.length > 0 ? schema : { anyOf: [schema, { type: "null" }] };
}

function entriesSchema(keys: (Shape & { kind: "entries" })["keys"], value: Shape): Record<string, unknown> {
  if (keys === "heads")
    return { type: ["object", "null"], additionalProperties: schemaOf(value, null), propertyNames: { not: { enum: [...forbiddenNames] } } };
  const properties = columnsThatAre[keys].map((column) => {
    const schema = value.kind === "of the column" ? columnMeasure(value.as, column) : schemaOf(value, column);
    return [column, schema === false ? false : { description: shotColumns[column].description, ...schema }];
  });
  return { type: ["object", "null"], properties: Object.fromEntries(properties), additionalProperties: false };
}

function columnMeasure(as: "measure" | "measure or share" | "limits", column: ShotColumn): JsonSchema {
  const { quantity }: ShotColumnFacts = shotColumns[column];
  const share = { $ref: `#/$defs/${measureDef("share")}` };
  if (as === "limits") {
    const items = quantity === null ? { type: ["number", "string"], pattern: "^-?\\d+(\\.\\d+)?$" } : { $ref: `#/$defs/${measureDef(quantity)}` };
    return { type: "array", items, minItems: 2, maxItems: 2 };
  }
  if (quantity === null) return as === "measure" ? false : share;
  const own = { $ref: `#/$defs/${measureDef(quantity)}` };
  return as === "measure" ? own : { anyOf: [own, share] };
}

/** The long form of a column's entry, with the units and the sides that this column can have. */
function columnSchema(column: ShotColumn | null): Record<string, unknown> {
  const schema = mapSchema("column", ["from"], keysOf("column"));
  const { quantity, direction }: ShotColumnFacts = column === null ? shotColumns.shot : shotColumns[column];
  const { unit, sides, positive, ...others } = schema["properties"] as Record<string, Record<string, unknown>>;
  const words = direction === null ? [] : wordsOfDirection(direction);
  const letters = words.map(([plus, minus]) => [insensitive(plus[0]!), insensitive(minus[0]!)] as const);
  const either = letters.map(([plus, minus]) => `\\s*(${plus}\\s*/\\s*${minus}|${minus}\\s*/\\s*${plus})\\s*`);
  return {
    ...schema,
    properties: {
      ...others,
      ...(quantity === null ? {} : { unit: { description: unit!["description"], $ref: `#/$defs/${unitDef(quantity)}` } }),
      ...(words.length === 0
        ? {}
        : {
            sides: {
              description: sides!["description"],
              anyOf: [
                { type: "string", pattern: `^(${either.join("|")})$` },
                {
                  type: "object",
                  properties: Object.fromEntries(words.flat().map((word) => [word, { $ref: "#/$defs/text" }])),
                  additionalProperties: false,
                  anyOf: words.map((pair) => ({ required: pair })),
                },
              ],
            },
            positive: { description: positive!["description"], enum: words.flat() },
          }),
    },
  };
}

function measureSchema(quantity: Quantity): Record<string, unknown> {
  return { type: "string", pattern: `^\\s*[-+\u2212]?\\d+(\\.\\d+)?\\s*(${spellings(quantity)})\\s*$`, examples: unitsOf(quantity).map((unit) => `3 ${unit}`) };
}

/** Every way to write a unit of a quantity, as a part of a pattern; letters in either case, as reading takes them. */
function spellings(quantity: Quantity): string {
  const words = unitsOf(quantity).flatMap((unit: Unit) => [unit, ...units[unit].also].filter((word) => parseUnit(word) === unit));
  return [...new Set(words.map(insensitive))].join("|");
}

function insensitive(word: string): string {
  return Array.from(word, (c) => {
    const [lower, upper] = [c.toLowerCase(), c.toUpperCase()];
    if (lower !== upper && upper.length === 1) return `[${upper}${lower}]`;
    return /[\^$\\.*+?()[\]{}|/]/u.test(c) ? `\\${c}` : c;
  }).join("");
}

function unitDef(quantity: Quantity): string {
  return `unitOf${camel(quantity)}`;
}

function measureDef(quantity: Quantity): string {
  return `measureOf${camel(quantity)}`;
}

function camel(words: string): string {
  return words.replace(/(?:^| )(\w)/gu, (_, c: string) => c.toUpperCase());
}
