// Tables of data of one standard, cited once: Metadata Vocabulary for Tabular Data, W3C Recommendation 17 December 2015.

/** The context that every description names (section 5.2). */
export const csvwContext = "http://www.w3.org/ns/csvw";

/** Datatypes of numbers, which can have limits that are numbers (section 5.11.1 with XML Schema 1.1 part 2, 3.3 and 3.4). */
export const numberTypes: ReadonlySet<string> = new Set(
  ("number decimal integer long int short byte nonNegativeInteger positiveInteger unsignedLong unsignedInt unsignedShort " +
    "unsignedByte nonPositiveInteger negativeInteger double float").split(" "),
);

/** Datatypes of dates and times, which can have limits too. */
export const timeTypes: ReadonlySet<string> = new Set(
  "date dateTime datetime dateTimeStamp time duration dayTimeDuration yearMonthDuration gDay gMonth gMonthDay gYear gYearMonth".split(" "),
);

/** Every built-in datatype (section 5.11.1). */
export const datatypes: ReadonlySet<string> = new Set([
  ...numberTypes,
  ...timeTypes,
  ...(
    "anyAtomicType any anyURI base64Binary binary boolean hexBinary QName string normalizedString token language Name NMTOKEN " +
    "xml html json"
  ).split(" "),
]);

/**
 * Prefixes that a name can have without being declared (section 5.8.1): those of the RDFa 1.1 initial context, and csvw.
 * From memory; the list is extended from time to time.
 */
export const knownPrefixes: ReadonlySet<string> = new Set(
  (
    "as cc csvw ctag dc dc11 dcat dcterms dqv duv foaf gr grddl gs ical jsonld ldp ma oa odrl og org owl prov qb rdf rdfa rdfs rev rif rr " +
    "schema sd sioc skos skosxl ssn sosa time v vcard void wdr wdrs xhv xml xsd"
  ).split(" "),
);

/** Properties of each kind of description object besides common ones; `true` for those that have to be there. */
export const propertiesOf = {
  "table group": { "@context": false, "@id": false, "@type": false, dialect: false, notes: false, tableDirection: false, tableSchema: false, tables: true, transformations: false },
  table: { "@context": false, "@id": false, "@type": false, dialect: false, notes: false, suppressOutput: false, tableDirection: false, tableSchema: false, transformations: false, url: true },
  schema: { "@id": false, "@type": false, columns: false, foreignKeys: false, primaryKey: false, rowTitles: false },
  column: { "@id": false, "@type": false, name: false, suppressOutput: false, titles: false, virtual: false },
  dialect: {
    "@id": false,
    "@type": false,
    commentPrefix: false,
    delimiter: false,
    doubleQuote: false,
    encoding: false,
    header: false,
    headerRowCount: false,
    lineTerminators: false,
    quoteChar: false,
    skipBlankRows: false,
    skipColumns: false,
    skipInitialSpace: false,
    skipRows: false,
    trim: false,
  },
  datatype: {
    "@id": false,
    "@type": false,
    base: false,
    format: false,
    length: false,
    maxExclusive: false,
    maxInclusive: false,
    maxLength: false,
    maximum: false,
    minExclusive: false,
    minInclusive: false,
    minLength: false,
    minimum: false,
  },
} as const satisfies Record<string, Record<string, boolean>>;

/** A kind of description object (sections 5.3 to 5.11). */
export type DescriptionKind = keyof typeof propertiesOf;

/** What `@type` has to say of each of them. */
export const typeNames: Readonly<Record<DescriptionKind, string>> = {
  "table group": "TableGroup",
  table: "Table",
  schema: "Schema",
  column: "Column",
  dialect: "Dialect",
  datatype: "Datatype",
};

/** Properties that tables, schemas and columns hand down to their cells (section 5.7). */
export const inheritedProperties: ReadonlySet<string> = new Set(
  "aboutUrl datatype default lang null ordered propertyUrl required separator textDirection valueUrl".split(" "),
);
