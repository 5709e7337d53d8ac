import type { Problem } from "../problem";
import { closestName } from "../closest-name";
import { nothingKnown, withoutColumns, type Schema } from "../table/schema";
import { asChecked, unknownColumns } from "./argument-plan";
import { checkArguments, type CheckedArguments } from "./check-arguments";
import { checkOptions } from "./check-options";
import type { QuerySurroundings } from "./query-surroundings";
import type { RowSurroundings } from "./check-row";
import { sayExtra } from "./extra-fix";
import { matchArguments, takesNothing, type CallOf } from "./match-arguments";
import { isSessionPath } from "./references";
import type { Reporter } from "./reporter";
import type { Span, Syntax } from "./syntax";
import { syntaxInWords } from "./syntax";
import { isTextEnding } from "./text-forms";
import type { GivenArgument, Step, TableExpression, TableSource } from "./table-expression";
import type { SourceKind, VerbProblem } from "./vocabulary";

/**
 * Returns the checker of table expressions: a source, then verbs, each checked against the schema that the verb before
 * it leaves. It gives `null` for what is no table, which it reports; a mistake in one argument leaves the schema open.
 *
 * @param tables the constants of the cell that are tables; the caller adds to it as it goes.
 */
export function createTableChecker(
  surroundings: QuerySurroundings,
  around: RowSurroundings,
  tables: ReadonlyMap<string, TableExpression>,
): (node: Syntax) => TableExpression | null {
  const { reporter, vocabulary } = around;

  function checkTable(node: Syntax): TableExpression | null {
    const calls: Extract<Syntax, { kind: "call" }>[] = [];
    let base = node;
    while (base.kind === "call" && base.callee.kind === "member" && !isPlace(base.callee.of)) {
      calls.push(base);
      base = base.callee.of;
    }
    const start = checkSource(base);
    if (start === null) return null;
    const steps: Step[] = [];
    let schema = start.schema;
    for (const call of calls.reverse()) {
      const step = checkStep(call, schema);
      if (step === null) return null;
      steps.push(step);
      schema = step.after;
    }
    return { from: node.from, to: node.to, source: start.source, steps, schema };
  }

  function checkSource(node: Syntax): { readonly source: TableSource; readonly schema: Schema } | null {
    const { from, to } = node;
    if (node.kind === "name") {
      const { name } = node;
      const constant = tables.get(name);
      if (constant !== undefined) return { source: { from, to, kind: "constant", name }, schema: constant.schema };
      const schema = surroundings.tables.get(name);
      if (schema !== undefined) return { source: { from, to, kind: "named", name }, schema };
      if (surroundings.cells.has(name)) return { source: { from, to, kind: "named", name }, schema: nothingKnown };
      const made = vocabulary.sources.get(name);
      if (around.constants.has(name)) reporter.say("query.not-a-table", { found: "a plain value" }, node);
      else if (made !== undefined) reporter.say("query.expected", { wanted: `brackets with options: ${made.help.example}`, found: "its name alone" }, node);
      else if (name === "chart" || name === "op" || name === "text") reporter.say("query.not-a-table", { found: name }, node);
      else reporter.unknown("query.unknown-table", name, node, [...new Set([...surroundings.tableNames(), ...tables.keys()])]);
      return null;
    }
    if (node.kind === "call" && node.callee.kind === "name") return checkOpen(node, node.callee);
    if (node.kind === "call" && node.callee.kind === "member") {
      const place = node.callee.of.kind === "name" ? node.callee.of.name : "";
      reporter.say("query.not-a-table", { found: place === "chart" ? "a chart" : "a function of values" }, node.callee);
    } else if (node.kind === "member" && vocabulary.verbs.has(node.name)) {
      const end = { from: node.to, to: node.to };
      const fix = takesNothing(vocabulary.verbs.get(node.name)!) ? reporter.replacing(`Write ${node.name}()`, end, "()") : undefined;
      reporter.say("query.expected", { wanted: `brackets after the verb: .${node.name}(…)`, found: "its name alone" }, node.nameSpan, fix);
    } else reporter.say("query.not-a-table", { found: syntaxInWords(node) }, node.kind === "member" ? node.nameSpan : node);
    return null;
  }

  /** `session("path")`, `sessions("folder/*.session.yaml")`, and tables made from options. */
  function checkOpen(
    node: Extract<Syntax, { kind: "call" }>,
    callee: Extract<Syntax, { kind: "name" }>,
  ): { readonly source: TableSource; readonly schema: Schema } | null {
    const { name } = callee;
    const made = vocabulary.sources.get(name);
    if (made !== undefined) return checkMade(node, callee, made);
    if (name !== "session" && name !== "sessions") {
      const opening = ["session", "sessions", ...vocabulary.sources.keys()];
      const nearest = closestName(name, opening);
      const calls = `${nearest === null ? "" : `did you mean ${nearest}(…)? `}what can be called is ${opening.map((each) => `${each}(…)`).join(", ")}, verbs on a table, chart.KIND(…) and op.NAME(…)`;
      const instead = name === "text" ? "backquotes stand behind text, and no brackets: text`…`" : calls;
      reporter.say("query.not-allowed", { found: `${name}(…)`, instead }, callee, nearest === null ? undefined : reporter.replacing(`Use ${nearest}`, callee, nearest));
      return null;
    }
    const [path, extra] = node.given;
    const wanted = name === "session" ? 'a path in quotes, such as "sessions/spring.session.yaml"' : 'a pattern in quotes, such as "sessions/*.session.yaml"';
    if (path?.kind !== "text" || !isSessionPath(path.value)) {
      const found = path === undefined ? "nothing" : path.kind === "text" ? JSON.stringify(path.value) : syntaxInWords(path);
      reporter.say("query.expected", { wanted, found }, path ?? callee);
      return null;
    }
    if (extra !== undefined) sayExtra(name, node.given, 1, reporter);
    const source: TableSource = { from: node.from, to: node.to, kind: name, path: path.value, pathSpan: { from: path.from, to: path.to } };
    return { source, schema: surroundings.sessions(path.value) ?? nothingKnown };
  }

  /** A table made from options: `flight({ … })`. */
  function checkMade(node: Extract<Syntax, { kind: "call" }>, callee: Span, source: SourceKind): { readonly source: TableSource; readonly schema: Schema } {
    const { name } = source;
    const [options = null, extra] = node.given;
    if (extra !== undefined) sayExtra(name, node.given, 1, reporter);
    const required = Object.entries(source.options).flatMap(([option, { required: isNeeded }]) => (isNeeded ? [`${option}: …`] : []));
    let values = null;
    if (options === null && required.length > 0) {
      reporter.say("query.missing-argument", { call: name, argument: `its options: { ${required.join(", ")} }`, help: `write it like this: ${source.help.example}` }, callee);
    } else values = checkOptions(options, source.options, withoutColumns, { name, span: callee }, around);
    const made: TableSource = { from: node.from, to: node.to, kind: "made", call: { source, nameSpan: callee, options, values } };
    if (values === null) return { source: made, schema: nothingKnown };
    const inferred = source.infer(values, surroundings.units);
    for (const found of inferred.problems) reporter.add(placeInOptions(found, options, callee, reporter));
    return { source: made, schema: inferred.schema };
  }

  function checkStep(node: Extract<Syntax, { kind: "call" }>, before: Schema): Step | null {
    const { callee } = node;
    if (callee.kind !== "member") return null;
    const verb = vocabulary.verbs.get(callee.name);
    if (verb === undefined) {
      if (isTextEnding(callee.name)) reporter.say("query.text-only", { name: callee.name }, callee.nameSpan);
      else reporter.unknown("query.unknown-verb", callee.name, callee.nameSpan, [...vocabulary.verbs.keys()]);
      return null;
    }
    const call: CallOf = { verb, nameSpan: callee.nameSpan, nodes: node.given };
    const span = { from: callee.nameSpan.from, to: node.to };
    const given = matchArguments(call, reporter, checkTable);
    const checked = given && checkArguments({ ...span, verb, nameSpan: callee.nameSpan, given }, before, around);
    const after = checked === null || checked.healthy === null ? { ...before, open: true } : inferAfter(call, given!, checked, before);
    return { ...span, verb, nameSpan: callee.nameSpan, given: given ?? [], before, after };
  }

  /** What the verb leaves; of arguments that are wrong in part, what the rest of them makes, with whatever else there may be. */
  function inferAfter(call: CallOf, given: readonly GivenArgument[], { plans, healthy, wrong }: CheckedArguments, before: Schema): Schema {
    const inferred = call.verb.infer(before, healthy!.map(asChecked), surroundings.units);
    if (plans !== null) for (const found of inferred.problems) reporter.add(placeProblem(found, given, call.nameSpan, reporter));
    const unknown = [...unknownColumns(healthy!), ...wrong];
    if (unknown.length === 0 && plans !== null) return inferred.schema;
    const columns = inferred.schema.columns.filter((column) => !unknown.includes(column.name));
    return { ...inferred.schema, columns, open: true };
  }

  return checkTable;
}

/** True for `op` and `chart`, whose members are no verbs. */
function isPlace(node: Syntax): boolean {
  return node.kind === "name" && (node.name === "op" || node.name === "chart");
}

/** A problem that a verb found, placed on the argument or option it concerns, or else on the verb's name. */
export function placeProblem(
  found: VerbProblem,
  given: readonly GivenArgument[],
  nameSpan: Span,
  reporter: Pick<Reporter, "rangeOf">,
): Problem {
  return found.make(reporter.rangeOf(spanOfArgument(found.at, given) ?? nameSpan));
}

/** A problem that a chart or a source found, placed on the option it concerns, or else on the name. */
export function placeInOptions(found: VerbProblem, options: Syntax | null, nameSpan: Span, reporter: Pick<Reporter, "rangeOf">): Problem {
  const entry = options?.kind === "object" ? options.entries.find(({ name }) => name === found.at) : undefined;
  return found.make(reporter.rangeOf(entry?.value ?? nameSpan));
}

function spanOfArgument(name: string | null, given: readonly GivenArgument[]): Span | null {
  if (name === null) return null;
  for (const { parameter, nodes } of given) {
    const first = nodes[0];
    if (first === undefined) continue;
    if (parameter.name === name) return { from: first.from, to: nodes[nodes.length - 1]!.to };
    const entry = first.kind === "object" ? first.entries.find((other) => other.name === name) : undefined;
    if (entry !== undefined) return entry.value;
  }
  return null;
}
