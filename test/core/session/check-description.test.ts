import { expect, test } from "vitest";
import { checkDescription } from "../../../core/session/check-description";

// Examples of Metadata Vocabulary for Tabular Data, W3C Recommendation 17 December 2015, by their number or section there.

/** Example 2, of section 1. */
const treeOps = {
  "@context": ["http://www.w3.org/ns/csvw", { "@language": "en" }],
  url: "tree-ops.csv",
  "dc:title": "Tree Operations",
  "dcat:keyword": ["tree", "street", "maintenance"],
  "dc:publisher": { "schema:name": "Example Municipality", "schema:url": { "@id": "http://example.org" } },
  "dc:license": { "@id": "http://opendefinition.org/licenses/cc-by/" },
  "dc:modified": { "@value": "2010-12-31", "@type": "xsd:date" },
  tableSchema: {
    columns: [
      { name: "GID", titles: ["GID", "Generic Identifier"], "dc:description": "An identifier for the operation on a tree.", datatype: "string", required: true },
      { name: "on_street", titles: "On Street", "dc:description": "The street that the tree is on.", datatype: "string" },
      { name: "species", titles: "Species", "dc:description": "The species of the tree.", datatype: "string" },
      { name: "trim_cycle", titles: "Trim Cycle", "dc:description": "The operation performed on the tree.", datatype: "string" },
      { name: "inventory_date", titles: "Inventory Date", "dc:description": "The date of the operation that was performed.", datatype: { base: "date", format: "M/d/yyyy" } },
    ],
    primaryKey: "GID",
    aboutUrl: "#gid-{GID}",
  },
};

/** Example 1: the header of the file that example 2 describes. */
const treeHeader = ["GID", "On Street", "Species", "Trim Cycle", "Inventory Date"];

/** Example 27, of section 5.5.2.1, its foreign key left out. */
const countries = {
  "@context": "http://www.w3.org/ns/csvw",
  tables: [
    {
      url: "http://example.org/countries.csv",
      tableSchema: {
        columns: [
          { name: "countryCode", datatype: "string", propertyUrl: "http://www.geonames.org/ontology{#_name}" },
          { name: "latitude", datatype: "number" },
          { name: "longitude", datatype: "number" },
          { name: "name", datatype: "string" },
        ],
        aboutUrl: "http://example.org/countries.csv{#countryCode}",
        propertyUrl: "http://schema.org/{_name}",
        primaryKey: "countryCode",
      },
    },
  ],
};

/** The default dialect of section 5.9. */
const defaultDialect = {
  encoding: "utf-8",
  lineTerminators: ["\r\n", "\n"],
  quoteChar: '"',
  doubleQuote: true,
  skipRows: 0,
  commentPrefix: "#",
  header: true,
  headerRowCount: 1,
  delimiter: ",",
  skipColumns: 0,
  skipBlankRows: false,
  skipInitialSpace: false,
  trim: false,
};

/** A table of the given properties keeps the rules, or breaks the one of these sections at these places. */
function checkTable(own: Readonly<Record<string, unknown>>, ...broken: readonly string[]): void {
  const json = { "@context": "http://www.w3.org/ns/csvw", url: "a.csv", ...own };
  expect(checkDescription(json).map(({ at, section }) => `${section} ${at}`)).toEqual(broken);
}

/** The same for a table of one column; places are in the column. */
function checkColumn(column: Readonly<Record<string, unknown>>, ...broken: readonly string[]): void {
  const inTable = broken.map((each) => each.replace(/(?<= )/u, "tableSchema/columns/0/"));
  checkTable({ tableSchema: { columns: [column] } }, ...inTable);
}

test("the Recommendation's own descriptions keep its rules", () => {
  expect(checkDescription(treeOps)).toEqual([]);
  expect(checkDescription(treeOps, () => treeHeader)).toEqual([]);
  expect(checkDescription(countries)).toEqual([]);
  checkTable({ dialect: defaultDialect });
});

test("section 5.2: the context is the standard's, alone or with a base or a language", () => {
  const broken = (context: unknown): readonly string[] => checkDescription({ "@context": context, url: "a.csv" }).map(({ section }) => section);
  expect(broken(["http://www.w3.org/ns/csvw", { "@base": "http://example.org/" }])).toEqual([]);
  for (const context of [undefined, "http://www.w3.org/ns/csvw#", [], ["http://www.w3.org/ns/csvw"], ["http://www.w3.org/ns/csvw", {}], ["http://www.w3.org/ns/csvw", { "@vocab": "x" }], ["http://www.w3.org/ns/csvw", { "@language": "not a language" }]])
    expect(broken(context)).toEqual(["5.2"]);
});

test("sections 5.3 and 5.4: a group has tables, and a table a URL of its own", () => {
  const group = (tables: unknown): readonly string[] => checkDescription({ "@context": "http://www.w3.org/ns/csvw", tables }).map(({ at, section }) => `${section} ${at}`);
  expect(group([{ url: "a.csv" }, { url: "b%20c.csv" }])).toEqual([]);
  expect(group([])).toEqual(["5.3.1 tables"]);
  expect(group([{}])).toEqual(["5.4 tables/0", "5.1.2 tables/0/url"]);
  expect(group([{ url: "a.csv" }, { url: "a.csv" }])).toEqual(["5.4.1 tables/1/url"]);
  checkTable({ url: "my file.csv" }, "5.1.2 url");
  checkTable({ "@type": "Schema" }, "5.4 @type");
  checkTable({ notes: "text" }, "5.4.2 notes");
  checkTable({ notes: [{ "dc:description": "text" }] });
});

test("section 5.5: names of columns are distinct, and keys name columns", () => {
  const schema = (own: object): { readonly tableSchema: object } => ({ tableSchema: { columns: [{ name: "a" }, { name: "b" }], ...own } });
  checkTable(schema({ primaryKey: ["a", "b"], rowTitles: "a" }));
  checkTable(schema({ primaryKey: "c" }), "5.1.4 tableSchema/primaryKey");
  checkTable(schema({ primaryKey: [] }), "5.1.4 tableSchema/primaryKey");
  checkTable(schema({ columns: [{ name: "a" }, { name: "a" }] }), "5.5 tableSchema/columns/1/name");
  checkTable(schema({ columns: [{ name: "a", virtual: true }, { name: "b" }] }), "5.6 tableSchema/columns/1");
});

test("section 5.5.1: titles are those of the file", () => {
  const broken = (header: readonly string[]): readonly string[] => checkDescription(treeOps, () => header).map(({ at, section }) => `${section} ${at}`);
  expect(broken(["Generic Identifier", ...treeHeader.slice(1)])).toEqual([]);
  expect(broken(["gid", ...treeHeader.slice(1)])).toEqual(["5.5.1 tableSchema/columns/0/titles"]);
  expect(broken(treeHeader.slice(1))).toEqual(["5.5.1 tableSchema/columns"]);
});

test("section 5.6: a name is a variable name and begins with no underscore", () => {
  for (const name of ["a", "Ball%20speed", "a.b", "a_b", "7"]) checkColumn({ name });
  for (const name of ["", "_a", "a b", "a-b", "a..b", "a%2", "\u00e9", 7]) checkColumn({ name }, "5.6 name");
  checkColumn({ titles: { en: "a", "de-AT": ["b", "c"] } });
  checkColumn({ titles: { "a language": "a" } }, "5.1.6 titles/a language");
  checkColumn({ titles: [] }, "5.1.6 titles");
});

test("section 5.7: inherited properties have values of their kind, and templates are templates", () => {
  checkColumn({ null: ["", "n/a"], required: false, lang: "en", separator: null, textDirection: "auto", aboutUrl: "#row-{a,b:3}", default: "" });
  checkColumn({ null: 7 }, "5.7 null");
  checkColumn({ required: "true" }, "5.7 required");
  checkColumn({ aboutUrl: "{a" }, "5.1.3 aboutUrl");
  checkColumn({ valueUrl: "{a b}" }, "5.1.3 valueUrl");
});

test("section 5.8: other properties are prefixed names or absolute URLs, and their objects are plain", () => {
  checkColumn({ "urn:fairstrike:unit": "yd", "http://example.org/unit": 7, "schema:name": [{ "@value": "a", "@language": "en" }] });
  for (const key of ["unit", "my:unit", "urn:", "urn:x", "//example.org/unit"]) checkColumn({ [key]: "yd" }, `5.8.1 ${key}`);
  checkColumn({ "dc:title": { "@value": "a", "@language": "en", "@type": "xsd:string" } }, "5.8.2 dc:title");
  checkColumn({ "dc:title": { "@value": "a", "dc:title": "b" } }, "5.8.2 dc:title");
  checkColumn({ "dc:title": { "@language": "en" } }, "5.8.2 dc:title");
  checkColumn({ "dc:title": { "@id": "_:b" } }, "5.8.2 dc:title/@id");
  checkColumn({ "dc:title": { "@graph": [] } }, "5.8.2 dc:title/@graph");
  checkColumn({ "dc:title": { "@type": "nothing known" } }, "5.8.2 dc:title/@type");
});

test("section 5.9: a dialect has the properties of a dialect alone", () => {
  checkTable({ dialect: { quoteChar: null, trim: "start" } });
  checkTable({ dialect: { skipRows: -1, header: "yes", commentPrefix: null, trim: "both", quoteChar: 7, "dc:title": "a" } }, "5.9 dialect/dc:title", "5.9 dialect/commentPrefix", "5.9 dialect/header", "5.9 dialect/skipRows", "5.9 dialect/quoteChar", "5.9 dialect/trim");
});

test("section 5.11: datatypes are known, and limits are in order and of what can have them", () => {
  checkColumn({ datatype: { base: "number", format: { decimalChar: ",", groupChar: "." }, minimum: 1, maximum: 1 } });
  checkColumn({ datatype: { base: "date", format: "yyyy-MM-dd", minimum: "2026-01-01" } });
  checkColumn({ datatype: "float64" }, "5.11.1 datatype");
  checkColumn({ datatype: { base: "real" } }, "5.11.2 datatype/base");
  checkColumn({ datatype: { base: "number", minimum: 2, maximum: 1 } }, "5.11.2 datatype");
  checkColumn({ datatype: { base: "number", minExclusive: 1, maximum: 1 } }, "5.11.2 datatype");
  checkColumn({ datatype: { base: "number", minInclusive: 1, minExclusive: 0 } }, "5.11.2 datatype");
  checkColumn({ datatype: { minimum: 1 } }, "5.11.2 datatype/minimum");
  checkColumn({ datatype: { base: "string", format: { decimalChar: "," } } }, "5.11.2 datatype/format");
  checkColumn({ datatype: { base: "number", format: { decimalChar: ",", groupChar: "," } } }, "5.11.2 datatype/format");
  checkColumn({ datatype: 7 }, "5.7 datatype");
});

test("what is no description breaks the first rule of all", () => {
  for (const json of [null, 7, "a", []]) expect(checkDescription(json).map(({ section }) => section)).toEqual(["5"]);
});
