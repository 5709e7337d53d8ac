import type { ChartKind, Parameter } from "../../core/query/vocabulary";
import { withoutColumns, type Schema } from "../../core/table/schema";
import { columnsOfFunction, columnsOfVerb } from "./argument-columns";
import { choiceOffers } from "./choice-offers";
import { argumentSnippet, type Likely } from "./call-snippets";
import { asEntry, columnKeys, optionsObject } from "./complete-options";
import type { QueryAsked } from "./query-asked";
import { columnOffers, functionOffers, hasColumns, likelyTable, quoted, tableOffers, valueConstantOffers, type Offer } from "./query-offers";

/** What can stand between the brackets at the cursor, outside row functions and options. */
export function argumentOffers(asked: QueryAsked): readonly Offer[] {
  const { view, cell, place, surroundings } = asked;
  const { frames } = place.context;
  const innermost = frames.length - 1;
  if (innermost < 0) return tableOffers(view, cell, place, surroundings);
  const called = place.callOf(innermost);
  switch (called?.kind) {
    case "verb": {
      const parameter = place.parameterOf(innermost);
      return parameter === null ? [] : verbArgument(parameter, called.receiver(), innermost, asked);
    }
    case "chart":
      return frames[innermost]!.commas === 0 ? tablesToDraw(called.chart, asked) : optionsObject(called.chart.options, { columns: called.table(), table: "shots" });
    case "source":
      return optionsObject(called.source.options, { columns: withoutColumns, table: "shots" });
    case "function":
      return quoted(columnsOfFunction(called.name, place, surroundings));
    case "ending":
      return called.name === "one" && frames[innermost]!.commas === 0 ? quoted(columnOffers(called.receiver(), "any")) : [];
    case "open":
      return [];
  }
  if (frames[innermost]!.open === "{") return entryOffers(asked);
  return frames[innermost]!.open === "[" ? [] : tableOffers(view, cell, place, surroundings);
}

function tablesToDraw(chart: ChartKind, { view, cell, place, surroundings }: QueryAsked): readonly Offer[] {
  return tableOffers(view, cell, place, surroundings).map((offer) => (offer.kind === "cell" && hasColumns(surroundings.tables.get(offer.label), chart.needs) ? { ...offer, rank: 0 } : { ...offer, rank: (offer.rank ?? 0) + 1 }));
}

function verbArgument(parameter: Parameter, receiver: Schema, frame: number, asked: QueryAsked): readonly Offer[] {
  const { view, cell, place, surroundings } = asked;
  const likely: Likely = { columns: receiver, table: likelyTable(view, cell, surroundings) };
  switch (parameter.kind) {
    case "condition":
      return [{ label: "d => …", kind: "snippet", insert: "d => d.$0", isSnippet: true, filter: "d =>", detail: "which rows stay" }];
    case "choices":
      return quoted(choiceOffers(surroundings, "rows"));
    case "new columns":
    case "aggregates":
    case "renames":
      return [{ label: "{ … }", kind: "snippet", insert: argumentSnippet(parameter, likely)!, isSnippet: true, filter: "{", detail: parameter.help }];
    case "columns":
      return quoted(columnsOfVerb(place, frame));
    case "ordering":
      return [...quoted(columnsOfVerb(place, frame)), ...functionOffers(place, surroundings, "op.")];
    case "table":
      return tableOffers(view, cell, place, surroundings);
    case "number":
      return valueConstantOffers(place);
    case "options":
      return optionsObject(parameter.options, likely);
  }
}

/** In an object of new columns, aggregates or new names. */
function entryOffers({ place, surroundings }: QueryAsked): readonly Offer[] {
  const innermost = place.context.frames.length - 1;
  const around = innermost > 0 ? place.callOf(innermost - 1) : null;
  const parameter = innermost > 0 ? place.parameterOf(innermost - 1) : null;
  if (around?.kind !== "verb" || parameter === null) return [];
  const isKey = place.entryOf(innermost) === null;
  switch (parameter.kind) {
    case "renames":
      return isKey ? columnKeys(columnOffers(around.receiver(), "any"), place) : [];
    case "new columns":
      return isKey ? [] : [{ label: "d => …", kind: "snippet", insert: "d => d.$0", isSnippet: true, filter: "d =>", detail: "a value from each row" }];
    case "aggregates":
      if (!isKey) return functionOffers(place, surroundings, "op.");
      // A new column is mostly called after what is computed.
      return functionOffers(place, surroundings, "").flatMap(({ label, insert, isSnippet, ...offer }): Offer[] => (isSnippet === true ? [{ ...offer, label, ...asEntry(label, `op.${insert.replace(/\$0$/u, "")}`, place), detail: "a new column" }] : []));
    default:
      return [];
  }
}
