import type { Replacement } from "../replace-spans";
import { columnText, type Bound, type Choice } from "./narrow-allowed";
import { isShownBy, type ChoiceFacet, type Facet, type RangeFacet } from "./narrow-facets";
import { commentSpans } from "./narrow-layout";
import type { Condition, FilterPlace, NarrowPlace } from "./narrow-place";
import type { Span } from "./syntax";

/** What a person wants of one column; rows without a value are kept where `missing` is true. */
export type Wanted =
  | { readonly kind: "choice"; readonly column: string; readonly values: readonly Choice[]; readonly missing: boolean }
  | { readonly kind: "range"; readonly column: string; readonly low: Bound | null; readonly high: Bound | null; readonly missing: boolean };

/** Why nothing can be written for what is wanted, in words; `null` where it can. */
export function whyNotWanted(facets: readonly Facet[], wanted: readonly Wanted[]): string | null {
  for (const each of wanted) {
    const facet = facetOf(facets, each);
    if (facet === undefined) return `there is nothing to choose in ${each.column} any more`;
    if (each.kind === "choice" && each.values.length === 0 && !(each.missing && facet.missing !== null)) return `no value of ${each.column} is ticked: tick one at least`;
    if (each.kind === "range" && each.low !== null && each.high !== null && each.low.value > each.high.value) return `the range of ${each.column} ends before it begins`;
  }
  return null;
}

/**
 * The edits of a cell's text that narrow its table to what is wanted.
 *
 * A condition on the same column that a facet shows is replaced where it stands; all others are kept, with comments and
 * layout, and a filter that is left empty goes. Nothing is changed where it is wanted as it is.
 *
 * @param facets of the place, as `facetsOf` gives them.
 * @param wanted each of a column of its own; `whyNotWanted` has nothing against it.
 */
export function narrowEdits(place: NarrowPlace, facets: readonly Facet[], wanted: readonly Wanted[]): readonly Replacement[] {
  const texts = new Map<Condition, string>();
  const added: string[] = [];
  const home = place.filters.at(-1);
  for (const each of wanted) {
    const facet = facetOf(facets, each);
    if (facet === undefined || isAsItIs(facet, each)) continue;
    const own = place.filters.flatMap(({ row, conditions }) => conditions.map((condition) => ({ row, condition }))).filter(({ condition: { allowed } }) => allowed !== null && allowed.column === each.column && isShownBy(facet.kind, allowed));
    own.forEach(({ condition }) => texts.set(condition, ""));
    const first = own[0];
    const written = conditionText(first?.row ?? home?.row ?? "d", facet, each);
    if (first !== undefined) texts.set(first.condition, written);
    else if (written !== "") added.push(written);
  }
  if (home === undefined) {
    const { at, lead, trail } = place.insert;
    return added.length === 0 ? [] : [{ from: at, to: at, text: `${lead}.filter(d => ${added.join(" && ")})${trail}` }];
  }
  const edits = place.filters.flatMap((filter) => filterEdits(place, filter, texts, filter === home ? added.join(" && ") : ""));
  return withoutOverlap(edits);
}

/** What narrows to what is wanted, in words of the language; empty where nothing has to. */
export function conditionText(row: string, facet: Facet, wanted: Wanted): string {
  if (facet.kind === "choice" && wanted.kind === "choice") return choiceText(columnText(row, facet.column), facet, wanted);
  if (facet.kind === "range" && wanted.kind === "range") return rangeText(columnText(row, facet.column), facet, wanted);
  return "";
}

function facetOf(facets: readonly Facet[], { column, kind }: Wanted): Facet | undefined {
  return facets.find((facet) => facet.column === column && facet.kind === kind);
}

function isAsItIs(facet: Facet, wanted: Wanted): boolean {
  if (facet.missing !== null && facet.missing.isTicked !== wanted.missing) return false;
  if (facet.kind === "choice") return wanted.kind === "choice" && facet.values.every(({ value, isTicked }) => wanted.values.includes(value) === isTicked);
  return wanted.kind === "range" && isSameBound(facet.low, wanted.low) && isSameBound(facet.high, wanted.high);
}

function isSameBound(a: Bound | null, b: Bound | null): boolean {
  return a?.value === b?.value && a?.strict === b?.strict;
}

/** So many values are few enough to name those that are kept, also where one alone is not. */
const fewValues = 3;

function choiceText(column: string, { values, missing }: ChoiceFacet, wanted: Extract<Wanted, { kind: "choice" }>): string {
  const ticked = values.filter(({ value }) => wanted.values.includes(value)).map(({ value }) => value);
  const rest = values.filter(({ value }) => !wanted.values.includes(value)).map(({ value }) => value);
  const keepsMissing = missing !== null && wanted.missing;
  if (rest.length === 0) return missing === null || keepsMissing ? "" : `${column} !== null`;
  if (ticked.length === 0) return `${column} === null`;
  const isOneLeftOut = rest.length === 1 && values.length > fewValues;
  const [only] = ticked;
  const test = ticked.length === 1 ? `${column} === ${JSON.stringify(only)}` : isOneLeftOut ? `${column} !== ${JSON.stringify(rest[0])}` : `op.any_of(${[column, ...ticked.map((value) => JSON.stringify(value))].join(", ")})`;
  return keepsMissing ? `(${column} === null || ${test})` : test;
}

function rangeText(column: string, { missing }: RangeFacet, { low, high, missing: keeps }: Extract<Wanted, { kind: "range" }>): string {
  const keepsMissing = missing !== null && keeps;
  if (low === null && high === null) return missing === null || keepsMissing ? "" : `${column} !== null`;
  const isOne = low !== null && high !== null && low.value === high.value && low.strict !== true && high.strict !== true;
  const ends = [
    ...(low === null ? [] : [`${column} ${low.strict === true ? ">" : ">="} ${low.value}`]),
    ...(high === null ? [] : [`${column} ${high.strict === true ? "<" : "<="} ${high.value}`]),
  ];
  const test = isOne ? `${column} === ${low.value}` : ends.join(" && ");
  if (!keepsMissing) return test;
  return `(${column} === null || ${!isOne && ends.length > 1 ? `(${test})` : test})`;
}

/** @param texts what stands in the place of a condition; empty for one that goes. */
function filterEdits(place: NarrowPlace, filter: FilterPlace, texts: ReadonlyMap<Condition, string>, added: string): readonly Replacement[] {
  const { conditions } = filter;
  const kept = conditions.filter((condition) => texts.get(condition) !== "");
  const whole: Span = { from: conditions[0]!.span.from, to: conditions.at(-1)!.span.to };
  if (kept.length === 0) return added === "" ? [withoutFilter(place, filter)] : [replaced(place, whole, added)];
  const edits: Replacement[] = [];
  const last = kept.at(-1)!;
  const firstKept = conditions.indexOf(kept[0]!);
  for (const [index, condition] of conditions.entries()) {
    const text = texts.get(condition);
    const ending = condition === last && added !== "" ? ` && ${added}` : "";
    if (text === "") {
      const span = index < firstKept ? { from: condition.span.from, to: conditions[index + 1]!.span.from } : { from: conditions[index - 1]!.span.to, to: condition.span.to };
      edits.push(replaced(place, span, ""));
    } else if (text !== undefined) edits.push(replaced(place, condition.span, text + ending));
    else if (ending !== "") {
      const { from, to } = condition.span;
      if (condition.isLoose) edits.push({ from, to: from, text: "(" });
      edits.push({ from: to, to, text: (condition.isLoose ? ")" : "") + ending });
    }
  }
  return edits;
}

/** The stretch with another text in its place, behind which the comments stay that were in it. */
function replaced({ text, bodyOffset }: NarrowPlace, { from, to }: Span, by: string): Replacement {
  const comments = commentSpans(text, bodyOffset).filter((comment) => comment.from >= from && comment.to <= to);
  const kept = comments.map((comment) => ` ${text.slice(comment.from, comment.to)}${comment.isLine ? "\n" : " "}`).join("");
  return { from, to, text: by + kept };
}

/** A filter that goes, with the white space before it; what is behind a comment to the end of a line stays below it. */
function withoutFilter(place: NarrowPlace, { span }: FilterPlace): Replacement {
  const { text, bodyOffset } = place;
  const from = text.slice(0, span.from).trimEnd().length;
  const isBelowComment = commentSpans(text, bodyOffset).some((comment) => comment.isLine && comment.to === from);
  if (!isBelowComment) return replaced(place, { from, to: span.to }, "");
  return replaced(place, { from: span.from, to: text.length - text.slice(span.to).trimStart().length }, "");
}

/** The edits in order; of two that take the same away, one does. */
function withoutOverlap(edits: readonly Replacement[]): readonly Replacement[] {
  let end = 0;
  return edits.map((edit) => {
    const from = Math.max(edit.from, end);
    end = Math.max(edit.to, from);
    return { from, to: end, text: edit.text };
  });
}
