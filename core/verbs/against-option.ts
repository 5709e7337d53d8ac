import type { Option, OptionValues, VerbProblem } from "../query/vocabulary";
import type { Schema } from "../table/schema";
import { groupName } from "./group-column";
import type { UsedShots } from "./used-shots";
import type { Refused } from "./verb-problem";
import { refuse, unknownText } from "./verb-problem";

/** The option `against` of the verbs that compare pairs: the one that all others are compared with. */
export const againstOption: Option = {
  kind: "text",
  required: false,
  help: 'The one to compare all others with, such as "Wren"; every pair unless told.',
};

/** The one to compare all others with; `null` for every pair. */
export function againstOf(values: OptionValues): string | null {
  const told = values["against"];
  return typeof told === "string" ? told : null;
}

/** Whether the one to compare with is there, as far as the schema knows. */
export function againstProblems(input: Schema, values: OptionValues): readonly VerbProblem[] {
  const known = input.columns.find((column) => column.name === groupName(values))?.values;
  const against = againstOf(values);
  if (against === null || known === undefined || known.length === 0 || known.includes(against)) return [];
  return [unknownText("against", "trade.no-such-group", { name: against, by: groupName(values), candidates: known }, against, known)];
}

/** The same shots with the one to compare with as the first group, so that the others are compared with it. */
export function againstFirst(used: UsedShots, values: OptionValues): UsedShots | Refused {
  const against = againstOf(values);
  if (against === null) return used;
  const first = used.groups.indexOf(against);
  if (first < 0) return refuse("against", "trade.no-such-group", { name: against, by: groupName(values), candidates: used.groups });
  const order = [first, ...used.groups.keys()].filter((group, place) => place === 0 || group !== first);
  return { ...used, groups: order.map((group) => used.groups[group]!), group: used.group.map((group) => order.indexOf(group)) };
}
