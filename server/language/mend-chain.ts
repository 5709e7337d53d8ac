import { parseQuery } from "../../core/query/parse-query";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import type { Parameter } from "../../core/query/vocabulary";
import { replaceSpans, type Replacement } from "../../core/replace-spans";
import { closerOf, partsOf, type Piece } from "./query-pieces";

type Range = readonly [first: number, last: number];

/**
 * The text of some pieces, with what cannot be read between the brackets of its verbs put in order: a condition holds, a
 * new column is a number, any other entry is left out. Brackets that are never closed stay as they are.
 */
export function mendedText(text: string, pieces: readonly Piece[], [first, last]: Range, { vocabulary, limits }: QuerySurroundings): string {
  const replacements: Replacement[] = [];
  mendCalls(first, last);
  const from = pieces[first]!.from;
  const moved = replacements.map((one) => ({ ...one, from: one.from - from, to: one.to - from }));
  return replaceSpans(text.slice(from, pieces[last]!.to), moved);

  function mendCalls(start: number, end: number): void {
    for (let at = start; at <= end; at++) {
      if (pieces[at]!.text !== "(") continue;
      const closer = closerOf(pieces, at, end);
      if (closer === null) return;
      const verb = pieces[at - 2]?.text === "." ? vocabulary.verbs.get(pieces[at - 1]!.text) : undefined;
      if (verb !== undefined) for (const [i, part] of partsOf(pieces, at, closer).entries()) mendArgument(verb.parameters[i], part);
      at = closer;
    }
  }

  function mendArgument(parameter: Parameter | undefined, part: Range): void {
    if (parameter === undefined || isEmpty(part) || canBeRead(textOf(part))) return;
    if (parameter.kind === "table") mendCalls(...part);
    else if (parameter.kind === "condition") replace(part, "d => true");
    else if (pieces[part[0]]!.text === "{" && pieces[part[1]]!.text === "}") replace(part, `{ ${partsOf(pieces, ...part).flatMap((entry) => mendedEntry(parameter.kind, entry)).join(", ")} }`);
  }

  function mendedEntry(kind: Parameter["kind"], entry: Range): readonly string[] {
    if (isEmpty(entry)) return [];
    const written = textOf(entry);
    if (canBeRead(`{ ${written} }`)) return [written];
    const key = pieces[entry[0]]!;
    const value = kind === "new columns" ? "d => 0" : kind === "aggregates" ? "op.count()" : null;
    const mended = `${key.text}: ${value}`;
    return value !== null && canBeRead(`{ ${mended} }`) ? [mended] : [];
  }

  function canBeRead(argument: string): boolean {
    return parseQuery(`shots.f(${argument})`, 0, limits).value !== null;
  }

  function textOf([a, b]: Range): string {
    return text.slice(pieces[a]!.from, pieces[b]!.to);
  }

  function replace([a, b]: Range, by: string): void {
    replacements.push({ from: pieces[a]!.from, to: pieces[b]!.to, text: by });
  }
}

function isEmpty([first, last]: Range): boolean {
  return last < first;
}
