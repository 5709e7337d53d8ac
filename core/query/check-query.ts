import { hasError, type Checked } from "../problem";
import { nothingKnown, type Schema } from "../table/schema";
import { lineTable } from "../text-position";
import { checkOptions } from "./check-options";
import { checkText } from "./check-text";
import { plainValue } from "./check-literal";
import type { ChosenHere, PlainConstant, RowSurroundings } from "./check-row";
import { createTableChecker } from "./check-table";
import { parseQuery } from "./parse-query";
import { findReferences, type Reference, type PathReference } from "./references";
import { createReporter } from "./reporter";
import type { CellSyntax, ChartCall, Syntax } from "./syntax";
import { isChartCall, syntaxInWords } from "./syntax";
import { sayExtra } from "./extra-fix";
import type { QuerySurroundings } from "./query-surroundings";
import type { ChartExpression, TableExpression, TextExpression } from "./table-expression";
import { lackedBy } from "./chart-needs";
import { withChosenWords } from "./chosen-words";
import type { NotebookChoice } from "../notebook/choice";

/** What a cell will give. */
export type QueryResult =
  | { readonly type: "table"; readonly schema: Schema }
  | { readonly type: "chart"; readonly kind: string }
  | { readonly type: "text" };

/** The expression that a cell's result comes from. */
export type ResultExpression =
  | { readonly kind: "table"; readonly table: TableExpression }
  | { readonly kind: "chart"; readonly chart: ChartExpression }
  | { readonly kind: "text"; readonly text: TextExpression };

/** A query cell, checked: all that running it needs, and what is known of its result. */
export interface CheckedQuery {
  readonly result: QueryResult;
  /** Every use of a table by name, constants of the cell left out. */
  readonly references: readonly Reference[];
  /** Every path given to `session` or `sessions`. */
  readonly paths: readonly PathReference[];
  /** The cell's whole text; places in the parts below are in it. */
  readonly text: string;
  /** Constants with a table, in order. */
  readonly tables: ReadonlyMap<string, TableExpression>;
  /** Constants with a plain value. */
  readonly constants: ReadonlyMap<string, PlainConstant>;
  readonly expression: ResultExpression;
  /** The choices of the front matter that it was checked with. */
  readonly choices: readonly NotebookChoice[];
  /**
   * The choices that it uses, each as often as it does: of `choose()` those alone whose column the table is known to have,
   * and every word.
   */
  readonly chosen: readonly ChosenHere[];
  /** False when the cell has errors: it is there to be looked at, not to be run. */
  readonly runnable: boolean;
}

/**
 * A query cell checked against what is known of the tables it names, without running anything: its names, verbs,
 * functions, columns, kinds and units, and the schema of its result.
 *
 * `null` when the text cannot be read or its result is none that a cell can give. Errors in an argument leave the schema
 * after it open, so that one mistake is said once; what is right beside them is in it.
 *
 * @param text the whole text of the cell, header line included; problems are placed in it.
 * @param bodyOffset where its body begins, in UTF-16 units.
 */
export function checkQuery(text: string, bodyOffset: number, surroundings: QuerySurroundings): Checked<CheckedQuery | null> {
  const parsed = parseQuery(text, bodyOffset, surroundings.limits);
  if (parsed.value === null) return { value: null, problems: parsed.problems };
  const { choices = [] } = surroundings;
  const reporter = createReporter(text, lineTable(text));
  const cell = withChosenWords(parsed.value, choices, reporter);
  if (cell === null) return { value: null, problems: [...parsed.problems, ...reporter.problems] };
  const chosen: ChosenHere[] = [];
  const constants = new Map<string, PlainConstant>();
  const tables = new Map<string, TableExpression>();
  const around: RowSurroundings = { vocabulary: surroundings.vocabulary, constants, reporter, choices, onChosen: (here) => chosen.push(here) };
  const checkTable = createTableChecker(surroundings, around, tables);

  for (const { name, nameSpan, value } of cell.constants) {
    if (surroundings.cells.has(name)) reporter.say("query.reserved-name", { name, reason: "a cell of this notebook has it" }, nameSpan);
    const plain = plainValue(value, constants);
    if (plain !== undefined) constants.set(name, plain);
    else tables.set(name, checkTable(value) ?? unknownTable(value));
  }
  const expression = checkResult(cell, surroundings.tables.has("shots"), around, checkTable);
  const problems = [...parsed.problems, ...reporter.problems];
  if (expression === null) return { value: null, problems };
  const references = findReferences(parsed.value, reporter.rangeOf);
  const words = choices.filter(({ name, kind }) => kind === "word" && references.choices.some((use) => use.name === name));
  return {
    value: {
      result: resultOf(expression),
      references: references.names,
      paths: references.paths,
      text,
      tables,
      constants,
      expression,
      choices,
      chosen: [...chosen, ...words.map(({ name }) => ({ name, values: null }))],
      runnable: !hasError(problems),
    },
    problems,
  };
}

function resultOf(expression: ResultExpression): QueryResult {
  switch (expression.kind) {
    case "table":
      return { type: "table", schema: expression.table.schema };
    case "chart":
      return { type: "chart", kind: expression.chart.chart.name };
    case "text":
      return { type: "text" };
  }
}

/** A table of which nothing is known, so that what uses it is not blamed. */
function unknownTable(node: Syntax): TableExpression {
  const { from, to } = node;
  return { from, to, source: { from, to, kind: "named", name: "" }, steps: [], schema: nothingKnown };
}

function checkResult(
  cell: CellSyntax,
  hasShots: boolean,
  around: RowSurroundings,
  checkTable: (node: Syntax) => TableExpression | null,
): ResultExpression | null {
  const node = cell.result;
  const { reporter } = around;
  if (node.kind === "text with holes") {
    const text = checkText(node, around, checkTable);
    return text && { kind: "text", text };
  }
  if (isChartCall(node)) {
    const chart = checkChartCall(node, hasShots, around, checkTable);
    return chart && { kind: "chart", chart };
  }
  const couldBeTable = node.kind === "call" || node.kind === "name" || node.kind === "member";
  if (!couldBeTable || (node.kind === "name" && around.constants.has(node.name))) {
    const found = couldBeTable ? "a plain value" : syntaxInWords(node);
    reporter.say("query.not-a-result", { found }, node);
    return null;
  }
  const table = checkTable(node);
  return table && { kind: "table", table };
}

function checkChartCall(
  node: ChartCall,
  hasShots: boolean,
  around: RowSurroundings,
  checkTable: (node: Syntax) => TableExpression | null,
): ChartExpression | null {
  const { reporter, vocabulary } = around;
  const { name, nameSpan } = node.callee;
  const chart = vocabulary.charts.get(name);
  if (chart === undefined) {
    reporter.unknown("query.unknown-chart", name, nameSpan, [...vocabulary.charts.keys()]);
    return null;
  }
  const [first, options = null, extra] = node.given;
  const call = `chart.${name}`;
  if (first === undefined) {
    const inside = { from: node.to - 1, to: node.to - 1 };
    reporter.say("query.missing-argument", { call, argument: "a table", help: `write ${call}(shots)` }, nameSpan, hasShots ? reporter.replacing(`Write ${call}(shots)`, inside, "shots") : undefined);
    return null;
  }
  if (extra !== undefined) sayExtra(call, node.given, 2, reporter);
  const table = checkTable(first);
  if (table === null) return null;
  if (!table.schema.open) {
    const names = table.schema.columns.map((column) => column.name);
    for (const found of lackedBy(chart, names)) reporter.add(found(reporter.rangeOf(first)));
  }
  checkOptions(options, chart.options, table.schema, { name: call, span: nameSpan }, around);
  return { from: node.from, to: node.to, chart, nameSpan, table, options };
}

export type { PathReference, Reference };
