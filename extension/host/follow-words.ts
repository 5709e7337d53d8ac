import type { Question } from "../../core/present/question";
import type { StatusWords } from "./status-words";

/** Said while no cell has answered a question that shots could settle. */
export const notAsked: StatusWords = {
  short: "Following the exports",
  long: "The exports are followed: what is out of date is run again as they grow. No cell has compared heads yet.",
};

/** Said once, beside every count: looking often at a growing sample finds differences that are none. */
const caution =
  "Choose the number of shots before the session and hit them all: whoever looks again and again and stops at a verdict finds too many differences. A verdict before that number is provisional.";

/** What is told of the first question of a notebook while its exports are followed. */
export function followedInWords(name: string, question: Question, { looks, isStale }: { readonly looks: number; readonly isStale: boolean }): StatusWords {
  const provisional = question.isSettled ? " (provisional)" : "";
  const times = looks > 1 ? ` · looked at ${looks} times` : "";
  const stale = isStale ? " · out of date" : "";
  const long = [`${name}: ${question.short}${provisional}${stale}.`, ...question.sentences, question.method, looks > 1 ? `Looked at ${looks} times as the shots came in.` : "", caution];
  return { short: `${name}: ${question.short}${provisional}${times}${stale}`, long: long.filter(Boolean).join("\n\n") };
}
