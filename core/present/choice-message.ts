import { isRecord } from "../is-record";

/** What a person wants of a choice, as a control sends it: all that is ticked, bounds as they are typed, a word, or to be asked by a list. */
export type WantedChoice =
  | { readonly kind: "values"; readonly values: readonly string[] }
  | { readonly kind: "range"; readonly from: string; readonly to: string }
  | { readonly kind: "word"; readonly word: string }
  | { readonly kind: "list" };

/** What the controls send when a person changes one. */
export interface ChooseMessage {
  readonly type: "choose";
  /** The number of the question, for the answer. */
  readonly question: number;
  /** The choice's name. */
  readonly name: string;
  readonly wanted: WantedChoice;
}

/** What the controls are told then. */
export interface ChooseAnswer {
  readonly type: "choose-answer";
  readonly question: number;
  readonly done: boolean;
  /** What is chosen now, or why nothing was changed, for the person. */
  readonly text: string;
}

/** Values that one message may name, and characters of a text in it. */
const mostValues = 1000;
const longest = 1000;

/** The message in a value that another program may have sent; `null` when it is none. */
export function readChooseMessage(value: unknown): ChooseMessage | null {
  if (!isRecord(value) || value["type"] !== "choose" || !Number.isSafeInteger(value["question"]) || !isText(value["name"])) return null;
  const wanted = readWanted(value["wanted"]);
  return wanted === null ? null : { type: "choose", question: value["question"] as number, name: value["name"], wanted };
}

function readWanted(value: unknown): WantedChoice | null {
  if (!isRecord(value)) return null;
  const { kind, values, from, to, word } = value;
  switch (kind) {
    case "values":
      return Array.isArray(values) && values.length <= mostValues && values.every(isText) ? { kind, values } : null;
    case "range":
      return isText(from) && isText(to) ? { kind, from, to } : null;
    case "word":
      return isText(word) ? { kind, word } : null;
    case "list":
      return { kind };
    default:
      return null;
  }
}

/** The answer in a value that another program may have sent; `null` when it is none. */
export function readChooseAnswer(value: unknown): ChooseAnswer | null {
  if (!isRecord(value) || value["type"] !== "choose-answer") return null;
  const { question, done, text } = value;
  if (typeof question !== "number" || typeof done !== "boolean" || typeof text !== "string") return null;
  return { type: "choose-answer", question, done, text };
}

function isText(value: unknown): value is string {
  return typeof value === "string" && value.length <= longest;
}
