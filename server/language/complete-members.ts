import { choiceOffers } from "./choice-offers";
import { columnAccess } from "../../core/query/check-row";
import type { ChartKind } from "../../core/query/vocabulary";
import type { Schema } from "../../core/table/schema";
import type { Suggestion } from "./answers";
import { asCall, optionEntries, type Likely } from "./call-snippets";
import type { QueryAsked } from "./query-asked";
import { columnOffers, constantsOf, functionOffers, hasColumns, helpMarkdown, namesOfTables, type Offer } from "./query-offers";
import { chainStart, endsValue } from "./query-pieces";
import { verbOffers } from "./verb-offers";

/** What can follow the dot before the cursor: columns of a row, functions, kinds of chart, verbs on a table. */
export function afterDot(asked: QueryAsked): readonly Suggestion[] {
  const { place, surroundings } = asked;
  const { before, replace } = place.context;
  const here = (offers: readonly Offer[]): readonly Suggestion[] => offers.map((offer) => ({ ...offer, replace }));
  const owner = before.at(-2);
  if (owner?.kind === "name" && before.at(-3)?.text !== ".") {
    if (owner.text === place.row?.name) return columnsOfRow(asked, place.row.columns);
    if (owner.text === "op") return here(functionOffers(place, surroundings, ""));
    if (owner.text === "chosen") return here(choiceOffers(surroundings, "word"));
    if (owner.text === "chart") return here([...surroundings.vocabulary.charts.values()].map((chart) => chartOffer(chart, asked)));
  }
  const isValue = owner !== undefined && endsValue(owner) && owner.kind !== "number" && owner.kind !== "string" && owner.text !== "`";
  return isValue && place.row === null && isTable(asked) ? here(verbOffers(asked)) : [];
}

/** True for a chain before the dot that may be a table: it begins with the name of one, or opens one. */
function isTable({ place, surroundings: { cells, tables, vocabulary } }: QueryAsked): boolean {
  const { before } = place.context;
  const start = chainStart(before, before.length - 2);
  // What stands in brackets of its own may be any table.
  if (start === null) return before.at(-2)?.text === ")";
  const { text: name } = before[start]!;
  if (before[start + 1]?.text === "(") return name === "session" || name === "sessions" || vocabulary.sources.has(name);
  const constant = constantsOf(place).find((each) => each.name === name);
  return constant?.isTable ?? (name === "shots" || cells.has(name) || tables.has(name));
}

/** Columns behind the dot of a row: one with an odd name stands between brackets, in the place of the dot. */
function columnsOfRow({ text, place }: QueryAsked, columns: Schema): readonly Suggestion[] {
  const { before, replace } = place.context;
  const dot = { from: before.at(-1)!.from, to: replace.to };
  return columnOffers(columns, "any").flatMap((offer): Suggestion[] => {
    const access = columnAccess(offer.insert);
    if (access.startsWith(".")) return [{ ...offer, replace }];
    return text.slice(dot.from, dot.to).includes("\n") ? [] : [{ ...offer, insert: access, filter: `.${offer.insert}`, replace: dot }];
  });
}

function chartOffer(chart: ChartKind, asked: QueryAsked): Offer {
  const { view, cell, surroundings, place } = asked;
  const names = namesOfTables(view, cell, surroundings);
  const fits = (name: string): boolean => hasColumns(surroundings.tables.get(name), chart.needs);
  const table = names.find(fits);
  const likely: Likely = { columns: surroundings.tables.get(table ?? "") ?? { columns: [], open: true, groupedBy: [], fromShots: true }, table: table ?? "shots" };
  const entries = optionEntries(chart.options, likely, 2);
  const snippet = `${chart.name}(\${1:${likely.table}}${entries === "" ? "" : `, { ${entries} }`})$0`;
  return { label: chart.name, kind: "chart", ...asCall(snippet, place.context.next), detail: "a picture", documentation: helpMarkdown(chart.help), rank: table === undefined ? 1 : 0 };
}
