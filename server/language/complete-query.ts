import { bodyOffset } from "../../core/notebook/read-header";
import type { Suggestion } from "./answers";
import { chosenOffers } from "./choice-offers";
import { comparedColumn } from "./compared-column";
import { argumentOffers } from "./complete-arguments";
import { afterDot } from "./complete-members";
import { optionWords } from "./complete-options";
import { completeString } from "./complete-strings";
import { cursorContext } from "./cursor-context";
import type { NotebookView } from "./notebook-view";
import type { QueryAsked } from "./query-asked";
import { functionOffers, quoted, tableOffers, valueConstantOffers, valueOffers, type Offer } from "./query-offers";
import { endsValue, isConst, statementStart } from "./query-pieces";
import { queryPlace } from "./query-place";
import { questionOffers } from "./trade-snippets";

/**
 * What can stand at `offset` in the body of a query cell, best first. Broken text is the normal case: the table before a
 * verb is known from what stands before its dot, whatever follows.
 */
export async function completeQuery(view: NotebookView, cell: number, offset: number): Promise<readonly Suggestion[]> {
  const { text } = view.cells[cell]!;
  const body = Math.min(bodyOffset(text), text.length);
  if (offset < body) return [];
  const context = cursorContext(text, body, offset);
  if (context.where === "none") return [];
  const surroundings = view.surroundingsOf(cell);
  const asked: QueryAsked = { view, cell, text, surroundings, place: queryPlace(text, context, surroundings) };
  if (context.where === "string") return completeString(asked, offset);
  if (context.before.at(-1)?.text === ".") return afterDot(asked);
  return atWord(asked).map((offer) => ({ ...offer, replace: context.replace }));
}

function atWord(asked: QueryAsked): readonly Offer[] {
  const { view, text, place } = asked;
  const { before, after, frames, replace, next } = place.context;
  const last = before.at(-1);
  // What is written here is the parameter of a row function, or a name that is being made.
  if (next === "=>" || (last !== undefined && isConst(before, before.length - 1))) return [];
  const isStatement = beginsStatement(asked);
  // Right behind a value only a sign can follow, unless a new statement begins.
  if (last !== undefined && endsValue(last) && !isStatement) return [];
  if (isStatement) return statementOffers(asked);
  const isKey = frames.at(-1)?.open === "{" && place.entryOf(frames.length - 1) === null;
  const follows = after[0];
  const startsValue = follows !== undefined && (endsValue(follows) || "([{`".includes(follows.text)) && !")]}".includes(follows.text);
  // A value cannot stand right before another.
  if (!isKey && replace.from === replace.to && startsValue && !text.slice(replace.to, follows.from).includes("\n")) return [];
  const offers = place.row !== null ? rowWords(asked) : place.options !== null ? optionWords(place, view) : argumentOffers(asked);
  if (next !== ".") return offers;
  // Whatever goes on with a dot is a name.
  const namesAlone = offers.filter(({ kind, isSnippet }) => isSnippet !== true && (kind === "cell" || kind === "constant"));
  return offers.some(({ label }) => label.startsWith("op.")) ? [...namesAlone, { label: "op", kind: "word", insert: "op" }] : namesAlone;
}

/** True where a statement can begin: at the start of the body, after a semicolon, and on a line below a constant. */
function beginsStatement({ text, place }: QueryAsked): boolean {
  const { before, frames, replace } = place.context;
  const last = before.at(-1);
  if (frames.length > 0) return false;
  if (last === undefined || last.text === ";") return true;
  const isBelow = text.slice(last.to, replace.from).includes("\n");
  return isBelow && endsValue(last) && isConst(before, statementStart(before));
}

function statementOffers(asked: QueryAsked): readonly Offer[] {
  const { view, cell, place, surroundings } = asked;
  const { next, after } = place.context;
  const words: readonly Offer[] = [
    { label: "chart", kind: "chart", ...(next === "." ? { insert: "chart" } : { insert: "chart.$0", isSnippet: true }), detail: [...surroundings.vocabulary.charts.keys()].join(", "), rank: 3 },
    { label: "text", kind: "word", ...(next === "`" ? { insert: "text" } : { insert: "text`$0`", isSnippet: true }), detail: "words with computed numbers", rank: 3 },
    { label: "const", kind: "word", ...(after.length > 0 ? { insert: "const" } : { insert: "const ${1:name} = $0", isSnippet: true }), detail: "a name for what follows", rank: 3 },
  ];
  const questions = after.length === 0 ? questionOffers(view, cell, place.context.replace.from === 0) : [];
  return [...tableOffers(view, cell, place, surroundings), ...questions, ...words];
}

/** In a row function: values of the column compared with, its row, the constants, and the functions. */
function rowWords({ place, surroundings }: QueryAsked): readonly Offer[] {
  const compared = comparedColumn(place);
  const { name } = place.row!;
  const row: Offer = { label: name, kind: "constant", insert: name, detail: "the row: a column follows its dot" };
  const words = ["true", "false", "null"].map((word): Offer => ({ label: word, kind: "word", insert: word, rank: 3 }));
  const functions = functionOffers(place, surroundings, "op.").map((offer) => ({ ...offer, rank: 1 }));
  const values = compared === null ? [] : valueOffers(compared);
  return [...quoted(values), ...chosenOffers(surroundings.choices ?? [], values), row, ...valueConstantOffers(place), ...functions, ...words];
}
