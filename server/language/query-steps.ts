import type { CheckedQuery } from "../../core/query/check-query";
import type { PlainConstant } from "../../core/query/check-row";
import { createTableChecker } from "../../core/query/check-table";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { createReporter } from "../../core/query/reporter";
import type { Syntax } from "../../core/query/syntax";
import type { Step, TableExpression } from "../../core/query/table-expression";
import { nothingKnown, type Schema } from "../../core/table/schema";
import { lineTable } from "../../core/text-position";

/** The schemas of the tables in one cell, by where their verbs stand. */
export interface StepsOf {
  /** What was found of the verb whose name begins at the offset. */
  readonly step: (offset: number) => Step | undefined;
  /** The columns of the source made from options, whose name begins at the offset. */
  readonly made: (offset: number) => Schema | undefined;
  /** Called with each table before what is in it is asked for. */
  readonly prepare: (node: Syntax, constants: ReadonlyMap<string, PlainConstant>) => void;
  /** Called with each constant that is a table, in order. */
  readonly declare: (name: string, value: Syntax, constants: ReadonlyMap<string, PlainConstant>) => void;
}

/**
 * The schemas of a query cell's tables as its check found them.
 *
 * A cell with a mistake in it may have none (`checked` is `null`): then each of its tables is checked as far as it can
 * be, from the whole chain of verbs down to the part before the mistake. What is wrong was said elsewhere.
 */
export function stepsOf(text: string, checked: CheckedQuery | null, surroundings: QuerySurroundings): StepsOf {
  const steps = new Map<number, Step>();
  const made = new Map<number, Schema>();
  const tables = new Map<string, TableExpression>(checked?.tables ?? []);
  if (checked !== null) {
    for (const table of checked.tables.values()) collect(table);
    const { expression } = checked;
    if (expression.kind === "text") for (const hole of expression.text.holes) collect(hole.table);
    else collect(expression.kind === "table" ? expression.table : expression.chart.table);
  }

  function collect(table: TableExpression): void {
    if (table.source.kind === "made") made.set(table.source.call.nameSpan.from, table.steps[0]?.before ?? table.schema);
    for (const step of table.steps) {
      steps.set(step.nameSpan.from, step);
      for (const { table: other } of step.given) if (other !== undefined) collect(other);
    }
  }

  function check(node: Syntax, constants: ReadonlyMap<string, PlainConstant>): TableExpression | null {
    const reporter = createReporter(text, lineTable(""));
    return createTableChecker(surroundings, { vocabulary: surroundings.vocabulary, constants, reporter, choices: surroundings.choices ?? [] }, tables)(node);
  }

  return {
    step: (offset) => steps.get(offset),
    made: (offset) => made.get(offset),
    prepare: (node, constants) => {
      for (let part = node; part.kind === "call" && part.callee.kind === "member"; part = part.callee.of) {
        if (steps.has(part.callee.nameSpan.from)) return;
        const table = check(part, constants);
        if (table !== null) return collect(table);
      }
    },
    declare: (name, value, constants) => {
      if (tables.has(name)) return;
      const { from, to } = value;
      tables.set(name, check(value, constants) ?? { from, to, source: { from, to, kind: "named", name: "" }, steps: [], schema: nothingKnown });
    },
  };
}
