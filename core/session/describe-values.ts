import type { DelimitedText } from "../table/delimited-text";
import { fieldText } from "../table/delimited-text";

/** A datatype by Metadata Vocabulary for Tabular Data (W3C Recommendation 17 December 2015), section 5.11. */
export type Datatype =
  | "string"
  | "number"
  | "integer"
  | "date"
  | "time"
  | "dateTime"
  | {
      readonly base: "number" | "integer" | "date" | "time" | "dateTime";
      readonly format?: string | { readonly decimalChar: "," };
      readonly minimum?: number;
      readonly maximum?: number;
    };

/** The values of one column of a file, from a row on. */
export interface ColumnValues {
  readonly text: DelimitedText;
  readonly index: number;
  readonly firstRow: number;
  /** Texts that mean missing. */
  readonly missing: ReadonlySet<string>;
}

/**
 * Dates and times that can be told without doubt, as they are written; `null` where that is the form of XML Schema, which
 * needs no format. Formats are those of Model for Tabular Data (W3C Recommendation 17 December 2015), section 6.4.4.
 */
const moments: readonly { readonly base: "date" | "time" | "dateTime"; readonly format: string | null; readonly form: RegExp }[] = [
  { base: "date", format: null, form: /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])$/u },
  { base: "time", format: null, form: /^(?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d$/u },
  { base: "time", format: "HH:mm", form: /^(?:[01]\d|2[0-3]):[0-5]\d$/u },
  { base: "dateTime", format: null, form: /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])T(?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d(?:Z|[+-]\d{2}:\d{2})?$/u },
  { base: "dateTime", format: "yyyy-MM-dd HH:mm:ss", form: /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01]) (?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d$/u },
  { base: "dateTime", format: "yyyy-MM-dd HH:mm", form: /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01]) (?:[01]\d|2[0-3]):[0-5]\d$/u },
];

/**
 * The narrowest datatype that every value of a column has, and whether one is missing. A column without any value is one of
 * text.
 *
 * @param limits what a column of numbers is limited to; `null` where nothing is.
 */
export function datatypeOf(
  values: ColumnValues,
  limits: { readonly minimum: number; readonly maximum: number } | null,
): { readonly datatype: Datatype; readonly hasMissing: boolean } {
  const { text, index, firstRow, missing } = values;
  const number = text.decimal === "," ? /^[-+]?(?:\d+(?:,\d*)?|,\d+)(?:[eE][-+]?\d+)?$/u : /^[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?$/u;
  let [isInteger, isNumber, hasMissing, count] = [true, true, false, 0];
  let possible = moments;
  for (let row = firstRow; row < text.rowCount; row++) {
    const written = fieldText(text, row, index) ?? "?";
    const value = written.trim();
    if (missing.has(written) || missing.has(value)) {
      hasMissing = true;
      continue;
    }
    count++;
    isInteger &&= /^[-+]?\d{1,15}$/u.test(value);
    isNumber &&= number.test(value);
    if (possible.length > 0) possible = possible.filter(({ form }) => form.test(value));
  }
  const [moment] = possible;
  if (count === 0) return { datatype: "string", hasMissing };
  if (isInteger || isNumber) return { datatype: numberType(isInteger, text.decimal === ",", limits), hasMissing };
  if (moment !== undefined) return { datatype: moment.format === null ? moment.base : { base: moment.base, format: moment.format }, hasMissing };
  return { datatype: "string", hasMissing };
}

function numberType(isInteger: boolean, hasComma: boolean, limits: { readonly minimum: number; readonly maximum: number } | null): Datatype {
  // A limit is a value of its datatype.
  const base = isInteger && (limits === null || (Number.isInteger(limits.minimum) && Number.isInteger(limits.maximum))) ? "integer" : "number";
  const format = base === "number" && hasComma ? { format: { decimalChar: "," as const } } : {};
  return "format" in format || limits !== null ? { base, ...format, ...limits } : base;
}
