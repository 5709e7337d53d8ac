import { chosenInWords } from "../../core/notebook/choice";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { escaped } from "./markdown";
import type { Offer } from "./query-offers";

/** The choices of the front matter that can stand in `choose("…")`, or behind `chosen.`. */
export function choiceOffers({ choices = [] }: QuerySurroundings, place: "rows" | "word"): readonly Offer[] {
  return choices
    .filter(({ kind }) => (kind === "word") === (place === "word"))
    .map((choice): Offer => ({
      label: choice.name,
      kind: "choice",
      insert: choice.name,
      detail: choice.kind === "word" ? `now ${chosenInWords(choice)}` : `${choice.column}: ${chosenInWords(choice)}`,
      documentation: choice.kind === "word" ? `One of ${escaped(choice.among.join(", "))}, chosen in the front matter.` : `Rows by ${escaped(choice.column)}, chosen in the front matter.`,
    }));
}
