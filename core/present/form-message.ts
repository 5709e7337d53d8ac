import { isRecord } from "../is-record";

/** One choice of a list; those with the same group stand together. */
export interface FormChoice {
  readonly value: string;
  readonly label: string;
  readonly group?: string;
}

/** Something to fill in. What is filled in is text under `id`; an empty text is no answer. */
export interface FormField {
  /** Unique in its form; letters, digits and hyphens. */
  readonly id: string;
  readonly label: string;
  /** What a person should know before answering. */
  readonly help?: string;
  readonly kind: "line" | "lines" | "choice";
  /** Shown only while another field has one of these values; always when absent. */
  readonly only?: { readonly field: string; readonly values: readonly string[] };
  /** Of a field of kind `choice`. */
  readonly choices?: readonly FormChoice[];
}

/** A cell of a table in a form: text, or something to fill in. */
export type FormCell = { readonly text: string; readonly as: "text" | "words" | "exact" } | { readonly field: FormField };

/** A part of a section of a form. */
export type FormPart =
  | { readonly kind: "words"; readonly text: string }
  | { readonly kind: "fields"; readonly title: string; readonly fields: readonly FormField[] }
  | { readonly kind: "table"; readonly title: string; readonly headings: readonly string[]; readonly rows: readonly (readonly FormCell[])[] };

/** A form as a page shows it: plain data, none of it markup. */
export interface Form {
  readonly title: string;
  readonly sections: readonly { readonly title: string; readonly parts: readonly FormPart[] }[];
  /** What the button at the end says, and which fields stand beside it. */
  readonly finish: { readonly label: string; readonly fields: readonly FormField[]; readonly preview: string };
}

/** What is filled in, by field. */
export type FormValues = Readonly<Record<string, string>>;

/** What is still open, with the field that settles it; `null` where no one field does. */
export interface OpenItem {
  readonly text: string;
  readonly field: string | null;
}

/** What the answers lead to, once nothing is open. */
export interface FormResult {
  /** What will be written. */
  readonly text: string;
  /** What it makes of the files that were given. */
  readonly words: readonly string[];
  readonly table: { readonly headings: readonly string[]; readonly rows: readonly (readonly string[])[] };
}

/** What a page is told. `of` tells what the form is about, so that a page that is shown again can be filled in again. */
export type FormMessage =
  | { readonly type: "form"; readonly of: readonly string[]; readonly form: Form; readonly values: FormValues }
  | { readonly type: "looked"; readonly number: number; readonly open: readonly OpenItem[]; readonly result: FormResult | null }
  | { readonly type: "failed"; readonly text: string };

/** What a page says: it is there, something was filled in, or the button was pressed. */
export type PageMessage = { readonly type: "ready" } | { readonly type: "values" | "finish"; readonly number: number; readonly values: FormValues };

/** What a page keeps while it is hidden and when the window is loaded anew. */
export interface FormState {
  readonly of: readonly string[];
  readonly values: FormValues;
}

/** UTF-16 units of one answer, and how many answers a form may have. */
const mostText = 200_000;
const mostFields = 5_000;

/** The message of a page in a value that another program may have sent; `null` when it is none. */
export function readPageMessage(value: unknown): PageMessage | null {
  if (!isRecord(value)) return null;
  const { type, number } = value;
  if (type === "ready") return { type };
  const values = readValues(value["values"]);
  if ((type !== "values" && type !== "finish") || !Number.isSafeInteger(number) || values === null) return null;
  return { type, number: number as number, values };
}

/** The state of a page in a value that was kept; `null` when it is none. */
export function readFormState(value: unknown): FormState | null {
  if (!isRecord(value)) return null;
  const values = readValues(value["values"]);
  const { of } = value;
  return values !== null && isTexts(of) && of.length > 0 ? { of, values } : null;
}

/** The message to a page in a value that another program may have sent; `null` when it is none. */
export function readFormMessage(value: unknown): FormMessage | null {
  if (!isRecord(value)) return null;
  const { type, number, open, result, text, of, form } = value;
  if (type === "failed") return typeof text === "string" ? { type, text } : null;
  if (type === "looked") {
    if (!Number.isSafeInteger(number) || !isList(open, isOpenItem) || (result !== null && !isResult(result))) return null;
    return { type, number: number as number, open, result };
  }
  const values = readValues(value["values"]);
  return type === "form" && values !== null && isTexts(of) && isForm(form) ? { type, of, form, values } : null;
}

function readValues(value: unknown): FormValues | null {
  if (!isRecord(value)) return null;
  const entries = Object.entries(value);
  const texts = entries.filter((entry): entry is [string, string] => typeof entry[1] === "string" && entry[1].length <= mostText);
  return texts.length === entries.length && texts.length <= mostFields ? Object.fromEntries(texts) : null;
}

function isOpenItem(value: unknown): value is OpenItem {
  return isRecord(value) && typeof value["text"] === "string" && (value["field"] === null || typeof value["field"] === "string");
}

function isResult(value: unknown): value is FormResult {
  if (!isRecord(value) || typeof value["text"] !== "string" || !isTexts(value["words"]) || !isRecord(value["table"])) return false;
  const { headings, rows } = value["table"];
  return isTexts(headings) && isList(rows, isTexts);
}

function isForm(value: unknown): value is Form {
  if (!isRecord(value) || typeof value["title"] !== "string" || !isRecord(value["finish"])) return false;
  const { label, fields, preview } = value["finish"];
  const isSection = (each: unknown): boolean => isRecord(each) && typeof each["title"] === "string" && isList(each["parts"], isPart);
  return typeof label === "string" && typeof preview === "string" && isList(fields, isField) && isList(value["sections"], isSection);
}

function isPart(value: unknown): value is FormPart {
  if (!isRecord(value)) return false;
  const { kind, text, title, fields, headings, rows } = value;
  if (kind === "words") return typeof text === "string";
  if (typeof title !== "string") return false;
  if (kind === "fields") return isList(fields, isField);
  return kind === "table" && isTexts(headings) && isList(rows, (row) => isList(row, isCell));
}

function isCell(value: unknown): value is FormCell {
  if (!isRecord(value)) return false;
  return Object.hasOwn(value, "field") ? isField(value["field"]) : typeof value["text"] === "string" && ["text", "words", "exact"].includes(String(value["as"]));
}

function isField(value: unknown): value is FormField {
  if (!isRecord(value)) return false;
  const { id, label, help, kind, choices, only } = value;
  const isChoice = (each: unknown): boolean => isRecord(each) && typeof each["value"] === "string" && typeof each["label"] === "string" && isTextOrAbsent(each["group"]);
  if (typeof id !== "string" || !/^[\da-z-]+$/iu.test(id) || typeof label !== "string" || !isTextOrAbsent(help)) return false;
  if (only !== undefined && (!isRecord(only) || typeof only["field"] !== "string" || !isTexts(only["values"]))) return false;
  return kind === "choice" ? isList(choices, isChoice) : kind === "line" || kind === "lines";
}

function isTextOrAbsent(value: unknown): boolean {
  return value === undefined || typeof value === "string";
}

function isTexts(value: unknown): value is readonly string[] {
  return isList(value, (each): each is string => typeof each === "string");
}

function isList<T>(value: unknown, fits: ((each: unknown) => each is T) | ((each: unknown) => boolean)): value is readonly T[] {
  return Array.isArray(value) && value.every((each) => fits(each));
}
