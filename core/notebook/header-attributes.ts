import { closestName } from "../closest-name";

/** The attributes that the header line of each kind of cell may have, with what each says: for reading, completion and hover. */
export const headerAttributeHelp = {
  query: {
    query: "name of this cell, by which other cells use its table",
  },
  chart: {
    chart: "name of this chart",
    table: "what the chart draws: the name of a query cell, or shots",
    description: "what the chart shows, in a sentence, for those who cannot see it",
  },
} as const satisfies Record<"query" | "chart", Record<string, string>>;

/** The names of the attributes of a kind of cell. */
export function attributesOf(kind: "query" | "chart"): readonly string[] {
  return Object.keys(headerAttributeHelp[kind]);
}

/** The attribute that a name was most likely meant to be, a slip in it or a short form of it; `null` when none is near. */
export function meantAttribute(name: string, kind: "query" | "chart"): string | null {
  const known = attributesOf(kind);
  const whole = name.length < 3 ? [] : known.filter((each) => each.startsWith(name.toLowerCase()));
  return whole.length === 1 ? whole[0]! : closestName(name, known);
}
