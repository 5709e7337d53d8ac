import { closestName } from "../closest-name";
import type { Replacement } from "../replace-spans";
import { headerKind } from "./header-text";

const opening = /^([ \t]*)(\p{L}+)([ \t]*[=:](?![=>])[ \t]*)/u;

/**
 * What makes a header line of a line that was meant to be one: `querry=y`, `Query=y`, `query: y`, `query = y`. `null` for
 * any other line, and for one that is a header line.
 *
 * @example headerSlip("querry=y") // { from: 0, to: 7, text: "query=" }
 */
export function headerSlip(line: string): Replacement | null {
  const found = headerKind(line) === null ? opening.exec(line) : null;
  if (found === null) return null;
  const [whole, space = "", word = ""] = found;
  const near = closestName(word, ["query", "chart"]);
  return near === null ? null : { from: space.length, to: whole.length, text: `${near}=` };
}
