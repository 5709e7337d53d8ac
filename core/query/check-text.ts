import { shown } from "../problem-kind";
import { findHolePlaces } from "../present/hole-places";
import type { Schema } from "../table/schema";
import { checkColumnName } from "./check-column";
import { plainNumber } from "./check-literal";
import type { RowSurroundings } from "./check-row";
import { sayExtra } from "./extra-fix";
import type { Syntax, TextSyntax } from "./syntax";
import { isChartCall, syntaxInWords } from "./syntax";
import type { TableExpression, TableSource, TextExpression, TextHole, ValueCall } from "./table-expression";
import { isTextEnding, textEndings } from "./text-forms";

/** Decimals that may be asked for. */
const mostDecimals = 10;

type CheckTable = (node: Syntax) => TableExpression | null;
type Call = Extract<Syntax, { kind: "call" }>;
type MemberCall = Call & { readonly callee: Extract<Syntax, { kind: "member" }> };

/** A text with holes, its holes checked one by one; `null` when one of them is wrong, which was reported. */
export function checkText(node: TextSyntax, around: RowSurroundings, checkTable: CheckTable): TextExpression | null {
  const { reporter } = around;
  const places = findHolePlaces(node.texts);
  const holes = node.holes.map((hole, index) => {
    const checked = checkHole(hole, around, checkTable);
    if (checked === null) return null;
    const place = places[index]!;
    if (place !== "words") reporter.say("query.hole-place", { place }, hole);
    else if (checked.kind === "rows" && !isAlone(node.texts, index)) reporter.say("query.table-in-line", {}, hole);
    return checked;
  });
  return holes.includes(null) ? null : { from: node.from, to: node.to, texts: node.texts, holes: holes as readonly TextHole[] };
}

/** What `.one(…)` asks for: the column, and the decimals where they are given. */
export interface CheckedValue {
  readonly column: string;
  readonly decimals: number | null;
}

/** What stands between the brackets of `.one(…)`, checked against its table; `null` when it is wrong, which was reported. */
export function checkValue({ nameSpan, given }: ValueCall, table: Schema, around: RowSurroundings): CheckedValue | null {
  const { reporter, constants } = around;
  const [name, digits, extra] = given;
  if (name === undefined) {
    reporter.say("query.missing-argument", { call: "one", argument: "a column", help: 'name a column in quotes: .one("carry")' }, nameSpan);
    return null;
  }
  if (extra !== undefined) {
    sayExtra("one", given, 2, reporter);
    return null;
  }
  const column = checkColumnName(name, digits === undefined ? "any" : "number", table, around);
  if (column === null || digits === undefined) return column === null ? null : { column, decimals: null };
  const decimals = plainNumber(digits, constants);
  const wanted = `a count of decimals, whole and from 0 to ${mostDecimals}`;
  if (decimals === undefined) {
    reporter.say("query.expected", { wanted, found: syntaxInWords(digits) }, digits);
    return null;
  }
  if (Number.isInteger(decimals) && decimals >= 0 && decimals <= mostDecimals) return { column, decimals };
  reporter.say("query.number", { found: String(decimals), wanted }, digits);
  return null;
}

function checkHole(node: Syntax, around: RowSurroundings, checkTable: CheckTable): TextHole | null {
  const { reporter, vocabulary } = around;
  const found = node.kind === "member" ? shown(reporter.textOf(node)) : whyNoTable(node, around);
  if (found !== null) {
    reporter.say("query.not-a-hole", { found }, node);
    return null;
  }
  if (!isMemberCall(node)) return asRows(checkTable(node), node);
  const { name, nameSpan, of } = node.callee;
  if (isTextEnding(name)) {
    const table = checkTable(of);
    if (table === null) return null;
    return name === "one" ? valueHole(node, table, around) : sentencesHole(node, table, around);
  }
  if (vocabulary.verbs.has(name)) return asRows(checkTable(node), node);
  reporter.unknown("query.unknown-verb", name, nameSpan, [...textEndings, ...vocabulary.verbs.keys()]);
  return null;
}

function asRows(table: TableExpression | null, { from, to }: Syntax): TextHole | null {
  return table && { from, to, kind: "rows", table };
}

function valueHole(node: MemberCall, table: TableExpression, around: RowSurroundings): TextHole | null {
  const { from, to, given } = node;
  const call: ValueCall = { nameSpan: node.callee.nameSpan, given };
  if (checkValue(call, table.schema, around) === null) return null;
  const count = table.schema.rowCount;
  if (count !== undefined && count !== 1) around.reporter.say("query.not-one-row", { count }, table);
  return { from, to, kind: "value", table, call };
}

function sentencesHole(node: MemberCall, table: TableExpression, around: RowSurroundings): TextHole | null {
  const { from, to, given } = node;
  const { nameSpan } = node.callee;
  const { reporter } = around;
  if (given[0] !== undefined) {
    sayExtra("sentences", given, 0, reporter);
    return null;
  }
  const verb = table.steps.at(-1)?.verb;
  const hasNone = verb === undefined ? isPlain(table.source) : verb.family === "table";
  if (hasNone) reporter.say("query.no-sentences", { verb: verb?.name ?? "" }, nameSpan);
  return { from, to, kind: "sentences", table, nameSpan };
}

/** True for shots as they are read, which no verb and no source has said anything of. */
function isPlain(source: TableSource): boolean {
  return source.kind === "session" || source.kind === "sessions" || (source.kind === "named" && source.name === "shots");
}

/** What a hole holds instead of a table, in words; `null` for what could be one. */
function whyNoTable(node: Syntax, { constants }: RowSurroundings): string | null {
  if (isChartCall(node)) return "a chart";
  if (node.kind === "name") return constants.has(node.name) ? "a plain value" : null;
  if (node.kind !== "call") return syntaxInWords(node);
  const { callee } = node;
  return callee.kind === "member" && callee.of.kind === "name" && callee.of.name === "op" ? "a function of values" : null;
}

function isMemberCall(node: Syntax): node is MemberCall {
  return node.kind === "call" && node.callee.kind === "member";
}

/** True when nothing but space stands on the line of a hole. */
function isAlone(texts: readonly string[], index: number): boolean {
  const [before, after] = [texts[index]!, texts[index + 1]!];
  const begins = /(?:^|\n)[ \t]*$/u.exec(before);
  const ends = /^[ \t]*(?:\n|$)/u.exec(after);
  if (begins === null || ends === null) return false;
  // Without a line end between them, what stands before or after is another hole.
  return (index === 0 || before.includes("\n")) && (index === texts.length - 2 || after.includes("\n"));
}
