/** A schema as parsed JSON: an object of keywords, or `false` for what nothing satisfies. */
type Schema = Keywords | boolean;

interface Keywords {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly pattern?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly additionalProperties?: Schema;
  readonly propertyNames?: Schema;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly anyOf?: readonly Schema[];
  readonly not?: Schema;
}

/** Keywords that only tell, and those that are read; any other is an error of the schema, so that none is passed over. */
const telling = new Set(["$schema", "$id", "$defs", "title", "description", "examples", "format"]);
const read = new Set(["$ref", "type", "enum", "pattern", "minimum", "maximum", "properties", "additionalProperties", "propertyNames", "required", "items", "minItems", "maxItems", "anyOf", "not"]);

/**
 * Where a value does not satisfy a schema, as paths with the keyword; empty when it does. The keywords of JSON Schema
 * draft 2020-12 that our schemas use, and no others.
 */
export function schemaFaults(root: Readonly<Record<string, unknown>>, value: unknown): string[] {
  const definitions = (root["$defs"] ?? {}) as Readonly<Record<string, Schema>>;

  function faults(schema: Schema, at: unknown, path: string): string[] {
    if (typeof schema === "boolean") return schema ? [] : [`${path}: false`];
    const unknown = Object.keys(schema).find((keyword) => !telling.has(keyword) && !read.has(keyword));
    if (unknown !== undefined) throw new RangeError(`the keyword ${unknown} is not read`);
    const found: string[] = [];
    const fail = (keyword: string): void => void found.push(`${path}: ${keyword}`);
    if (schema.$ref !== undefined) {
      const target = definitions[schema.$ref.replace("#/$defs/", "")];
      if (target === undefined) throw new RangeError(`${schema.$ref} leads nowhere`);
      found.push(...faults(target, at, path));
    }
    if (schema.type !== undefined && ![schema.type].flat().some((type) => isOfType(at, type))) fail("type");
    if (schema.enum?.includes(at) === false) fail("enum");
    if (schema.anyOf?.every((each) => faults(each, at, path).length > 0) === true) fail("anyOf");
    if (schema.not !== undefined && faults(schema.not, at, path).length === 0) fail("not");
    if (typeof at === "string" && schema.pattern !== undefined && !new RegExp(schema.pattern, "u").test(at)) fail("pattern");
    if (typeof at === "number" && at < (schema.minimum ?? -Infinity)) fail("minimum");
    if (typeof at === "number" && at > (schema.maximum ?? Infinity)) fail("maximum");
    if (Array.isArray(at)) {
      if (at.length < (schema.minItems ?? 0)) fail("minItems");
      if (at.length > (schema.maxItems ?? Infinity)) fail("maxItems");
      at.forEach((item, i) => found.push(...faults(schema.items ?? true, item, `${path}/${i}`)));
    } else if (at !== null && typeof at === "object") {
      const { properties = {}, additionalProperties = true, propertyNames = true, required = [] } = schema;
      for (const key of required) if (!Object.hasOwn(at, key)) fail(`required ${key}`);
      for (const [key, each] of Object.entries(at)) {
        found.push(...faults(propertyNames, key, `${path}/${key}`));
        found.push(...faults(Object.hasOwn(properties, key) ? properties[key]! : additionalProperties, each, `${path}/${key}`));
      }
    }
    return found;
  }

  return faults(root, value, "");
}

function isOfType(value: unknown, type: string): boolean {
  switch (type) {
    case "null":
      return value === null;
    case "array":
      return Array.isArray(value);
    case "object":
      return value !== null && typeof value === "object" && !Array.isArray(value);
    case "integer":
      return Number.isInteger(value);
    default:
      return typeof value === type;
  }
}
