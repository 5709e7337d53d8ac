import { bodyOffset } from "../../core/notebook/read-header";
import { columnAccess } from "../../core/query/check-row";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { textForms } from "../../core/query/text-forms";
import type { ChartKind, Parameter, Verb } from "../../core/query/vocabulary";
import type { ColumnSchema, Schema } from "../../core/table/schema";
import type { Suggestion } from "./answers";
import { argumentSnippet, asCall, optionEntries, verbArguments, type Likely } from "./call-snippets";
import { asEntry, columnKeys, optionsObject, optionTexts, optionWords } from "./complete-options";
import { cursorContext } from "./cursor-context";
import type { NotebookView } from "./notebook-view";
import { columnOffers, functionOffers, helpMarkdown, inQuotes, namesOfTables, quoted, tableOffers, valueConstantOffers, valueOffers, without, writtenIn, type Offer } from "./query-offers";
import { endsValue, isConst, statementStart, textOfString, type Piece } from "./query-pieces";
import { queryPlace, type QueryPlace } from "./query-place";
import { sessionPaths } from "./session-paths";
import { questionOffers } from "./trade-snippets";

/** What a suggestion is made from. */
interface Asked {
  readonly view: NotebookView;
  readonly cell: number;
  readonly text: string;
  readonly place: QueryPlace;
  readonly surroundings: QuerySurroundings;
}

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
  const asked: Asked = { view, cell, text, surroundings, place: queryPlace(text, context, surroundings) };
  const { replace, quote, closed } = context;
  if (context.where === "string") {
    const texts = [...inString(asked), ...(await paths(asked, text.slice(replace.from, offset)))];
    return texts.map((offer) => ({ ...offer, insert: `${inQuotes(offer.insert, quote)}${closed ? "" : quote}`, replace }));
  }
  if (context.before.at(-1)?.text === ".") return afterDot(asked);
  return atWord(asked).map((offer) => ({ ...offer, replace }));
}

function inString({ place, view, surroundings }: Asked): readonly Offer[] {
  const { before, frames } = place.context;
  const innermost = frames.length - 1;
  const compared = comparedColumn(place);
  if (compared !== null) return valueOffers(compared);
  if (before.at(-1)?.text === "[" && before.at(-2)?.text === place.row?.name) return columnOffers(place.row!.columns, "any");
  const call = innermost < 0 ? null : place.callOf(innermost);
  if (call?.kind === "function") return place.row === null ? columnsOfFunction(call.name, place, surroundings) : [];
  if (call?.kind === "ending") return columnOffers(call.receiver(), "any");
  if (call?.kind === "verb") return columnsOfVerb(place, innermost);
  if (place.options !== null) return optionTexts(place, view);
  // A name in quotes where columns get new names.
  const around = innermost > 0 ? place.callOf(innermost - 1) : null;
  const isKey = around?.kind === "verb" && place.parameterOf(innermost - 1)?.kind === "renames" && place.entryOf(innermost) === null;
  return isKey ? columnOffers(around.receiver(), "any") : [];
}

/** The columns that the verb of a frame can take at the cursor: those not named yet, and of a join those of both tables. */
function columnsOfVerb(place: QueryPlace, frame: number): readonly Offer[] {
  const call = place.callOf(frame);
  const parameter = place.parameterOf(frame);
  if (call?.kind !== "verb" || (parameter?.kind !== "columns" && parameter?.kind !== "ordering")) return [];
  const offers = without(columnOffers(call.receiver(), "any"), writtenIn(place, frame));
  const other = call.verb.parameters[0]?.kind === "table" ? call.other() : null;
  return other === null || other.open ? offers : offers.filter(({ insert }) => other.columns.some(({ name }) => name === insert));
}

/** The columns that a function of the rows of a group takes. */
function columnsOfFunction(name: string, place: QueryPlace, { vocabulary }: QuerySurroundings): readonly Offer[] {
  const of = name === "desc" ? "any" : (vocabulary.aggregates.get(name)?.of ?? "none");
  if (of === "none" || place.context.frames.at(-1)!.commas > 0) return [];
  for (let frame = place.context.frames.length - 1; frame >= 0; frame--) {
    const call = place.callOf(frame);
    if (call?.kind === "verb" || call?.kind === "ending") return columnOffers(call.receiver(), of);
  }
  return [];
}

/** The column that what stands at the cursor is compared with, by a sign on either side or by a function. */
function comparedColumn(place: QueryPlace): ColumnSchema | null {
  const { before, after, frames, next } = place.context;
  if (place.row === null) return null;
  const sign = before.at(-1)?.text;
  if (sign === "===" || sign === "!==") return columnBetween(place, before.slice(-5, -1), "end");
  if ((next === "===" || next === "!==") && place.context.closed) return columnBetween(place, after.slice(1, 5), "start");
  const frame = frames.at(-1);
  if (frame === undefined || frame.commas === 0 || place.callOf(frames.length - 1)?.kind !== "function") return null;
  const comma = before.findIndex((piece, i) => i > frame.at && piece.text === ",");
  const first = before.slice(frame.at + 1, comma);
  return first.length === 3 || first.length === 4 ? columnBetween(place, first, "start") : null;
}

/** The column that pieces start or end with: `d.head` or `d["head"]`. */
function columnBetween({ row }: QueryPlace, pieces: readonly Piece[], side: "start" | "end"): ColumnSchema | null {
  const find = (name: string): ColumnSchema | null => row?.columns.columns.find((column) => column.name === name) ?? null;
  const [three, four] = side === "start" ? [pieces.slice(0, 3), pieces.slice(0, 4)] : [pieces.slice(-3), pieces.slice(-4)];
  if (three[0]?.text === row?.name && three[1]?.text === "." && three[2]?.kind === "name") return find(three[2].text);
  if (four[0]?.text === row?.name && four[1]?.text === "[" && four[2]?.kind === "string" && four[3]?.text === "]") return find(textOfString(four[2]));
  return null;
}

async function paths({ place, view }: Asked, typed: string): Promise<readonly Offer[]> {
  const { frames } = place.context;
  const call = frames.length === 0 ? null : place.callOf(frames.length - 1);
  if (call?.kind !== "open" || frames.at(-1)!.commas > 0) return [];
  const { files, patterns } = await sessionPaths(view, typed);
  return (call.name === "session" ? files : patterns).map((path): Offer => ({ label: path, kind: "file", insert: path }));
}

function afterDot(asked: Asked): readonly Suggestion[] {
  const { place, surroundings } = asked;
  const { before, replace, frames, next } = place.context;
  const here = (offers: readonly Offer[]): readonly Suggestion[] => offers.map((offer) => ({ ...offer, replace }));
  const owner = before.at(-2);
  if (owner?.kind === "name" && before.at(-3)?.text !== ".") {
    if (owner.text === place.row?.name) return columnsOfRow(asked, place.row.columns);
    if (owner.text === "op") return here(functionOffers(place, surroundings, ""));
    if (owner.text === "chart") return here([...surroundings.vocabulary.charts.values()].map((chart) => chartOffer(chart, asked)));
  }
  if (owner === undefined || !endsValue(owner) || owner.kind === "number" || owner.kind === "string" || owner.text === "`") return [];
  const table = place.tableOf(before.length - 2);
  const likely: Likely = { columns: table, table: likelyTable(asked) };
  const verbs = [...surroundings.vocabulary.verbs.values()].map((verb): Offer => ({
    label: verb.name,
    kind: "verb",
    ...asCall(`${verb.name}(${verbArguments(verb, likely)})$0`, next),
    detail: verb.parameters.map((parameter) => parameter.name).join(", "),
    documentation: helpMarkdown(verb.help),
    rank: rankOf(verb, table),
  }));
  const endings = textForms.flatMap(({ ending, form, help }): Offer[] =>
    ending === null ? [] : [{ label: ending, kind: "function", ...asCall(ending === "one" ? 'one("$1")$0' : `${ending}()$0`, next), detail: form, documentation: helpMarkdown(help), rank: 1 }],
  );
  return here(frames.some(({ open }) => open === "${") ? [...verbs, ...endings] : verbs);
}

/** Columns behind the dot of a row: one with an odd name stands between brackets, in the place of the dot. */
function columnsOfRow({ text, place }: Asked, columns: Schema): readonly Suggestion[] {
  const { before, replace } = place.context;
  const dot = { from: before.at(-1)!.from, to: replace.to };
  return columnOffers(columns, "any").flatMap((offer): Suggestion[] => {
    const access = columnAccess(offer.insert);
    if (access.startsWith(".")) return [{ ...offer, replace }];
    return text.slice(dot.from, dot.to).includes("\n") ? [] : [{ ...offer, insert: access, filter: `.${offer.insert}`, replace: dot }];
  });
}

function chartOffer(chart: ChartKind, asked: Asked): Offer {
  const { view, cell, surroundings, place } = asked;
  const names = namesOfTables(view, cell, surroundings);
  const fits = (name: string): boolean => hasColumns(surroundings.tables.get(name), chart.needs);
  const table = names.find(fits);
  const likely: Likely = { columns: surroundings.tables.get(table ?? "") ?? { columns: [], open: true, groupedBy: [], fromShots: true }, table: table ?? "shots" };
  const entries = optionEntries(chart.options, likely, 2);
  const snippet = `${chart.name}(\${1:${likely.table}}${entries === "" ? "" : `, { ${entries} }`})$0`;
  return { label: chart.name, kind: "chart", ...asCall(snippet, place.context.next), detail: "a picture", documentation: helpMarkdown(chart.help), rank: table === undefined ? 1 : 0 };
}

function hasColumns(schema: Schema | undefined, needs: readonly string[]): boolean {
  return schema !== undefined && needs.every((need) => schema.columns.some(({ name }) => name === need));
}

/** What can follow first, then what makes less sense on such a table. */
function rankOf(verb: Verb, table: Schema): number {
  if (table.groupedBy.length > 0) return verb.name === "rollup" || verb.name === "count" ? 0 : verb.family === "table" ? 2 : 3;
  if (verb.name === "ungroup") return 5;
  return verb.family === "trade" && !table.fromShots ? 4 : 1;
}

/** A table to join or draw: another cell's, or `shots`. */
function likelyTable({ view, cell, surroundings }: Asked): string {
  const names = namesOfTables(view, cell, surroundings);
  return names.find((name) => name !== "shots") ?? "shots";
}

function atWord(asked: Asked): readonly Offer[] {
  const { view, text, place } = asked;
  const { before, after, frames, replace, next } = place.context;
  const last = before.at(-1);
  // What is written here is the parameter of a row function, or a name that is being made.
  if (next === "=>" || (last !== undefined && isConst(before, before.length - 1))) return [];
  const isStatement = beginsStatement(asked);
  // Right behind a value only a sign can follow, unless a new statement begins.
  if (last !== undefined && endsValue(last) && !isStatement) return [];
  if (isStatement) return statementOffers(asked);
  const isKey = frames.at(-1)?.open === "{" && place.entryOf(frames.length - 1) === null;
  const follows = after[0];
  const startsValue = follows !== undefined && (endsValue(follows) || "([{`".includes(follows.text)) && !")]}".includes(follows.text);
  // A value cannot stand right before another.
  if (!isKey && replace.from === replace.to && startsValue && !text.slice(replace.to, follows.from).includes("\n")) return [];
  const offers = place.row !== null ? rowWords(asked) : place.options !== null ? optionWords(place, view) : argumentOffers(asked);
  if (next !== ".") return offers;
  // Whatever goes on with a dot is a name.
  const namesAlone = offers.filter(({ kind, isSnippet }) => isSnippet !== true && (kind === "cell" || kind === "constant"));
  return offers.some(({ label }) => label.startsWith("op.")) ? [...namesAlone, { label: "op", kind: "word", insert: "op" }] : namesAlone;
}

/** True where a statement can begin: at the start of the body, after a semicolon, and on a line below a constant. */
function beginsStatement({ text, place }: Asked): boolean {
  const { before, frames, replace } = place.context;
  const last = before.at(-1);
  if (frames.length > 0) return false;
  if (last === undefined || last.text === ";") return true;
  const isBelow = text.slice(last.to, replace.from).includes("\n");
  return isBelow && endsValue(last) && isConst(before, statementStart(before));
}

function statementOffers(asked: Asked): readonly Offer[] {
  const { view, cell, place, surroundings } = asked;
  const { next, after } = place.context;
  const words: readonly Offer[] = [
    { label: "chart", kind: "chart", insert: "chart", detail: [...surroundings.vocabulary.charts.keys()].join(", "), rank: 3 },
    { label: "text", kind: "word", ...(next === "`" ? { insert: "text" } : { insert: "text`$0`", isSnippet: true }), detail: "words with computed numbers", rank: 3 },
    { label: "const", kind: "word", ...(after.length > 0 ? { insert: "const" } : { insert: "const ${1:name} = $0", isSnippet: true }), detail: "a name for what follows", rank: 3 },
  ];
  const questions = after.length === 0 ? questionOffers(view, cell, place.context.replace.from === 0) : [];
  return [...tableOffers(view, cell, place, surroundings), ...questions, ...words];
}

function argumentOffers(asked: Asked): readonly Offer[] {
  const { view, cell, place, surroundings } = asked;
  const { frames } = place.context;
  const innermost = frames.length - 1;
  if (innermost < 0) return tableOffers(view, cell, place, surroundings);
  const called = place.callOf(innermost);
  switch (called?.kind) {
    case "verb": {
      const parameter = place.parameterOf(innermost);
      return parameter === null ? [] : verbArgument(parameter, called.receiver(), innermost, asked);
    }
    case "chart":
      return frames[innermost]!.commas === 0 ? tablesToDraw(called.chart, asked) : optionsObject(called.chart.options, { columns: called.table(), table: "shots" });
    case "source":
      return optionsObject(called.source.options, { columns: { columns: [], open: false, groupedBy: [], fromShots: false }, table: "shots" });
    case "function":
      return quoted(columnsOfFunction(called.name, place, surroundings));
    case "ending":
      return called.name === "one" && frames[innermost]!.commas === 0 ? quoted(columnOffers(called.receiver(), "any")) : [];
    case "open":
      return [];
  }
  if (frames[innermost]!.open === "{") return entryOffers(asked);
  return frames[innermost]!.open === "[" ? [] : tableOffers(view, cell, place, surroundings);
}

function tablesToDraw(chart: ChartKind, { view, cell, place, surroundings }: Asked): readonly Offer[] {
  return tableOffers(view, cell, place, surroundings).map((offer) => (offer.kind === "cell" && hasColumns(surroundings.tables.get(offer.label), chart.needs) ? { ...offer, rank: 0 } : { ...offer, rank: (offer.rank ?? 0) + 1 }));
}

function verbArgument(parameter: Parameter, receiver: Schema, frame: number, asked: Asked): readonly Offer[] {
  const { view, cell, place, surroundings } = asked;
  const likely: Likely = { columns: receiver, table: likelyTable(asked) };
  switch (parameter.kind) {
    case "condition":
      return [{ label: "d => …", kind: "snippet", insert: "d => d.$0", isSnippet: true, filter: "d =>", detail: "which rows stay" }];
    case "new columns":
    case "aggregates":
    case "renames":
      return [{ label: "{ … }", kind: "snippet", insert: argumentSnippet(parameter, likely)!, isSnippet: true, filter: "{", detail: parameter.help }];
    case "columns":
      return quoted(columnsOfVerb(place, frame));
    case "ordering":
      return [...quoted(columnsOfVerb(place, frame)), ...functionOffers(place, surroundings, "op.")];
    case "table":
      return tableOffers(view, cell, place, surroundings);
    case "number":
      return valueConstantOffers(place);
    case "options":
      return optionsObject(parameter.options, likely);
  }
}

/** In an object of new columns, aggregates or new names. */
function entryOffers({ place, surroundings }: Asked): readonly Offer[] {
  const innermost = place.context.frames.length - 1;
  const around = innermost > 0 ? place.callOf(innermost - 1) : null;
  const parameter = innermost > 0 ? place.parameterOf(innermost - 1) : null;
  if (around?.kind !== "verb" || parameter === null) return [];
  const isKey = place.entryOf(innermost) === null;
  switch (parameter.kind) {
    case "renames":
      return isKey ? columnKeys(columnOffers(around.receiver(), "any"), place) : [];
    case "new columns":
      return isKey ? [] : [{ label: "d => …", kind: "snippet", insert: "d => d.$0", isSnippet: true, filter: "d =>", detail: "a value from each row" }];
    case "aggregates":
      if (!isKey) return functionOffers(place, surroundings, "op.");
      // A new column is mostly called after what is computed.
      return functionOffers(place, surroundings, "").flatMap(({ label, insert, isSnippet, ...offer }): Offer[] => (isSnippet === true ? [{ ...offer, label, ...asEntry(label, `op.${insert.replace(/\$0$/u, "")}`, place), detail: "a new column" }] : []));
    default:
      return [];
  }
}

/** In a row function: values of the column compared with, its row, the constants, and the functions. */
function rowWords({ place, surroundings }: Asked): readonly Offer[] {
  const compared = comparedColumn(place);
  const { name } = place.row!;
  const row: Offer = { label: name, kind: "constant", insert: name, detail: "the row: a column follows its dot" };
  const words = ["true", "false", "null"].map((word): Offer => ({ label: word, kind: "word", insert: word, rank: 3 }));
  const functions = functionOffers(place, surroundings, "op.").map((offer) => ({ ...offer, rank: 1 }));
  return [...(compared === null ? [] : quoted(valueOffers(compared))), row, ...valueConstantOffers(place), ...functions, ...words];
}
