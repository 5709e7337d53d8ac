import { problem, type Problem } from "../problem";
import { shapeOf } from "../table/schema";
import type { TextPayload } from "../present/payload";
import { notesOf, withDigits } from "../present/present-table";
import { joinProse, proseText, type Piece } from "../present/prose";
import { inert } from "../present/show-value";
import type { Chart, Column, Table } from "../table/table";
import { lineTable } from "../text-position";
import { asChecked, type ArgumentPlan } from "./argument-plan";
import { checkArguments } from "./check-arguments";
import { checkOptions } from "./check-options";
import type { CheckedQuery } from "./check-query";
import type { RowSurroundings } from "./check-row";
import { placeInOptions, placeProblem } from "./check-table";
import { evaluateCondition, evaluateRows, type Evaluation } from "./evaluate-rows";
import { NoCodeGeneration } from "./interruption";
import { createReporter } from "./reporter";
import { nodeCount, type RowExpression } from "./row-expression";
import type { Span } from "./syntax";
import { fillHole, shortSentences } from "./run-text";
import type { ChartExpression, SourceCall, Step, TableExpression, TextExpression } from "./table-expression";
import type { Argument, CheckedArgument, RunContext, VerbProblem, Vocabulary } from "./vocabulary";
import { lackedBy } from "./chart-needs";

/** What running a cell gave: a value, or the problems for which there is none; warnings can stand beside a value. */
export interface QueryOutcome {
  readonly value: Table | Chart | TextPayload | null;
  readonly problems: readonly Problem[];
}

/** Gives up a cell after its problem was noted; never leaves this file. */
class Stopped extends Error {}

/**
 * Runs a checked query cell.
 *
 * What runs is the checked tree: row functions as nested functions over typed columns, verbs by their own `run`. The
 * arguments of each verb are checked once more, against the table that is really there, and so is its inference. Tables are never changed.
 *
 * @param tables `shots`, the tables of other cells by name, and those of sessions by their path as written.
 * @param context its `warn` is not used here: what a verb warns of is placed on the verb and given back.
 * @throws {TypeError} when the cell has errors. {Cancelled} or {OutOfTime} when a checkpoint does.
 */
export function runQuery(
  query: CheckedQuery,
  tables: ReadonlyMap<string, Table>,
  context: RunContext,
  vocabulary: Vocabulary,
): QueryOutcome {
  if (!query.runnable) throw new TypeError("a cell with errors cannot be run");
  const problems: Problem[] = [];
  try {
    return { value: makeRunner(query, tables, context, vocabulary, problems)(), problems };
  } catch (error) {
    if (error instanceof Stopped) return { value: null, problems };
    throw error;
  }
}

function makeRunner(
  query: CheckedQuery,
  tables: ReadonlyMap<string, Table>,
  context: RunContext,
  vocabulary: Vocabulary,
  problems: Problem[],
): () => Table | Chart | TextPayload {
  const lines = lineTable(query.text);
  const rangeOf = (span: Span) => lines.rangeAt(span.from, span.to);
  const constants = new Map<string, Table>();
  const { limits } = context;
  let steps = 0;

  function stop(found: readonly Problem[]): never {
    problems.push(...found);
    throw new Stopped();
  }

  /** Counts steps before they are taken. */
  function spend(count: number, at: Span): void {
    steps += count;
    if (steps > limits.steps) stop([problem("run.too-large", { what: "steps", count: steps, most: limits.steps }, rangeOf(at))]);
    context.checkpoint();
  }

  /** Counts the values of columns before they are made. */
  function hold(count: number, at: Span): void {
    if (count > limits.values) stop([problem("run.too-large", { what: "values", count, most: limits.values }, rangeOf(at))]);
  }

  function runTable(expression: TableExpression): Table {
    let table = openSource(expression);
    for (const step of expression.steps) table = runStep(step, table);
    return table;
  }

  function openSource({ source }: TableExpression): Table {
    const { kind } = source;
    if (kind === "constant") {
      const known = constants.get(source.name) ?? runTable(query.tables.get(source.name)!);
      constants.set(source.name, known);
      return known;
    }
    if (kind === "made") return makeSource(source.call);
    const name = kind === "named" ? source.name : source.path;
    return tables.get(name) ?? stop([problem("run.blocked", { name }, rangeOf(source))]);
  }

  function makeSource({ source, nameSpan, options, values }: SourceCall): Table {
    spend(1, nameSpan);
    const place = (found: VerbProblem): Problem => placeInOptions(found, options, nameSpan, { rangeOf });
    const result = guarded(nameSpan, () => source.run(values!, { ...context, warn: (found) => problems.push(place(found)) }));
    if (result.type === "refused") return stop(result.problems.map(place));
    checkSize(result, nameSpan);
    return withDigits(result);
  }

  /** What checks need, gathering errors alone: warnings were given when the cell was checked. */
  function surroundings(): RowSurroundings {
    return { vocabulary, constants: query.constants, choices: query.choices, reporter: createReporter(query.text, lines) };
  }

  function runStep(step: Step, input: Table): Table {
    const around = surroundings();
    const { plans } = checkArguments(step, shapeOf(input), around);
    if (plans === null) return stop(around.reporter.problems.filter((found) => found.severity === "error"));
    spend(input.rowCount, step.nameSpan);
    const given = plans.map((plan) => evaluate(plan, input));
    const place = (found: VerbProblem): Problem => placeProblem(found, step.given, step.nameSpan, { rangeOf });
    const checked = plans.map((plan, index) => withTable(asChecked(plan), given[index]!));
    const errors = step.verb.infer(shapeOf(input), checked, context.units).problems.map(place).filter((found) => found.severity === "error");
    if (errors.length > 0) return stop(errors);
    const result = guarded(step.nameSpan, () => step.verb.run(input, given, { ...context, warn: (found) => problems.push(place(found)) }));
    if (result.type === "refused") return stop(result.problems.map(place));
    checkSize(result, step.nameSpan);
    return withDigits(result);
  }

  function checkSize(table: Table, at: Span): void {
    if (table.rowCount > limits.rows) stop([problem("run.too-large", { what: "rows", count: table.rowCount, most: limits.rows }, rangeOf(at))]);
    if (table.columns.length > limits.columns)
      stop([problem("run.too-large", { what: "columns", count: table.columns.length, most: limits.columns }, rangeOf(at))]);
  }

  function guarded<T>(at: Span, run: () => T): T {
    try {
      return run();
    } catch (error) {
      if (error instanceof NoCodeGeneration) return stop([problem("run.no-code-generation", {}, rangeOf(at))]);
      throw error;
    }
  }

  function evaluate(plan: ArgumentPlan, input: Table): Argument {
    switch (plan.kind) {
      case "condition":
        return { kind: "condition", holds: counted(plan.test, input, (evaluation) => evaluateCondition(plan.test, input, evaluation)) };
      case "new columns":
        hold(input.rowCount * (input.columns.length + plan.columns.length), plan.span);
        return { kind: "new columns", columns: plan.columns.map(({ expression, name, schema }) => column(expression, name, schema?.origin, input)) };
      case "aggregates":
        hold(input.rowCount * plan.calls.length, plan.span);
        return {
          kind: "aggregates",
          calls: plan.calls.map(({ name, aggregate, of, numbers, schema }) => ({
            name,
            aggregate,
            column: of === null ? null : column(of, name, undefined, input),
            numbers,
            result: schema!,
          })),
        };
      case "table":
        return { kind: "table", table: runTable(plan.table) };
      default:
        return plan;
    }
  }

  function column(expression: RowExpression, name: string, origin: Column["origin"] = "computed", input: Table): Column {
    const kind = expression.type.kind as Column["kind"];
    const schema = { name, kind, unit: expression.type.unit, origin };
    return counted(expression, input, (evaluation) => evaluateRows(expression, schema, input, evaluation));
  }

  /** Evaluates a row expression within the limits, and says how often it had no result. */
  function counted<T>(expression: RowExpression, input: Table, run: (evaluation: Evaluation) => T): T {
    spend(input.rowCount * nodeCount(expression), expression);
    let count = 0;
    const value = run({ checkpoint: context.checkpoint, noResult: () => void count++ });
    if (count > 0) problems.push(problem("query.undefined-numbers", { count }, rangeOf(expression)));
    return value;
  }

  function runChart({ chart, nameSpan, table: from, options }: ChartExpression): Chart {
    const table = runTable(from);
    const around = surroundings();
    const shape = shapeOf(table);
    const names = shape.columns.map((other) => other.name);
    const [lacked] = lackedBy(chart, names);
    if (lacked !== undefined) return stop([lacked(rangeOf(from))]);
    const values = checkOptions(options, chart.options, shape, { name: `chart.${chart.name}`, span: nameSpan }, around);
    if (values === null) return stop(around.reporter.problems.filter((found) => found.severity === "error"));
    spend(table.rowCount, nameSpan);
    const place = (found: VerbProblem): Problem => placeInOptions(found, options, nameSpan, { rangeOf });
    const result = guarded(nameSpan, () => chart.build(table, values, { ...context, warn: (found) => problems.push(place(found)) }));
    return result.type === "refused" ? stop(result.problems.map(place)) : result;
  }

  function runText({ texts, holes, from, to }: TextExpression): TextPayload {
    const pieces: Piece[] = [];
    const notes = new Set<string>();
    const said = new Set<string>();
    let length = 0;
    const grow = (count: number, at: Span): void => {
      length += count;
      if (length > limits.textResult) stop([problem("run.too-large", { what: "characters", count: length, most: limits.textResult }, rangeOf(at))]);
    };
    for (const hole of holes) {
      context.checkpoint();
      const table = runTable(hole.table);
      if (hole.kind === "rows") spend(table.rowCount, hole);
      const around = surroundings();
      const piece = fillHole(hole, table, around);
      if (piece === null) return stop(around.reporter.problems.filter((found) => found.severity === "error"));
      grow(piece.markdown.length, hole);
      pieces.push(piece);
      for (const note of notesOf(table)) notes.add(note);
      if (hole.kind === "sentences" && table.report !== null) for (const sentence of shortSentences(table.report)) said.add(sentence);
    }
    const words = joinProse(texts, pieces);
    grow(words.length - length, { from, to });
    // What a reader must know of the data is said below, unless the sentences say it.
    const below = [...notes].filter((note) => !said.has(note)).map((note) => proseText(inert(note)));
    return { type: "text", markdown: [words, ...below].join("\n\n") };
  }

  return () => {
    const { expression } = query;
    switch (expression.kind) {
      case "table":
        return runTable(expression.table);
      case "chart":
        return runChart(expression.chart);
      case "text":
        return runText(expression.text);
    }
  };
}

/** What is known of an argument, a table's columns being those that are really there. */
function withTable(checked: CheckedArgument, given: Argument): CheckedArgument {
  return checked.kind === "table" && given.kind === "table" ? { kind: "table", schema: shapeOf(given.table) } : checked;
}
