import { bodyOffset } from "../../core/notebook/read-header";
import { isEngineName, whyNotAName } from "../../core/query/names";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { textForms } from "../../core/query/text-forms";
import type { Option, Parameter, Verb } from "../../core/query/vocabulary";
import type { ColumnSchema, Schema } from "../../core/table/schema";
import { zones } from "../../core/table/shot-columns";
import type { Suggestion } from "./answers";
import { columnMarkdown } from "./column-hover";
import { cursorContext, endsValue } from "./cursor-context";
import { asCode, escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";
import { optionOf, queryPlace, type QueryPlace } from "./query-place";
import { sessionPaths } from "./session-paths";
import { tradeSnippets } from "./trade-snippets";

type Offer = Omit<Suggestion, "replace">;

/**
 * What can stand at `offset` in the body of a query cell, best first. Broken text is the normal case: the table before a
 * verb is known from what stands before its dot, whatever follows.
 */
export async function completeQuery(view: NotebookView, cell: number, offset: number): Promise<readonly Suggestion[]> {
  const { text } = view.cells[cell]!;
  const body = Math.min(bodyOffset(text), text.length);
  if (offset < body) return [];
  const context = cursorContext(text, body, offset);
  if (context.where === "none") return [];
  const surroundings = view.surroundingsOf(cell);
  const place = queryPlace(text, context, surroundings);
  const { replace } = context;
  if (context.where === "string") {
    const { quote, closed } = context;
    const texts = [...inString(place, view, surroundings), ...(await paths(place, view))];
    // Sorted texts may have signs of their own in them: what is typed is matched against the whole.
    return texts.map((offer) => ({ ...offer, insert: `${inQuotes(offer.insert, quote)}${closed ? "" : quote}`, replace }));
  }
  if (context.before.at(-1)?.text === ".") return afterDot(place, surroundings).map((offer) => ({ replace, ...offer }));
  return atWord(place, view, cell, surroundings).map((offer) => ({ ...offer, replace }));
}

function inString(place: QueryPlace, view: NotebookView, surroundings: QuerySurroundings): readonly Offer[] {
  const { context } = place;
  const { before, frames } = context;
  const innermost = frames.length - 1;
  const compared = comparedColumn(place);
  if (compared !== null) return valuesOf(compared);
  if (before.at(-1)?.text === "[" && before.at(-2)?.text === place.row?.name) return columnOffers(place.row!.columns, "any");
  const call = innermost < 0 ? null : place.callOf(innermost);
  if (call?.kind === "function") {
    const aggregate = surroundings.vocabulary.aggregates.get(call.name);
    if (aggregate !== undefined || call.name === "desc") return columnOffers(aroundColumns(place), aggregate?.of === "number" ? "number" : "any");
    return [];
  }
  if (call?.kind === "ending") return columnOffers(call.receiver, "any");
  if (call?.kind === "verb") {
    const kind = place.parameterOf(innermost)?.kind;
    return kind === "columns" || kind === "ordering" ? columnOffers(call.receiver, "any") : [];
  }
  if (place.options !== null) return optionTexts(place, view);
  // A name in quotes where columns get new names.
  const around = innermost > 0 ? place.callOf(innermost - 1) : null;
  const parameter = innermost > 0 ? place.parameterOf(innermost - 1) : null;
  if (around?.kind === "verb" && parameter?.kind === "renames" && place.entryOf(innermost) === null) return columnOffers(around.receiver, "any");
  return [];
}

/** The column that the string at the cursor is compared with, by a sign or by a function. */
function comparedColumn(place: QueryPlace): ColumnSchema | null {
  const { before, frames } = place.context;
  const { row } = place;
  if (row === null) return null;
  const sign = before.at(-1)?.text;
  if (sign === "===" || sign === "!==") return columnEndingAt(place, before.length - 2);
  const frame = frames.at(-1);
  if (frame === undefined || frame.commas === 0 || place.callOf(frames.length - 1)?.kind !== "function") return null;
  const name = before[frame.at + 1];
  const isRow = name?.text === row.name;
  return isRow ? columnEndingAt(place, before[frame.at + 2]?.text === "[" ? frame.at + 4 : frame.at + 3) : null;
}

/** The column of the row that the piece `last` is the end of: `d.head` or `d["head"]`. */
function columnEndingAt({ context: { before }, row }: QueryPlace, last: number): ColumnSchema | null {
  const end = before[last];
  const find = (name: string): ColumnSchema | null => row?.columns.columns.find((column) => column.name === name) ?? null;
  if (end?.kind === "name" && before[last - 1]?.text === "." && before[last - 2]?.text === row?.name) return find(end.text);
  if (end?.text === "]" && before[last - 2]?.text === "[" && before[last - 3]?.text === row?.name) return find(before[last - 1]!.text.slice(1, -1));
  return null;
}

/** The columns of the table that the innermost verb around the cursor works on. */
function aroundColumns(place: QueryPlace): Schema {
  for (let frame = place.context.frames.length - 1; frame >= 0; frame--) {
    const call = place.callOf(frame);
    if (call?.kind === "verb" || call?.kind === "ending") return call.receiver;
  }
  return { columns: [], open: true, groupedBy: [], fromShots: false };
}

function valuesOf(column: ColumnSchema): readonly Offer[] {
  const values = column.values ?? (column.name === "zone" ? zones : []);
  return values.map((value) => ({ label: value, kind: "value", insert: value, detail: column.name }));
}

function optionTexts(place: QueryPlace, view: NotebookView): readonly Offer[] {
  const { frame, options, columns } = place.options!;
  const { frames } = place.context;
  const name = place.entryOf(frame);
  const option = optionOf(options, name);
  if (option === null) return [];
  if (option.kind === "windows" && frames.length - 1 > frame && place.entryOf(frames.length - 1) === null) return columnOffers(columns, "number");
  return optionValues(option, name!, place, columns, view).flatMap(({ isText, ...offer }) => (isText ? [offer] : []));
}

async function paths(place: QueryPlace, view: NotebookView): Promise<readonly Offer[]> {
  const call = place.context.frames.length === 0 ? null : place.callOf(place.context.frames.length - 1);
  if (call?.kind !== "open") return [];
  const { files, patterns } = await sessionPaths(view);
  return (call.name === "session" ? files : patterns).map((path): Offer => ({ label: path, kind: "file", insert: path }));
}

function afterDot(place: QueryPlace, surroundings: QuerySurroundings): readonly (Offer & { readonly replace?: Suggestion["replace"] })[] {
  const { context, row } = place;
  const { before, replace } = context;
  const owner = before.at(-2);
  const { vocabulary } = surroundings;
  const isPlace = owner?.kind === "name" && before.at(-3)?.text !== ".";
  if (isPlace && owner.text === row?.name) {
    const dot = before.at(-1)!;
    return columnOffers(row.columns, "any").map((offer) => {
      if (isPlainMember(offer.insert)) return offer;
      // An odd name stands between brackets, in the place of the dot.
      return { ...offer, insert: `[${JSON.stringify(offer.insert)}]`, filter: `.${offer.label}`, replace: { from: dot.from, to: replace.to } };
    });
  }
  if (isPlace && owner.text === "op") return functionOffers(place, surroundings, "");
  if (isPlace && owner.text === "chart") return [...vocabulary.charts.values()].map((chart) => ({ label: chart.name, kind: "chart", ...call(`${chart.name}(\${1:shots}${requiredOptions(chart.options, 2)})$0`, context.next), detail: "a picture", documentation: helpMarkdown(chart.help) }));
  if (owner === undefined || !endsValue(owner) || owner.kind === "number" || owner.kind === "string") return [];
  const table = place.tableOf(before.length - 2);
  const inHole = context.frames.some(({ open }) => open === "${");
  const endings = inHole ? textForms.flatMap(({ ending, form, help }): Offer[] => (ending === null ? [] : [{ label: ending, kind: "function", ...call(ending === "one" ? 'one("$1")$0' : `${ending}()$0`, context.next), detail: form, documentation: helpMarkdown(help), rank: 1 }])) : [];
  return [...[...vocabulary.verbs.values()].map((verb) => ({ ...verbOffer(verb, context.next), rank: rankOf(verb, table) })), ...endings];
}

function rankOf(verb: Verb, table: Schema): number {
  if (table.groupedBy.length > 0) return verb.name === "rollup" || verb.name === "count" ? 0 : verb.family === "table" ? 2 : 3;
  if (verb.name === "ungroup") return 5;
  return verb.family === "trade" && !table.fromShots ? 4 : 1;
}

function verbOffer(verb: Verb, next: string): Offer {
  return { label: verb.name, kind: "verb", ...call(`${verb.name}(${verbArguments(verb)})$0`, next), detail: verb.parameters.map((parameter) => parameter.name).join(", "), documentation: helpMarkdown(verb.help) };
}

/** A call as it is inserted: where a bracket follows already, the name alone. */
function call(snippet: string, next: string): { readonly insert: string; readonly isSnippet?: true } {
  return next === "(" ? { insert: snippet.slice(0, snippet.indexOf("(")) } : { insert: snippet, isSnippet: true };
}

function verbArguments({ parameters }: Verb): string {
  const parts: string[] = [];
  let stop = 1;
  for (const parameter of parameters) {
    const written = argumentSnippet(parameter, stop);
    if (written === null) continue;
    parts.push(written);
    stop += 2;
  }
  return parts.join(", ");
}

function argumentSnippet(parameter: Parameter, stop: number): string | null {
  switch (parameter.kind) {
    case "condition":
      return `d => d.$${stop}`;
    case "new columns":
      return `{ \${${stop}:name}: d => d.$${stop + 1} }`;
    case "aggregates":
      return `{ \${${stop}:name}: op.$${stop + 1} }`;
    case "columns":
    case "ordering":
      return `"$${stop}"`;
    case "renames":
      return `{ \${${stop}:carry}: "\${${stop + 1}:name}" }`;
    case "table":
      return `\${${stop}:shots}`;
    case "number":
      return parameter.optional ? null : `\${${stop}:${parameter.least > 0 ? parameter.least : 10}}`;
    case "options": {
      const required = requiredEntries(parameter.options, stop);
      return required === "" ? null : `{ ${required} }`;
    }
  }
}

function requiredOptions(options: Readonly<Record<string, Option>>, stop: number): string {
  const entries = requiredEntries(options, stop);
  return entries === "" ? "" : `, { ${entries} }`;
}

function requiredEntries(options: Readonly<Record<string, Option>>, stop: number): string {
  return Object.entries(options)
    // What is compared by is not needed, and nearly always meant.
    .filter(([name, option]) => option.required || name === "by")
    .map(([name, option], i) => `${name}: ${valueSnippet(name, option, stop + i)}`)
    .join(", ");
}

function valueSnippet(name: string, option: Option, stop: number): string {
  switch (option.kind) {
    case "column":
    case "columns":
      return `"\${${stop}:${option.of === "number" ? "carry" : name === "by" || option.of === "group" ? "head" : ""}}"`;
    case "choice":
      return `"\${${stop}:${option.choices[0] ?? ""}}"`;
    case "quantity":
      return `"\${${stop}:${option.example}}"`;
    case "number":
      return `\${${stop}:${Number.isFinite(option.above) ? Math.floor(option.above) + 1 : 1}}`;
    case "truth":
      return `\${${stop}:true}`;
    case "measure":
    case "text":
      return `"$${stop}"`;
    case "windows":
      return `{ $${stop} }`;
  }
}

function atWord(place: QueryPlace, view: NotebookView, cell: number, surroundings: QuerySurroundings): readonly Offer[] {
  const { context, row, options } = place;
  const { before, frames, next } = context;
  const last = before.at(-1);
  const innermost = frames.length - 1;
  // Right behind a value only a sign can follow, unless a new statement begins.
  const isNew = frames.length === 0 && (last === undefined || last.text === ";" || (endsValue(last) && last.text !== "const"));
  if (last !== undefined && endsValue(last) && !isNew) return [];
  if (last?.text === "const") return [];
  if (row !== null) return rowWords(place, surroundings);
  if (options !== null) return optionWords(place, view);
  if (innermost < 0) {
    const isStart = last === undefined || last.text === ";" || isNew;
    return startOffers(view, cell, surroundings, isStart, next, before.length === 0);
  }
  const called = place.callOf(innermost);
  const parameter = place.parameterOf(innermost);
  if (parameter !== null && called?.kind === "verb") return argumentWords(parameter, called.receiver, view, cell, surroundings, place);
  if (called?.kind === "chart") return frames[innermost]!.commas === 0 ? tableOffers(view, cell, surroundings) : optionsSnippet(called.chart.options);
  if (called?.kind === "source") return optionsSnippet(called.source.options);
  if (called?.kind === "function") return called.name === "desc" ? quotedColumns(aroundColumns(place), "any") : quotedColumns(aroundColumns(place), surroundings.vocabulary.aggregates.get(called.name)?.of === "number" ? "number" : "any");
  if (called?.kind === "ending") return called.name === "one" ? quotedColumns(called.receiver, "any") : [];
  if (called?.kind === "open") return [];
  if (frames[innermost]!.open === "${") return tableOffers(view, cell, surroundings);
  if (frames[innermost]!.open === "{" && innermost > 0) return objectWords(place, surroundings);
  return frames[innermost]!.open === "(" ? tableOffers(view, cell, surroundings) : [];
}

/** In an object of new columns, aggregates or new names. */
function objectWords(place: QueryPlace, surroundings: QuerySurroundings): readonly Offer[] {
  const innermost = place.context.frames.length - 1;
  const around = place.callOf(innermost - 1);
  const parameter = place.parameterOf(innermost - 1);
  if (around?.kind !== "verb" || parameter === null) return [];
  const entry = place.entryOf(innermost);
  if (parameter.kind === "renames") return entry === null ? columnOffers(around.receiver, "any").map((offer) => ({ ...offer, insert: whyNotAName(offer.insert) === null ? offer.insert : JSON.stringify(offer.insert) })) : [];
  if (entry === null) return [];
  if (parameter.kind === "new columns") return [{ label: "d => …", kind: "snippet", insert: "d => d.$0", isSnippet: true, filter: "d =>", detail: "a value from each row" }];
  return parameter.kind === "aggregates" ? functionOffers(place, surroundings, "op.") : [];
}

function argumentWords(parameter: Parameter, receiver: Schema, view: NotebookView, cell: number, surroundings: QuerySurroundings, place: QueryPlace): readonly Offer[] {
  switch (parameter.kind) {
    case "condition":
      return [{ label: "d => …", kind: "snippet", insert: "d => d.$0", isSnippet: true, filter: "d =>", detail: "which rows stay" }];
    case "new columns":
    case "aggregates":
    case "renames":
      return [{ label: "{ … }", kind: "snippet", insert: argumentSnippet(parameter, 1)!, isSnippet: true, filter: "{", detail: parameter.help }];
    case "columns":
      return quotedColumns(receiver, "any");
    case "ordering":
      return [...quotedColumns(receiver, "any"), ...functionOffers(place, surroundings, "op.")];
    case "table":
      return tableOffers(view, cell, surroundings);
    case "number":
      return [];
    case "options":
      return optionsSnippet(parameter.options);
  }
}

function optionsSnippet(options: Readonly<Record<string, Option>>): readonly Offer[] {
  if (Object.keys(options).length === 0) return [];
  const entries = requiredEntries(options, 1);
  return [{ label: "{ … }", kind: "snippet", insert: entries === "" ? "{ $0 }" : `{ ${entries} }$0`, isSnippet: true, filter: "{", detail: Object.keys(options).join(", ") }];
}

function optionWords(place: QueryPlace, view: NotebookView): readonly Offer[] {
  const { frame, options, columns } = place.options!;
  const { before, frames, next } = place.context;
  const innermost = frames.length - 1;
  const name = place.entryOf(frame);
  if (name !== null) {
    const option = optionOf(options, name);
    if (option === null) return [];
    if (option.kind === "windows") return innermost > frame && place.entryOf(innermost) === null ? columnOffers(columns, "number").map((offer) => ({ ...offer, insert: `${offer.insert}: "$0"`, isSnippet: true as const })) : [];
    return optionValues(option, name, place, columns, view).map(({ isText, ...offer }) => ({ ...offer, insert: isText ? JSON.stringify(offer.insert) : offer.insert, filter: offer.label }));
  }
  if (innermost !== frame) return [];
  // Names of entries before the cursor; those after it are few, and a name given twice is underlined.
  const given = new Set(before.slice(frames[frame]!.at).flatMap((piece, i, all) => (piece.kind === "name" && all[i + 1]?.text === ":" ? [piece.text] : [])));
  return Object.entries(options)
    .filter(([option]) => !given.has(option))
    .map(([label, option]) => ({
      label,
      kind: "option",
      ...(next === ":" ? { insert: label } : { insert: `${label}: ${valueSnippet(label, option, 1)}$0`, isSnippet: true as const }),
      detail: option.required ? "needed" : "",
      documentation: escaped(option.help),
      rank: option.required ? 0 : 1,
    }));
}

/** What an option can be: texts without quotes, and other values. */
function optionValues(option: Option, name: string, place: QueryPlace, columns: Schema, view: NotebookView): readonly (Offer & { readonly isText: boolean })[] {
  const texts = (offers: readonly Offer[]) => offers.map((offer) => ({ ...offer, isText: true }));
  switch (option.kind) {
    case "column":
      return texts(columnOffers(columns, option.of));
    case "columns":
      return texts(columnOffers(columns, option.of));
    case "choice":
      return texts(option.choices.map((choice) => ({ label: choice, kind: "choice", insert: choice, detail: name })));
    case "truth":
      return ["true", "false"].map((word) => ({ label: word, kind: "choice", insert: word, detail: name, isText: false }));
    case "quantity":
      return texts([{ label: option.example, kind: "unit", insert: option.example, detail: name }]);
    case "measure": {
      const written = writtenText(place, option.unitOf);
      const of = written ?? option.unless ?? option.unitOf;
      const margin = view.notebook.front.margins[of];
      const unit = columns.columns.find((column) => column.name === of)?.unit ?? null;
      const label = margin === undefined ? (unit === null ? null : `1 ${unit}`) : `${margin.value} ${margin.unit}`;
      return label === null ? [] : texts([{ label, kind: "unit", insert: label, detail: margin === undefined ? `in the unit of ${of}` : `the notebook's margin of ${of}` }]);
    }
    case "text":
      return texts((columns.columns.find((column) => column.name === "head")?.values ?? []).map((value) => ({ label: value, kind: "value", insert: value, detail: "head" })));
    case "number":
    case "windows":
      return [];
  }
}

/** The text that an option before the cursor is given as. */
function writtenText({ context: { before, frames }, options }: QueryPlace, name: string): string | null {
  const from = frames[options!.frame]!.at;
  const at = before.findIndex((piece, i) => i > from && piece.text === name && before[i + 1]?.text === ":");
  const value = at < 0 ? undefined : before[at + 2];
  return value?.kind === "string" ? value.text.slice(1, -1) : null;
}

/** In a row function: its row, the constants, and the functions. */
function rowWords(place: QueryPlace, surroundings: QuerySurroundings): readonly Offer[] {
  const { name } = place.row!;
  const row: Offer = { label: name, kind: "constant", insert: name, detail: "the row: a column follows its dot", rank: 0 };
  const words = ["true", "false", "null"].map((word): Offer => ({ label: word, kind: "word", insert: word, rank: 3 }));
  return [row, ...functionOffers(place, surroundings, "op.").map((offer) => ({ ...offer, rank: 1 })), ...constantNames(place).map((constant): Offer => ({ label: constant, kind: "constant", insert: constant, rank: 1 })), ...words];
}

function constantNames({ context: { before } }: QueryPlace): readonly string[] {
  return before.flatMap((piece, i) => (piece.text === "const" && before[i + 1]?.kind === "name" && before[i + 2]?.text === "=" ? [before[i + 1]!.text] : []));
}

function startOffers(view: NotebookView, cell: number, surroundings: QuerySurroundings, isStatement: boolean, next: string, isFirst: boolean): readonly Offer[] {
  const tables = tableOffers(view, cell, surroundings);
  if (!isStatement) return tables;
  const { vocabulary } = surroundings;
  const known = (view.sources.shots?.schema ?? null) !== null;
  const header = view.cells[cell]!.checked.header === null;
  const words: Offer[] = [
    { label: "chart", kind: "chart", insert: "chart", detail: [...vocabulary.charts.keys()].join(", "), rank: 3 },
    { label: "text", kind: "word", insert: "text`$0`", isSnippet: true, detail: "words with computed numbers", rank: 3 },
    { label: "const", kind: "word", insert: "const ${1:name} = $0", isSnippet: true, detail: "a name for what follows", rank: 3 },
  ];
  // Whole questions are for a cell that has nothing in it yet.
  const isBlank = isFirst && next === "";
  const snippets = isBlank && known ? tradeSnippets.map((snippet): Offer => ({ label: snippet.question, kind: "snippet", insert: header ? `query=${snippet.name}\n${snippet.body}` : snippet.body, isSnippet: true, detail: "a question", documentation: asCode(snippet.body.replace(/\$\{\d+:([^}]*)\}|\$\d+/gu, "$1")), rank: 2 })) : [];
  return [...tables, ...snippets, ...words];
}

function tableOffers(view: NotebookView, cell: number, surroundings: QuerySurroundings): readonly Offer[] {
  const { vocabulary, tables } = surroundings;
  const own = view.cells[cell]!.checked.name;
  const names = surroundings.tableNames().filter((name) => name !== own && (name !== "shots" || view.sources.shots !== null));
  const known = names.map((name): Offer => ({ label: name, kind: "cell", insert: name, detail: sizeInWords(tables.get(name)), rank: name === "shots" ? 0 : 1 }));
  const opening = (["session", "sessions"] as const).map((name): Offer => ({ label: name, kind: "function", insert: `${name}("$1")$0`, isSnippet: true, detail: name === "session" ? "the shots of a session file" : "the shots of all sessions of a folder", rank: 2 }));
  const made = [...vocabulary.sources.values()].map((source): Offer => ({ label: source.name, kind: "function", insert: `${source.name}({ ${requiredEntries(source.options, 1)} })$0`, isSnippet: true, detail: "a table made from options", documentation: helpMarkdown(source.help), rank: 2 }));
  return [...known, ...opening, ...made];
}

function sizeInWords(schema: Schema | undefined): string {
  if (schema === undefined) return "a table";
  const rows = schema.rowCount === undefined ? "" : `${schema.rowCount} rows, `;
  return `${rows}${schema.columns.length}${schema.open ? " or more" : ""} columns`;
}

/** Functions that can stand at the cursor: of the rows of a group, for ordering, or of one row. */
function functionOffers(place: QueryPlace, { vocabulary }: QuerySurroundings, before: string): readonly Offer[] {
  const { frames, next } = place.context;
  const kinds = frames.map((_, frame) => place.parameterOf(frame)?.kind);
  const offer = (name: string, args: string, detail: string, documentation: string): Offer => ({ label: before + name, kind: "function", ...call(`${before}${name}(${args})$0`, next), detail, documentation });
  if (place.row === null && kinds.at(-1) === "ordering") return [offer("desc", '"$1"', "from the largest down", "The rows with the largest values first.")];
  if (place.row === null && kinds.includes("aggregates"))
    return [...vocabulary.aggregates.values()].map(({ name, of, numbers, help }) => {
      const args = [...(of === "none" ? [] : ['"$1"']), ...numbers.map((number, i) => `\${${i + 2}:${number.name}}`)];
      return offer(name, args.join(", "), of === "none" ? "of the rows" : `of a column of ${of === "any" ? "any kind" : `${of}s`}`, helpMarkdown(help));
    });
  return [...vocabulary.rowFunctions.values()].map(({ name, parameters, help }) => {
    const needed = parameters.filter((parameter) => parameter.optional !== true);
    const args = needed.map((parameter, i) => (i === 0 && place.row !== null ? `${place.row.name}.$1` : parameter.kind === "text" ? `"$${i + 1}"` : `\${${i + 1}:${parameter.name}}`));
    return offer(name, args.join(", "), parameters.map((parameter) => parameter.name).join(", "), helpMarkdown(help));
  });
}

function columnOffers(schema: Schema, of: "number" | "text" | "any" | "group"): readonly Offer[] {
  const fits = ({ kind, unit }: ColumnSchema): boolean => of === "any" || (of === "group" ? kind !== "number" || unit === null : kind === of);
  const groups = ["head", "set", "session", "player", "zone", "intent", "stint", "pass"];
  return schema.columns.filter((column) => fits(column) && !isEngineName(column.name)).map((column) => ({
    label: column.name,
    kind: "column",
    insert: column.name,
    detail: column.unit ?? (column.kind === "number" ? "number" : column.kind),
    documentation: columnMarkdown(column, schema.rowCount),
    // Heads are what most tables are grouped by; other numbers without a unit come last.
    rank: of === "group" ? (groups.includes(column.name) ? groups.indexOf(column.name) : groups.length) : 0,
  }));
}

function quotedColumns(schema: Schema, of: "number" | "text" | "any"): readonly Offer[] {
  return columnOffers(schema, of).map((offer) => ({ ...offer, insert: JSON.stringify(offer.insert), filter: offer.label }));
}

function isPlainMember(name: string): boolean {
  return /^[\p{ID_Start}_$][\p{ID_Continue}$]*$/u.test(name);
}

/** A text as it stands between quotes of the given kind. */
function inQuotes(text: string, quote: string): string {
  const json = JSON.stringify(text).slice(1, -1);
  return quote === "'" ? json.replaceAll('\\"', '"').replaceAll("'", "\\'") : json;
}

function helpMarkdown({ summary, example }: Verb["help"]): string {
  return `${escaped(summary)}\n\n\`\`\`js\n${example.replaceAll("```", "")}\n\`\`\``;
}
