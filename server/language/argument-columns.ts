import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { columnOffers, without, writtenIn, type Offer } from "./query-offers";
import type { QueryPlace } from "./query-place";

/** The columns that the verb of a frame can take at the cursor: those not named yet, and of a join those of both tables. */
export function columnsOfVerb(place: QueryPlace, frame: number): readonly Offer[] {
  const call = place.callOf(frame);
  const parameter = place.parameterOf(frame);
  if (call?.kind !== "verb" || (parameter?.kind !== "columns" && parameter?.kind !== "ordering")) return [];
  const offers = without(columnOffers(call.receiver(), "any"), writtenIn(place, frame));
  const other = call.verb.parameters[0]?.kind === "table" ? call.other() : null;
  return other === null || other.open ? offers : offers.filter(({ insert }) => other.columns.some(({ name }) => name === insert));
}

/** The columns that a function of the rows of a group takes. */
export function columnsOfFunction(name: string, place: QueryPlace, { vocabulary }: QuerySurroundings): readonly Offer[] {
  const of = name === "desc" ? "any" : (vocabulary.aggregates.get(name)?.of ?? "none");
  if (of === "none" || place.context.frames.at(-1)!.commas > 0) return [];
  for (let frame = place.context.frames.length - 1; frame >= 0; frame--) {
    const call = place.callOf(frame);
    if (call?.kind === "verb" || call?.kind === "ending") return columnOffers(call.receiver(), of);
  }
  return [];
}
