import { bodyOffset } from "../../core/notebook/read-header";
import { textForms } from "../../core/query/text-forms";
import type { Schema } from "../../core/table/schema";
import { resultColumnMeaning } from "../../core/verbs/result-columns";
import type { HoverAnswer } from "./answers";
import { callMarkdown, optionSentences, shapeOfChart, shapeOfEnding, shapesOfOpening, shapeOfSource, shapeOfVerb } from "./call-words";
import { columnsInBrief, resultInWords, schemaInWords } from "./cell-words";
import { columnMarkdown, nameInCode } from "./column-hover";
import { choiceMarkdown } from "./hover-choice";
import { asCode, escaped } from "./markdown";
import { codeBlock } from "./markdown-blocks";
import type { NotebookView } from "./notebook-view";
import { occurrencesOf, type Occurrence } from "./occurrences";
import { piecesFrom } from "./query-pieces";
import { headMarkdown, sessionsMarkdown, sessionsOf, zoneMarkdown } from "./session-markdown";
import { shapeOfOp } from "./signature";

/** Lines of a cell's text that are shown, and characters of them. */
const mostLines = 6;
const mostCharacters = 400;

/** Characters of a list of columns. */
const columnList = 300;

/** What is known of the name at `offset` in the body of a query cell; `null` where there is none. */
export function hoverQuery(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const found = nameAt(view, cell, offset);
  if (found === null) return wordOfLanguage(view, cell, offset);
  const markdown = aboutName(found, view, cell);
  return markdown === null ? null : { from: found.from, to: found.to, markdown };
}

/** The name that the cursor is in or right behind. */
function nameAt(view: NotebookView, cell: number, offset: number): Occurrence | null {
  const names = occurrencesOf(view, cell);
  return names.find(({ from, to }) => from <= offset && offset < to) ?? names.find(({ to }) => to === offset) ?? null;
}

function aboutName(name: Occurrence, view: NotebookView, cell: number): string | null {
  const { vocabulary } = view.surroundingsOf(cell);
  switch (name.role) {
    case "column":
      return aboutColumn(name, view);
    case "verb":
      return aboutVerb(name);
    case "function":
    case "aggregate": {
      const shape = shapeOfOp(name.name, name.role === "aggregate", vocabulary);
      return shape && callMarkdown(shape);
    }
    case "chart kind": {
      const chart = vocabulary.charts.get(name.name);
      return chart === undefined ? null : callMarkdown(shapeOfChart(chart));
    }
    case "source":
      return aboutSource(name.name, view, cell);
    case "option":
      return aboutOption(name, name.name);
    case "choice":
      return aboutChoice(name);
    case "named choice":
      return choiceMarkdown(view, name.name);
    case "value":
      return aboutValue(name, view);
    case "cell":
      return cellMarkdown(name.name, view);
    case "constant":
      return aboutConstant(name.name, view, cell);
    case "row":
      return `**${asCode(name.name)}**: one row of the table; ${asCode(`${name.name}.carry`)} is its value in a column.`;
    case "path":
      return aboutPath(name.name, view);
  }
}

function aboutColumn(name: Occurrence, view: NotebookView): string | null {
  const { column } = name;
  if (column === undefined) return `**${nameInCode(name.name)}**: a column of which nothing is known here.`;
  const verb = makerOf(name.symbol, view);
  const meaning = verb === null ? null : resultColumnMeaning(verb, column.name);
  const shown = columnMarkdown(column, rowsOf(column, view), meaning ?? undefined);
  if (verb === null || meaning === null) return shown;
  const method = view.surroundingsOf(0).vocabulary.verbs.get(verb)?.help.method;
  return method === undefined ? shown : `${shown}\n\n**Method of \`${verb}\`.** ${method}`;
}

/** The verb of the trade under whose own name a column stands, as the column's symbol tells; `null` for any other column. */
function makerOf(symbol: string | null, view: NotebookView): string | null {
  const place = /^made:(\d+):(\d+):/u.exec(symbol ?? "");
  if (place === null) return null;
  const text = view.cells[Number(place[1])]?.text ?? "";
  return /^\w+/u.exec(text.slice(Number(place[2])))?.[0] ?? null;
}

/** Rows of the table that a column was counted in. */
function rowsOf(column: NonNullable<Occurrence["column"]>, view: NotebookView): number | undefined {
  if (column.missing === undefined) return undefined;
  const schemas = [view.sources.shots, ...view.sources.byPath.values()].map((source) => source?.schema ?? null).concat(view.checked.cells.map(({ schema }) => schema));
  return schemas.find((schema) => schema?.columns.includes(column))?.rowCount;
}

function aboutVerb({ name, verb }: Occurrence): string | null {
  if (verb !== undefined) return callMarkdown(shapeOfVerb(verb));
  const form = textForms.find(({ ending }) => ending === name);
  return form === undefined ? null : callMarkdown(shapeOfEnding(name, form.help));
}

function aboutSource(name: string, view: NotebookView, cell: number): string | null {
  if (name === "session" || name === "sessions") return callMarkdown(shapesOfOpening[name]);
  const source = view.surroundingsOf(cell).vocabulary.sources.get(name);
  return source === undefined ? null : callMarkdown(shapeOfSource(source));
}

function aboutOption({ option, verb }: Occurrence, name: string): string | null {
  if (option === undefined) return null;
  return `**${nameInCode(name)}**, option${verb === undefined ? "" : ` of \`${verb.name}\``}\n\n${optionSentences(option)}`;
}

function aboutChoice({ name, option, verb }: Occurrence): string | null {
  if (option === undefined) return null;
  const of = verb === undefined ? "" : ` of an option of \`${verb.name}\``;
  return `**${nameInCode(name)}**, choice${of}\n\n${optionSentences(option)}`;
}

function aboutValue({ name, column, symbol }: Occurrence, view: NotebookView): string {
  // A column under another name still holds heads, zones or sessions.
  const of = /^value:shot column:(\w+):/u.exec(symbol ?? "")?.[1] ?? column?.name ?? "";
  const sessions = sessionsOf(view);
  const title = `**${nameInCode(name)}**, a value of ${column === undefined ? "a column" : nameInCode(column.name)}`;
  const isKnown = column?.values?.includes(name) ?? true;
  const absent = isKnown ? [] : ["No row of this table holds it."];
  return [title, ...absent, ...aboutShotValue(name, of, sessions)].join("\n\n");
}

function aboutShotValue(name: string, column: string, sessions: ReturnType<typeof sessionsOf>): readonly string[] {
  switch (column) {
    case "head":
      return [headMarkdown(name, sessions)];
    case "zone": {
      const zone = zoneMarkdown(name, sessions);
      return zone === null ? [] : [zone];
    }
    case "session": {
      const named = sessions.filter((session) => session.name === name);
      return named.length === 0 ? [] : [sessionsMarkdown(named)];
    }
    case "set":
    case "club": {
      const heads = [...new Set(sessions.flatMap((session) => session.heads.filter((head) => head[column] === name).map((head) => head.name)))];
      return heads.length === 0 ? [] : [`Heads: ${heads.map(nameInCode).join(", ")}`];
    }
    default:
      return [];
  }
}

/** What the cell called `name`, or `shots`, gives, in Markdown: its columns and rows, and how it begins. */
export function cellMarkdown(name: string, view: NotebookView): string | null {
  const cell = view.cells.find(({ kind, checked }) => (kind === "query" || kind === "chart") && checked.name === name && checked.header !== null);
  if (cell === undefined) return name === "shots" ? shotsMarkdown(view) : `**${nameInCode(name)}**: no cell has this name.`;
  const { checked, text } = cell;
  const words = resultInWords(checked);
  const schema = checked.query?.result.type === "table" ? checked.schema : null;
  const body = firstLines(text.slice(Math.min(bodyOffset(text), text.length)));
  return [
    `**${nameInCode(name)}**: ${words === "" ? `a ${cell.kind} cell that has a mistake` : `${cell.kind} cell, ${escaped(words)}`}`,
    ...(schema === null ? [] : columnLine(schema)),
    ...(body === "" ? [] : [codeBlock(body, cell.kind === "chart" ? "json" : "js")]),
  ].join("\n\n");
}

function shotsMarkdown(view: NotebookView): string {
  const { shots } = view.sources;
  if (shots === null) return "**`shots`**: the shots of the sessions that the front matter names; it names none.";
  if (shots.schema === null) return "**`shots`**: the shots of the sessions that the front matter names; they could not be read.";
  return [`**\`shots\`**: the shots of the front matter's sessions, ${schemaInWords(shots.schema)}`, ...columnLine(shots.schema), sessionsMarkdown(shots.table?.sessions ?? [])].join("\n\n");
}

function columnLine({ columns }: Schema): readonly string[] {
  return columns.length === 0 ? [] : [`Columns: ${asCode(columnsInBrief(columns, columnList))}`];
}

function firstLines(text: string): string {
  const lines = text.trim().split("\n");
  const shown = lines.slice(0, mostLines).join("\n");
  if (shown.length > mostCharacters) return `${shown.slice(0, mostCharacters)} …`;
  return lines.length > mostLines ? `${shown}\n…` : shown;
}

function aboutConstant(name: string, view: NotebookView, cell: number): string | null {
  const query = view.checked.cells[cell]?.query ?? null;
  const plain = query?.constants.get(name);
  if (plain !== undefined) return `**${nameInCode(name)}**: ${typeof plain === "string" ? nameInCode(JSON.stringify(plain)) : `\`${plain}\``}, a constant of this cell`;
  const table = query?.tables.get(name);
  if (table === undefined) return `**${nameInCode(name)}**: a constant of this cell`;
  return [`**${nameInCode(name)}**: a table of this cell, ${schemaInWords(table.schema)}`, ...columnLine(table.schema)].join("\n\n");
}

function aboutPath(path: string, view: NotebookView): string {
  const source = view.sources.byPath.get(path);
  if (!source?.table || source.schema === null) return `**${nameInCode(path)}**: its shots could not be read.`;
  return [`**${nameInCode(path)}**: ${schemaInWords(source.schema)}`, sessionsMarkdown(source.table.sessions)].join("\n\n");
}

/** Words of the language that name nothing of their own. */
function wordOfLanguage(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const { text } = view.cells[cell]!;
  const pieces = piecesFrom(text, Math.min(bodyOffset(text), text.length)).filter(({ kind }) => kind !== "comment");
  const at = pieces.findIndex(({ kind, from, to }) => kind === "name" && from <= offset && offset <= to);
  const word = pieces[at];
  if (word === undefined || pieces[at - 1]?.text === ".") return null;
  const { vocabulary } = view.surroundingsOf(cell);
  const listed = (names: Iterable<string>): string => [...names].map((each) => `\`${each}\``).join(", ");
  const markdown = {
    op: () => `**\`op\`**: where the functions are, \`op.name(…)\`.\n\nOf one row: ${listed(vocabulary.rowFunctions.keys())}.\n\nOf the rows of a group: ${listed(vocabulary.aggregates.keys())}.`,
    chart: () => `**\`chart\`**: where the charts are, \`chart.KIND(table)\`: ${listed(vocabulary.charts.keys())}.`,
    chosen: () => "**`chosen`**: where the words of the front matter's choices are, `chosen.NAME`.",
    text: () => textForms.map(({ form, help }) => `${asCode(form)}: ${escaped(help.summary)}`).join("\n\n"),
    const: () => "**`const`**: gives a value or a table a name within this cell: `const limit = 150`.",
  };
  if (!Object.hasOwn(markdown, word.text)) return null;
  return { from: word.from, to: word.to, markdown: markdown[word.text as keyof typeof markdown]() };
}
