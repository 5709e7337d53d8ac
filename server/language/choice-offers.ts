import { chosenInWords, type NotebookChoice } from "../../core/notebook/choice";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { escaped } from "./markdown";
import type { Offer } from "./query-offers";

/** `chosen.what` for each choice one of whose words is among those that can stand at a place. */
export function chosenOffers(choices: readonly NotebookChoice[], fitting: readonly Offer[]): readonly Offer[] {
  const words = new Set(fitting.map(({ insert }) => insert));
  return choiceOffers({ choices: choices.filter((choice) => choice.kind === "word" && choice.among.some((word) => words.has(word))) }, "word").map((offer) => {
    const name = `chosen.${offer.label}`;
    return { ...offer, label: name, insert: name, rank: 1 };
  });
}

/** The choices of the front matter that can stand in `choose("…")`, or behind `chosen.`. */
export function choiceOffers({ choices = [] }: Pick<QuerySurroundings, "choices">, place: "rows" | "word"): readonly Offer[] {
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
