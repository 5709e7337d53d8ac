import { isRecord } from "../is-record";
import type { SetAsideRequest } from "../session/set-aside-edit";
import { settableColumns } from "../table/settable-columns";

/** What a table sends when a person sets shots aside in it. */
export interface SetAsideMessage {
  readonly type: "set-aside";
  /** The number of the question, for the answer. */
  readonly question: number;
  readonly files: readonly { readonly file: string; readonly requests: readonly SetAsideRequest[] }[];
}

/** What a table is told then. */
export interface SetAsideAnswer {
  readonly type: "set-aside-answer";
  readonly question: number;
  readonly done: boolean;
  /** What was done, or why nothing was, for the person. */
  readonly text: string;
}

/** Shots that one message may name. */
const mostShots = 100_000;

/** The message in a value that another program may have sent; `null` when it is none. */
export function readSetAsideMessage(value: unknown): SetAsideMessage | null {
  if (!isRecord(value) || value["type"] !== "set-aside" || !Number.isSafeInteger(value["question"]) || !Array.isArray(value["files"])) return null;
  const files = value["files"].map((each: unknown) => readFile(each));
  const shots = files.flatMap((each) => each?.requests ?? []).reduce((sum, request) => sum + request.shots.length, 0);
  if (files.length === 0 || files.includes(null) || shots > mostShots) return null;
  return { type: "set-aside", question: value["question"] as number, files: files.filter((each) => each !== null) };
}

function readFile(value: unknown): SetAsideMessage["files"][number] | null {
  if (!isRecord(value) || typeof value["file"] !== "string" || !value["file"].endsWith(".session.yaml") || !Array.isArray(value["requests"])) return null;
  const requests = value["requests"].map((each: unknown) => readRequest(each));
  if (requests.length === 0 || requests.includes(null)) return null;
  return { file: value["file"], requests: requests.filter((each) => each !== null) };
}

function readRequest(value: unknown): SetAsideRequest | null {
  if (!isRecord(value)) return null;
  const { shots, columns, because } = value;
  if (!Array.isArray(shots) || !shots.every((shot) => Number.isSafeInteger(shot)) || typeof because !== "string") return null;
  const numbers = shots as readonly number[];
  if (columns === "all") return { shots: numbers, columns, because };
  const known = Array.isArray(columns) ? settableColumns.filter((name) => columns.includes(name)) : [];
  return known.length === 0 || known.length < (columns as readonly unknown[]).length ? null : { shots: numbers, columns: known, because };
}

/** The answer in a value that another program may have sent; `null` when it is none. */
export function readSetAsideAnswer(value: unknown): SetAsideAnswer | null {
  if (!isRecord(value) || value["type"] !== "set-aside-answer") return null;
  const { question, done, text } = value;
  if (typeof question !== "number" || typeof done !== "boolean" || typeof text !== "string") return null;
  return { type: "set-aside-answer", question, done, text };
}
