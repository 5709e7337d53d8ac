import { hasError } from "../../core/problem";
import { checkQuery } from "../../core/query/check-query";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import type { Schema } from "../../core/table/schema";
import { plainSnippet } from "./chart-snippets";
import { asCode } from "./markdown";
import type { NotebookView } from "./notebook-view";
import type { Offer } from "./query-offers";

/** A whole question, as it is offered in an empty cell. */
export interface TradeSnippet {
  /** In plain words; what is typed is matched against it. */
  readonly question: string;
  /** A name for the cell. */
  readonly name: string;
  /** The cell's body with placeholders; taken as they are it is a cell that runs on any session with the usual columns. */
  readonly body: string;
}

/** The common questions of the trade, those of a comparison first. */
export const tradeSnippets: readonly TradeSnippet[] = [
  { question: "compare carry by head", name: "gap", body: 'shots.compare({ of: "${1:carry}", by: "${2:head}" })' },
  { question: "compare carry by head at the same strikes", name: "same_strikes", body: 'shots.compare({ of: "${1:carry}", by: "${2:head}", strikes: "same" })' },
  { question: "compare with a margin that matters", name: "margin", body: 'shots.compare({ of: "${1:carry}", by: "${2:head}", margin: "${3:3 yd}" })' },
  { question: "one head at a time", name: "typical", body: 'shots.describe({ of: "${1:carry}", by: "${2:head}" })' },
  { question: "all readings side by side", name: "card", body: 'shots.scorecard({ by: "${1:head}" })' },
  { question: "which head groups tighter", name: "tighter", body: 'shots.spread({ of: "${1:carry}", by: "${2:head}" })' },
  { question: "which head loses least off the centre", name: "forgiving", body: 'shots.forgiveness({ of: "${1:ball_speed}", by: "${2:head}" })' },
  { question: "which head curves most", name: "curving", body: 'shots.workability({ by: "${1:head}" })' },
  { question: "tester or head: does it drift", name: "drifting", body: 'shots.drift({ of: "${1:club_speed}" })' },
  { question: "how many more shots", name: "plan", body: 'shots.enough({ of: "${1:carry}", by: "${2:head}" })' },
  { question: "what the loft alone would do", name: "lofts", body: 'shots.loftOnly({ by: "${1:head}" })' },
  { question: "carry in standard air", name: "moved", body: "shots.standardAir()" },
  { question: "doubtful readings", name: "doubtful", body: "shots.suspects()" },
  { question: "strikes by head", name: "strikes", body: 'chart.strikes(shots, { by: "${1:head}" })' },
  { question: "landing by head", name: "landings", body: 'chart.landing(shots, { by: "${1:head}" })' },
  { question: "one reading in hitting order", name: "in_order", body: 'chart.order(shots, { of: "${1:carry}", by: "${2:head}" })' },
  { question: "one head and centred strikes", name: "centred", body: 'shots.filter(d => d.head === "${1:Wren}" && d.zone === "${2:centre}")' },
  { question: "stock shots alone", name: "stock", body: 'shots.filter(d => d.intent === "${1:stock}")' },
  { question: "mean of each head", name: "means", body: 'shots.groupby("${1:head}").rollup({ shots: op.count(), mean: op.mean("${2:carry}") })' },
  { question: "the ten longest shots", name: "longest", body: 'shots.orderby(op.desc("${1:carry}")).slice(0, ${2:10})' },
];

/**
 * The questions as suggestions, for where nothing stands yet: those that the notebook's shots have the columns for. A
 * head of their own stands where a head is named.
 *
 * @param isWhole true where the cell has no text before the cursor: each question then brings a header line with a name
 * that no cell has.
 */
export function questionOffers(view: NotebookView, cell: number, isWhole: boolean): readonly Offer[] {
  const shots = view.sources.shots?.schema ?? null;
  if (shots === null) return [];
  const surroundings = view.surroundingsOf(cell);
  const needsHeader = isWhole && view.cells[cell]!.checked.header === null;
  return questionsFor(shots, surroundings).map(({ question, name, body }) => ({
    label: question,
    kind: "snippet",
    insert: needsHeader ? `query=${freeName(name, surroundings.cells)}\n${body}` : body,
    isSnippet: true,
    detail: "a question",
    documentation: asCode(withoutPlaceholders(body)),
    rank: 2,
  }));
}

// What is found hangs on the shots alone, and checking every question at each key press would be felt.
const found = new WeakMap<Schema, readonly TradeSnippet[]>();

function questionsFor(shots: Schema, surroundings: QuerySurroundings): readonly TradeSnippet[] {
  const before = found.get(shots);
  if (before !== undefined) return before;
  const head = shots.columns.find(({ name }) => name === "head")?.values?.[0] ?? "Wren";
  // A head's name may hold what would end the placeholder or the string it stands in.
  const written = plainSnippet(JSON.stringify(head).slice(1, -1));
  const fitting = tradeSnippets
    .map((snippet) => ({ ...snippet, body: snippet.body.replace("${1:Wren}", () => `\${1:${written}}`) }))
    .filter(({ body }) => !hasError(checkQuery(withoutPlaceholders(body), 0, surroundings).problems));
  found.set(shots, fitting);
  return fitting;
}

/** A snippet's text with its placeholders taken as they are. */
export function withoutPlaceholders(snippet: string): string {
  return snippet.replace(/\$\{\d+:((?:[^}\\]|\\.)*)\}|\$\d/gu, "$1").replace(/\\([\\$}])/gu, "$1");
}

function freeName(name: string, taken: ReadonlySet<string>): string {
  let free = name;
  for (let count = 2; taken.has(free); count++) free = `${name}_${count}`;
  return free;
}
