import type { Question } from "../../core/session/new-session";

/** Answers to write for a question, with an accepted answer as an example: a part of the answers that `--answers` takes. */
export function answerHint({ code, about, accepted }: Question): Readonly<Record<string, unknown>> {
  const [first = "…"] = accepted;
  switch (code) {
    case "name":
      return { session: "range-1" };
    case "column":
      return { columns: [{ header: about, column: first }] };
    case "column twice":
      return { columns: [{ header: about, column: "keep" }] };
    case "unit":
      return { columns: [{ header: about, unit: first }] };
    case "direction":
      return { columns: [{ header: about, positive: first }] };
    case "heads":
      return { headsFrom: first, ...(about === null ? {} : { columns: [{ header: about, column: "head" }] }) };
    case "no heads":
      return about === null ? { headsFrom: first } : { columns: [{ header: about, column: "head" }] };
    case "file head":
      return { fileHeads: { [about ?? ""]: "Wren" } };
    case "plan":
      return { plan: "Wren: 1-6\nHeron x 6" };
    case "head kind":
      return { heads: [{ name: about, kind: first }] };
    case "order":
      return { order: first };
    case "hand":
      return { hand: first };
    case "place":
      return { monitorPlace: first };
    case "warm-up":
      return { warmUp: "1-6" };
    case "shaped":
      return { shaped: [{ shots: "20-25", value: "draw" }] };
    case "wrong heads":
      return { wrongHeads: [{ shots: "31-33", value: "Heron" }] };
    case "carry":
      return { carryIs: first };
  }
}

/** The same as a line of text: `"hand": "right"`, or the place in a list, `in "columns", at "header": "Side": "unit": "yd"`. */
export function hintText(hint: Readonly<Record<string, unknown>>): string {
  return Object.entries(hint).map(([key, value]) => partText(key, value)).join(", and ");
}

function partText(key: string, value: unknown): string {
  const inList = key === "columns" || key === "heads" ? (value as readonly Readonly<Record<string, unknown>>[])[0] : undefined;
  if (inList === undefined) return entry(key, value);
  const [place, what] = Object.entries(inList);
  return `in ${JSON.stringify(key)}, at ${entry(...place!)}: ${entry(...what!)}`;
}

function entry(key: string, value: unknown): string {
  return `${JSON.stringify(key)}: ${JSON.stringify(value)}`;
}
