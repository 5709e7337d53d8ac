import type { DescriptionKind } from "./description-terms";
import { csvwContext, datatypes, inheritedProperties, knownPrefixes, numberTypes, propertiesOf, timeTypes, typeNames } from "./description-terms";

/** A rule of the standard that a description breaks, and where. */
export interface BrokenRule {
  /** Keys and numbers from the top: `tables/0/tableSchema/columns/2/name`. */
  readonly at: string;
  readonly rule: string;
  /** The section of the Recommendation. */
  readonly section: string;
}

type JsonObject = Readonly<Record<string, unknown>>;

/**
 * Where a description of tables breaks the rules of Metadata Vocabulary for Tabular Data, W3C Recommendation 17 December
 * 2015: its form, names, references, datatypes and common properties, and that its titles are those of the files. Empty for
 * one that keeps them. What a URL leads to is not looked at, foreign keys and transformations are not either.
 *
 * @param json a description as `JSON.parse` gives it.
 * @param headersOf the header of the table with this `url`, where it is at hand.
 */
export function checkDescription(json: unknown, headersOf: (url: string) => readonly string[] | null = () => null): readonly BrokenRule[] {
  const checker = new Checker(headersOf);
  checker.top(json);
  return checker.broken;
}

class Checker {
  readonly broken: BrokenRule[] = [];

  constructor(private readonly headersOf: (url: string) => readonly string[] | null) {}

  private say(at: string, rule: string, section: string): void {
    this.broken.push({ at, rule, section });
  }

  top(json: unknown): void {
    if (!isObject(json)) return this.say("", "a description is an object", "5");
    this.context(json["@context"]);
    if ("tables" in json) this.tableGroup(json);
    else this.table(json, "");
  }

  private context(context: unknown): void {
    const at = "@context";
    if (context === csvwContext) return;
    const [first, local, ...more] = Array.isArray(context) ? (context as readonly unknown[]) : [];
    if (first !== csvwContext || !isObject(local) || more.length > 0) return this.say(at, `it is ${csvwContext}, or a list of that and an object`, "5.2");
    for (const [key, value] of Object.entries(local)) {
      if (key !== "@base" && key !== "@language") this.say(`${at}/1/${key}`, "the object has @base and @language alone", "5.2");
      else if (typeof value !== "string" || (key === "@language" && !isLanguage(value))) this.say(`${at}/1/${key}`, "it is a text; a language is one of BCP 47", "5.2");
    }
    if (Object.keys(local).length === 0) this.say(`${at}/1`, "the object has @base or @language", "5.2");
  }

  private tableGroup(group: JsonObject): void {
    this.properties(group, "table group", "", "5.3");
    const { tables } = group;
    if (!Array.isArray(tables) || tables.length === 0) return this.say("tables", "it is a list of at least one table", "5.3.1");
    this.parts(group, "");
    tables.forEach((table: unknown, i) => {
      if (isObject(table)) this.table(table, `tables/${i}`);
      else this.say(`tables/${i}`, "a table is an object", "5.3.1");
    });
    const urls = tables.flatMap((table: unknown) => (isObject(table) && typeof table["url"] === "string" ? [table["url"]] : []));
    urls.forEach((url, i) => {
      if (urls.indexOf(url) < i) this.say(`tables/${i}/url`, "each table has a URL of its own", "5.4.1");
    });
  }

  private table(table: JsonObject, at: string): void {
    this.properties(table, "table", at, "5.4");
    const { url } = table;
    if (typeof url !== "string" || url === "" || !isUrl(url)) this.say(join(at, "url"), "it is a URL, other characters percent-encoded", "5.1.2");
    this.parts(table, at);
    const schema = table["tableSchema"];
    const header = typeof url === "string" ? this.headersOf(url) : null;
    if (header !== null && isObject(schema) && Array.isArray(schema["columns"])) this.titles(schema["columns"] as readonly unknown[], header, join(at, "tableSchema/columns"));
  }

  /** What groups and tables have in common. */
  private parts(own: JsonObject, at: string): void {
    const { dialect, notes, tableSchema, tableDirection } = own;
    if (isObject(dialect)) this.dialect(dialect, join(at, "dialect"));
    else if (dialect !== undefined && typeof dialect !== "string") this.say(join(at, "dialect"), "it is an object or a URL", "5.1.5");
    if (isObject(tableSchema)) this.schema(tableSchema, join(at, "tableSchema"));
    else if (tableSchema !== undefined && typeof tableSchema !== "string") this.say(join(at, "tableSchema"), "it is an object or a URL", "5.1.5");
    if (tableDirection !== undefined && !["rtl", "ltr", "auto"].includes(tableDirection as string)) this.say(join(at, "tableDirection"), "it is rtl, ltr or auto", "5.4.2");
    this.boolean(own, "suppressOutput", at, "5.4.2");
    if (notes === undefined) return;
    if (!Array.isArray(notes)) return this.say(join(at, "notes"), "it is a list of objects", "5.4.2");
    notes.forEach((note: unknown, i) => {
      if (isObject(note)) this.commonValue(note, join(at, `notes/${i}`));
      else this.say(join(at, `notes/${i}`), "a note is an object", "5.4.2");
    });
  }

  private schema(schema: JsonObject, at: string): void {
    this.properties(schema, "schema", at, "5.5");
    const columns: unknown = schema["columns"] ?? [];
    if (!Array.isArray(columns)) return this.say(join(at, "columns"), "it is a list of columns", "5.5");
    const names: string[] = [];
    let wasVirtual = false;
    columns.forEach((column: unknown, i) => {
      const place = join(at, `columns/${i}`);
      if (!isObject(column)) return this.say(place, "a column is an object", "5.6");
      this.column(column, place);
      if (wasVirtual && column["virtual"] !== true) this.say(place, "virtual columns stand after all others", "5.6");
      wasVirtual ||= column["virtual"] === true;
      const { name } = column;
      if (typeof name !== "string") return;
      if (names.includes(name)) this.say(join(place, "name"), "the names of the columns of a schema are distinct", "5.5");
      names.push(name);
    });
    for (const key of ["primaryKey", "rowTitles"]) this.reference(schema[key], names, join(at, key));
  }

  /** One name of a column, or a list of such. */
  private reference(value: unknown, names: readonly string[], at: string): void {
    if (value === undefined) return;
    const listed = Array.isArray(value) ? (value as readonly unknown[]) : [value];
    if (listed.length === 0) this.say(at, "it names at least one column", "5.1.4");
    listed.forEach((name, i) => {
      if (typeof name !== "string" || !names.includes(name)) this.say(at, "it names columns of this schema", "5.1.4");
      else if (listed.indexOf(name) < i) this.say(at, "it names a column once", "5.1.4");
    });
  }

  private column(column: JsonObject, at: string): void {
    this.properties(column, "column", at, "5.6");
    const { name, titles } = column;
    if (name !== undefined && (typeof name !== "string" || !isVariableName(name) || name.startsWith("_")))
      this.say(join(at, "name"), "it is a variable name of RFC 6570, 2.3: letters, digits, _ and percent-encoded bytes, dots between them; and does not begin with _", "5.6");
    if (titles !== undefined) this.naturalLanguage(titles, join(at, "titles"));
    this.boolean(column, "virtual", at, "5.6");
    this.boolean(column, "suppressOutput", at, "5.6");
  }

  private naturalLanguage(value: unknown, at: string): void {
    const isTexts = (each: unknown): boolean => typeof each === "string" || (Array.isArray(each) && each.length > 0 && each.every((text) => typeof text === "string"));
    if (isTexts(value)) return;
    if (!isObject(value)) return this.say(at, "it is a text, a list of texts, or an object of these by language", "5.1.6");
    for (const [language, texts] of Object.entries(value)) if (!isLanguage(language) || !isTexts(texts)) this.say(join(at, language), "it is a text or a list of texts under a language of BCP 47", "5.1.6");
  }

  private titles(columns: readonly unknown[], header: readonly string[], at: string): void {
    const own = columns.filter((column): column is JsonObject => isObject(column) && column["virtual"] !== true);
    if (own.length !== header.length) return this.say(at, `there are ${own.length} columns, and ${header.length} in the file`, "5.5.1");
    own.forEach(({ name, titles }, i) => {
      const each = isObject(titles) ? Object.values(titles).flat() : [titles].flat();
      const isSame = titles === undefined ? name === undefined || name === header[i] || header[i] === "" : each.includes(header[i]);
      if (!isSame) this.say(`${at}/${i}/titles`, `they hold the header ${JSON.stringify(header[i])}`, "5.5.1");
    });
  }

  private dialect(dialect: JsonObject, at: string): void {
    this.properties(dialect, "dialect", at, "5.9");
    for (const key of ["commentPrefix", "delimiter", "encoding"]) if (key in dialect && (typeof dialect[key] !== "string" || dialect[key] === "")) this.say(join(at, key), "it is a text", "5.9");
    for (const key of ["doubleQuote", "header", "skipBlankRows", "skipInitialSpace"]) this.boolean(dialect, key, at, "5.9");
    for (const key of ["headerRowCount", "skipColumns", "skipRows"]) if (key in dialect && !isCount(dialect[key])) this.say(join(at, key), "it is a whole number from 0", "5.9");
    const { quoteChar, lineTerminators, trim, delimiter } = dialect;
    if (quoteChar !== undefined && quoteChar !== null && typeof quoteChar !== "string") this.say(join(at, "quoteChar"), "it is a text or null", "5.9");
    if (typeof delimiter === "string" && delimiter !== "" && delimiter === quoteChar) this.say(join(at, "quoteChar"), "it is not the delimiter", "5.9");
    if (lineTerminators !== undefined && ![lineTerminators].flat().every((end) => typeof end === "string" && end !== "")) this.say(join(at, "lineTerminators"), "it is a text or a list of texts", "5.9");
    if (trim !== undefined && typeof trim !== "boolean" && !["true", "false", "start", "end"].includes(trim as string)) this.say(join(at, "trim"), "it is true, false, start or end", "5.9");
  }

  private boolean(own: JsonObject, key: string, at: string, section: string): void {
    if (key in own && typeof own[key] !== "boolean") this.say(join(at, key), "it is true or false", section);
  }

  /** Checks the names of all properties of an object, and the values of inherited and of common ones. */
  private properties(own: JsonObject, kind: DescriptionKind, at: string, section: string): void {
    const known: Readonly<Record<string, boolean>> = propertiesOf[kind];
    const inherits = kind !== "dialect" && kind !== "datatype";
    for (const [key, value] of Object.entries(own)) {
      const place = join(at, key);
      if (Object.hasOwn(known, key)) {
        if (key === "@context" && at !== "") this.say(place, "only the whole description has a context", "5.2");
      } else if (inherits && inheritedProperties.has(key)) this.inherited(key, value, place);
      else if (kind === "dialect") this.say(place, "a dialect has no property of this name", section);
      else if (isCommonName(key)) this.commonValue(value, place);
      else this.say(place, "it is no property of this standard, and no prefixed name or absolute URL", "5.8.1");
    }
    for (const [key, isNeeded] of Object.entries(known)) if (isNeeded && !(key in own)) this.say(at, `it has ${key}`, section);
    if ("@type" in own && own["@type"] !== typeNames[kind]) this.say(join(at, "@type"), `it is ${typeNames[kind]}`, section);
    if ("@id" in own && (typeof own["@id"] !== "string" || own["@id"].startsWith("_:"))) this.say(join(at, "@id"), "it is a URL and does not begin with _:", section);
  }

  private inherited(key: string, value: unknown, at: string): void {
    switch (key) {
      case "aboutUrl":
      case "propertyUrl":
      case "valueUrl":
        if (typeof value !== "string" || !isTemplate(value)) this.say(at, "it is a URI template of RFC 6570", "5.1.3");
        return;
      case "datatype":
        return this.datatype(value, at);
      case "null":
        if (![value].flat().every((text) => typeof text === "string")) this.say(at, "it is a text or a list of texts", "5.7");
        return;
      case "ordered":
      case "required":
        if (typeof value !== "boolean") this.say(at, "it is true or false", "5.7");
        return;
      case "lang":
        if (typeof value !== "string" || !isLanguage(value)) this.say(at, "it is a language of BCP 47", "5.7");
        return;
      case "textDirection":
        if (!["ltr", "rtl", "auto", "inherit"].includes(value as string)) this.say(at, "it is ltr, rtl, auto or inherit", "5.7");
        return;
      default:
        if (typeof value !== "string" && !(key === "separator" && value === null)) this.say(at, "it is a text", "5.7");
    }
  }

  private datatype(value: unknown, at: string): void {
    if (typeof value === "string") {
      if (!datatypes.has(value)) this.say(at, "it is a built-in datatype", "5.11.1");
      return;
    }
    if (!isObject(value)) return this.say(at, "it is the name of a datatype or an object", "5.7");
    this.properties(value, "datatype", at, "5.11.2");
    const base = value["base"] ?? "string";
    if (typeof base !== "string" || !datatypes.has(base)) return this.say(join(at, "base"), "it is a built-in datatype", "5.11.2");
    this.format(value["format"], base, join(at, "format"));
    for (const key of ["length", "minLength", "maxLength"]) if (key in value && !isCount(value[key])) this.say(join(at, key), "it is a whole number from 0", "5.11.2");
    this.limits(value, base, at);
  }

  private format(format: unknown, base: string, at: string): void {
    if (format === undefined || typeof format === "string") return;
    if (!isObject(format) || !numberTypes.has(base)) return this.say(at, "it is a text, or an object for numbers", "5.11.2");
    for (const [key, value] of Object.entries(format)) {
      if (!["decimalChar", "groupChar", "pattern"].includes(key)) this.say(join(at, key), "a format of numbers has decimalChar, groupChar and pattern", "5.11.2");
      else if (typeof value !== "string" || value === "") this.say(join(at, key), "it is a text", "5.11.2");
    }
    if (format["decimalChar"] !== undefined && format["decimalChar"] === format["groupChar"]) this.say(at, "decimalChar and groupChar differ", "5.11.2");
  }

  private limits(datatype: JsonObject, base: string, at: string): void {
    const lower = ["minimum", "minInclusive", "minExclusive"].filter((key) => key in datatype);
    const upper = ["maximum", "maxInclusive", "maxExclusive"].filter((key) => key in datatype);
    for (const key of [...lower, ...upper]) {
      if (!numberTypes.has(base) && !timeTypes.has(base)) this.say(join(at, key), "only numbers, dates and times have limits", "5.11.2");
      else if (typeof datatype[key] !== "string" && !Number.isFinite(datatype[key])) this.say(join(at, key), "it is a number or a text", "5.11.2");
    }
    for (const [inclusive, exclusive] of [
      ["minInclusive", "minExclusive"],
      ["maxInclusive", "maxExclusive"],
    ] as const)
      if (inclusive in datatype && exclusive in datatype) this.say(at, `it has one of ${inclusive} and ${exclusive}`, "5.11.2");
    if (!numberTypes.has(base)) return;
    for (const low of lower) {
      for (const high of upper) {
        const [from, to] = [Number(datatype[low]), Number(datatype[high])];
        const isOpen = low === "minExclusive" || high === "maxExclusive";
        if (from > to || (isOpen && from === to)) this.say(at, `${low} is not above ${high}`, "5.11.2");
      }
    }
  }

  /** A value of a common property, or an object inside one. */
  private commonValue(value: unknown, at: string): void {
    if (Array.isArray(value)) return value.forEach((each, i) => this.commonValue(each, join(at, String(i))));
    if (!isObject(value)) return;
    const keys = Object.keys(value);
    if ("@value" in value) {
      const others = keys.filter((key) => key !== "@value");
      if (others.length > 1 || others.some((key) => key !== "@type" && key !== "@language")) this.say(at, "beside @value stands @type or @language, and nothing else", "5.8.2");
      if (!["string", "number", "boolean"].includes(typeof value["@value"])) this.say(join(at, "@value"), "it is a text, a number, true or false", "5.8.2");
      const language = value["@language"];
      if (language !== undefined && language !== null && (typeof language !== "string" || !isLanguage(language))) this.say(join(at, "@language"), "it is a language of BCP 47, or null", "5.8.2");
    } else if ("@language" in value) this.say(at, "@language stands beside @value alone", "5.8.2");
    if ("@id" in value && (typeof value["@id"] !== "string" || value["@id"].startsWith("_:"))) this.say(join(at, "@id"), "it is a URL and does not begin with _:", "5.8.2");
    for (const type of [value["@type"] ?? []].flat()) if (typeof type !== "string" || !isTypeName(type)) this.say(join(at, "@type"), "it is a datatype, a prefixed name or an absolute URL", "5.8.2");
    for (const key of keys) {
      if (["@value", "@type", "@language", "@id"].includes(key)) continue;
      if (key.startsWith("@") || !isCommonName(key)) this.say(join(at, key), "it is a prefixed name or an absolute URL", "5.8.2");
      else this.commonValue(value[key], join(at, key));
    }
  }
}

function join(at: string, key: string): string {
  return at === "" ? key : `${at}/${key}`;
}

function isObject(value: unknown): value is JsonObject {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isCount(value: unknown): boolean {
  return Number.isInteger(value) && (value as number) >= 0;
}

/** RFC 6570, 2.3. */
function isVariableName(name: string): boolean {
  return /^(?:\w|%[\dA-Fa-f]{2})(?:\.?(?:\w|%[\dA-Fa-f]{2}))*$/u.test(name);
}

/** RFC 6570, 2: literals, and expressions of operators and variables with their modifiers. */
function isTemplate(text: string): boolean {
  const isExpression = (inside: string): boolean =>
    inside
      .replace(/^[+#./;?&]/u, "")
      .split(",")
      .every((variable) => isVariableName(variable.replace(/(?::[1-9]\d{0,3}|\*)$/u, "")));
  const rest = text.replace(/\{([^{}]*)\}/gu, (whole, inside: string) => (isExpression(inside) ? "" : whole));
  return !/[{}\s"<>\\^`|]/u.test(rest);
}

/** The characters of RFC 3986 alone, and whole percent-encoded bytes. */
function isUrl(text: string): boolean {
  return /^(?:[\w\-.~:/?#[\]@!$&'()*+,;=]|%[\dA-Fa-f]{2})+$/u.test(text);
}

/** A prefixed name of a known prefix, or an absolute URL. */
function isCommonName(name: string): boolean {
  const prefix = /^([A-Za-z][\w+.-]*):(?=.)/u.exec(name)?.[1];
  if (prefix === undefined || !isUrl(name)) return false;
  return knownPrefixes.has(prefix) || /^(?:https?|ftp):\/\/[^/]/u.test(name) || /^urn:[A-Za-z\d][A-Za-z\d-]{0,31}:./u.test(name);
}

function isTypeName(type: string): boolean {
  return datatypes.has(type) || Object.values(typeNames).includes(type) || isCommonName(type);
}

/** The well-formed tags of BCP 47 (RFC 5646, 2.1) that are in use: a language, then subtags of up to eight characters. */
function isLanguage(tag: string): boolean {
  return /^(?:[A-Za-z]{2,8}(?:-[A-Za-z\d]{1,8})*|[xX](?:-[A-Za-z\d]{1,8})+)$/u.test(tag);
}
