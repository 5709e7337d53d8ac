import { choiceOffers } from "./choice-offers";
import { columnsOfFunction, columnsOfVerb } from "./argument-columns";
import { comparedColumn } from "./compared-column";
import { optionTexts } from "./complete-options";
import type { QueryAsked } from "./query-asked";
import { columnOffers, inQuotes, valueOffers, type Offer } from "./query-offers";
import type { QueryPlace } from "./query-place";
import { sessionPaths } from "./session-paths";
import type { Suggestion } from "./answers";

/**
 * What can stand between the quotes at the cursor: values, columns, choices, paths. All between the quotes is replaced,
 * and a quote that is missing is added.
 */
export async function completeString(asked: QueryAsked, offset: number): Promise<readonly Suggestion[]> {
  const { replace, quote, closed } = asked.place.context;
  const texts = [...inString(asked), ...(await paths(asked, asked.text.slice(replace.from, offset)))];
  return texts.map((offer) => ({ ...offer, insert: `${inQuotes(offer.insert, quote)}${closed ? "" : quote}`, replace }));
}

function inString({ place, view, surroundings }: QueryAsked): readonly Offer[] {
  const { before, frames } = place.context;
  const innermost = frames.length - 1;
  const compared = comparedColumn(place);
  if (compared !== null) return valueOffers(compared);
  if (beginsValue(place)) return place.row!.columns.columns.filter(({ kind }) => kind === "text").flatMap(valueOffers);
  if (before.at(-1)?.text === "[" && before.at(-2)?.text === place.row?.name) return columnOffers(place.row!.columns, "any");
  const call = innermost < 0 ? null : place.callOf(innermost);
  if (call?.kind === "function") return place.row === null ? columnsOfFunction(call.name, place, surroundings) : [];
  if (call?.kind === "ending") return columnOffers(call.receiver(), "any");
  if (call?.kind === "verb" && place.parameterOf(innermost)?.kind === "choices") return choiceOffers(surroundings, "rows");
  if (call?.kind === "verb") return columnsOfVerb(place, innermost);
  if (place.options !== null) return optionTexts(place, view);
  // A name in quotes where columns get new names.
  const around = innermost > 0 ? place.callOf(innermost - 1) : null;
  const isKey = around?.kind === "verb" && place.parameterOf(innermost - 1)?.kind === "renames" && place.entryOf(innermost) === null;
  return isKey ? columnOffers(around.receiver(), "any") : [];
}

/** True where a text begins what a row is asked: what it is compared with may still come, `d => "Heron" === d.head`. */
function beginsValue({ context: { before, frames, next }, row, callOf }: QueryPlace): boolean {
  if (row === null || next === ":" || row.parameter?.kind !== "condition") return false;
  const last = before.at(-1)?.text ?? "";
  return ["=>", "&&", "||", "!"].includes(last) || (last === "(" && callOf(frames.length - 1) === null);
}

async function paths({ place, view }: QueryAsked, typed: string): Promise<readonly Offer[]> {
  const { frames } = place.context;
  const call = frames.length === 0 ? null : place.callOf(frames.length - 1);
  if (call?.kind !== "open" || frames.at(-1)!.commas > 0) return [];
  const { files, patterns } = await sessionPaths(view, typed);
  return (call.name === "session" ? files : patterns).map((path): Offer => ({ label: path, kind: "file", insert: path }));
}
