import { textForms } from "../../core/query/text-forms";
import type { Options, OptionValues, Verb } from "../../core/query/vocabulary";
import type { Schema } from "../../core/table/schema";
import { textStart } from "../../core/text-position";
import type { UnitSystem } from "../../core/units";
import { asCall, fittingColumns, verbArguments, type Likely } from "./call-snippets";
import type { QueryAsked } from "./query-asked";
import { helpMarkdown, likelyTable, type Offer } from "./query-offers";
import { isSummary } from "./summary-tables";

/** The verbs that the table before the dot at the cursor accepts, and in the hole of a text what gives its words. */
export function verbOffers(asked: QueryAsked): readonly Offer[] {
  const { view, cell, place, surroundings } = asked;
  const { before, frames, next } = place.context;
  const table = place.tableOf(before.length - 2);
  const query = place.queryOf(before.length - 2);
  const isOfShots = query?.expression.kind !== "table" || !isSummary(view, query.expression.table, query.tables);
  const likely: Likely = { columns: table, table: likelyTable(view, cell, surroundings) };
  const verbs = [...surroundings.vocabulary.verbs.values()]
    .filter((verb) => verb.family === "table" || (isOfShots && isAccepted(verb, table, surroundings.units)))
    .map((verb): Offer => ({
      label: verb.name,
      kind: "verb",
      ...asCall(`${verb.name}(${verbArguments(verb, likely)})$0`, next),
      detail: verb.parameters.map((parameter) => parameter.name).join(", "),
      documentation: helpMarkdown(verb.help),
      rank: rankOf(verb, table),
    }));
  return frames.some(({ open }) => open === "${") ? [...verbs, ...endings(next)] : verbs;
}

function endings(next: string): readonly Offer[] {
  return textForms.flatMap(({ ending, form, help }): Offer[] =>
    ending === null ? [] : [{ label: ending, kind: "function", ...asCall(ending === "one" ? 'one("$1")$0' : `${ending}()$0`, next), detail: form, documentation: helpMarkdown(help), rank: 1 }],
  );
}

/** True unless a verb of the trade refuses the table as a whole, whatever its options: it is grouped, or lacks columns. */
function isAccepted({ parameters, infer }: Verb, table: Schema, units: UnitSystem): boolean {
  const given = parameters.flatMap((parameter) => (parameter.kind === "options" ? [{ kind: "options", values: likelyValues(parameter.options, table) } as const] : []));
  return infer(table, given, units).problems.every(({ at, make }) => at !== null || make(textStart).severity !== "error");
}

/** The first fitting column for each option that takes one and is needed, or groups. */
function likelyValues(options: Options, table: Schema): OptionValues {
  return Object.fromEntries(
    Object.entries(options).flatMap(([name, option]) => {
      const column = option.kind === "column" && (option.required || name === "by") ? fittingColumns(table, option.of)[0] : undefined;
      return column === undefined ? [] : [[name, column.name]];
    }),
  );
}

/** What can follow first, then what makes less sense on such a table. */
function rankOf(verb: Verb, table: Schema): number {
  if (table.groupedBy.length > 0) return verb.name === "rollup" || verb.name === "count" ? 0 : verb.family === "table" ? 2 : 3;
  if (verb.name === "ungroup") return 5;
  return verb.family === "trade" && !table.fromShots ? 4 : 1;
}
