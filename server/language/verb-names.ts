import type { Entry, Syntax } from "../../core/query/syntax";
import type { Parameter } from "../../core/query/vocabulary";
import { addAnyNames, aggregateNames, choiceName, columnName, groupedBy, optionNames, orderingName } from "./argument-names";
import { originsAfter, type Origin, type Scope, type VerbUse } from "./column-origins";
import { columnFacts } from "./name-list";
import type { MemberCall, QueryReading } from "./query-reading";

/** Adds the names in a call of a verb, and gives the table after it. */
export function afterVerb(reading: QueryReading, call: MemberCall, before: Scope): Scope {
  const { list, place: { index, stepsOf, vocabulary } } = reading;
  const { name, nameSpan } = call.callee;
  const verb = vocabulary.verbs.get(name);
  if (verb === undefined) {
    list.verb(name, nameSpan);
    call.given.forEach((each) => addAnyNames(reading, each, before));
    return { schema: { ...before.schema, open: true }, origins: { ...before.origins, rest: "unknown" } };
  }
  list.verb(name, nameSpan);
  if (verb.family === "trade") reading.lookers.push({ name, origins: before.origins, needs: [] });
  const step = stepsOf.step(nameSpan.from);
  const after = step?.after ?? { ...before.schema, open: true };
  const named: string[] = [];
  const declared = new Map<string, Origin>();
  const renamed = new Map<string, string>();
  const use = { verb, named, declared, renamed, place: `${index}:${nameSpan.from}`, by: "head" };
  let other: Scope | null = null;
  const declare = (entry: Entry): void => {
    const origin = list.declarationAt(entry.nameSpan);
    const column = after.columns.find((each) => each.name === entry.name);
    declared.set(entry.name, origin);
    list.key("column", entry, { ...origin, isDeclaration: true, ...(column === undefined ? {} : { column }) });
  };
  const given: VerbUse["given"] = matched(verb.parameters, call.given);
  for (const { parameter, nodes } of given) {
    const [first] = nodes;
    if (first === undefined) continue;
    switch (parameter.kind) {
      case "new columns":
      case "aggregates":
        if (first.kind !== "object") addAnyNames(reading, first, before);
        else {
          if (parameter.kind === "new columns") reading.additions.push({ before: before.origins, declared });
          for (const entry of first.entries) {
            declare(entry);
            if (parameter.kind === "aggregates") aggregateNames(reading, entry.value, before);
            else addAnyNames(reading, entry.value, before);
          }
        }
        break;
      case "columns":
        for (const each of nodes) {
          const column = columnName(reading, each, before);
          if (column !== null) named.push(column);
        }
        break;
      case "choices":
        for (const each of nodes) choiceName(reading, each, before);
        break;
      case "ordering":
        for (const each of nodes) orderingName(reading, each, before);
        break;
      case "renames":
        if (first.kind !== "object") addAnyNames(reading, first, before);
        else for (const entry of first.entries) renameNames(entry);
        break;
      case "table":
        other = reading.tableOf(first);
        break;
      case "options":
        use.by = groupedBy(reading, first, parameter.options) ?? "";
        optionNames(reading, first, parameter.options, before, verb);
        break;
      default:
        addAnyNames(reading, first, before);
    }
  }
  const used = given.reduce((sum, { nodes }) => sum + nodes.length, 0);
  call.given.slice(used).forEach((each) => addAnyNames(reading, each, before));
  const origins = originsAfter({ ...use, given, other }, before, after, reading.merged);
  return { schema: after, origins };

  function renameNames(entry: Entry): void {
    list.key("column", entry, columnFacts(entry.name, before));
    const written = list.textBehind(entry.value);
    if (written === null) return addAnyNames(reading, entry.value, before);
    const origin = list.declarationAt(written);
    const column = after.columns.find((each) => each.name === written.value);
    list.quoted("column", written.value, written, { ...origin, isDeclaration: true, ...(column === undefined ? {} : { column }) });
    renamed.set(entry.name, written.value);
    declared.set(written.value, origin);
  }
}

/** The parameter of each argument, as far as the arguments go. */
function matched(parameters: readonly Parameter[], nodes: readonly Syntax[]): VerbUse["given"] {
  let used = 0;
  return parameters.map((parameter) => {
    const takesRest = parameter.kind === "columns" || parameter.kind === "ordering" || parameter.kind === "choices";
    const taken = takesRest ? nodes.slice(used) : nodes.slice(used, used + 1);
    used += taken.length;
    return { parameter, nodes: taken };
  });
}
