import type { CheckedQuery } from "../../core/query/check-query";
import type { ChartKind, Option, Options, Parameter, SourceKind, Verb } from "../../core/query/vocabulary";
import type { QuerySurroundings } from "../../core/query/query-surroundings";
import { isTextEnding } from "../../core/query/text-forms";
import { nothingKnown, withoutColumns, type Schema } from "../../core/table/schema";
import type { CursorContext, Frame } from "./cursor-context";
import { chainStart, partsOf, textOfString } from "./query-pieces";
import { constantsBefore, readableQuery } from "./readable-query";

/** What is called by the bracket of a frame. */
export type Call =
  /** `other` is the table that stands first between the brackets. */
  | { readonly kind: "verb"; readonly verb: Verb; readonly receiver: () => Schema; readonly other: () => Schema }
  | { readonly kind: "chart"; readonly chart: ChartKind; readonly table: () => Schema }
  | { readonly kind: "source"; readonly source: SourceKind }
  | { readonly kind: "function"; readonly name: string }
  | { readonly kind: "open"; readonly name: "session" | "sessions" }
  | { readonly kind: "ending"; readonly name: string; readonly receiver: () => Schema };

/** Finds what stands around a cursor. Frames are given by their number in the context. */
export interface QueryPlace {
  readonly context: CursorContext;
  /** What the bracket of a frame calls; `null` when it calls nothing that is known. */
  readonly callOf: (frame: number) => Call | null;
  /** The table that the chain ending with piece `last` gives, as far as it is known. */
  readonly tableOf: (last: number) => Schema;
  /** The chain that ends with piece `last`, behind the cell's constants, as it was checked; `null` where it cannot be read. */
  readonly queryOf: (last: number) => CheckedQuery | null;
  /** The parameter of a verb that the frame's part at the cursor is for. */
  readonly parameterOf: (frame: number) => Parameter | null;
  /** The name of the entry of an object that the cursor is in the value of; `null` where a name is written. */
  readonly entryOf: (frame: number) => string | null;
  /** The row function that the cursor is in: its parameter, and the columns of its rows. */
  readonly row: { readonly name: string; readonly columns: Schema; readonly parameter: Parameter | null } | null;
  /** The options that the cursor is among, with the columns that they name; `null` where it is in none. */
  readonly options: { readonly frame: number; readonly options: Options; readonly columns: Schema; readonly call: Call } | null;
}

/** The surroundings of a cursor in a query's body, checked as far as they can be. */
export function queryPlace(text: string, context: CursorContext, surroundings: QuerySurroundings): QueryPlace {
  const { before: pieces, frames } = context;
  const { vocabulary } = surroundings;
  const calls = new Map<number, Call | null>();
  const queries = new Map<number, CheckedQuery | null>();

  function tableOf(last: number): Schema {
    const result = queryOf(last)?.result;
    return result?.type === "table" ? result.schema : nothingKnown;
  }

  function queryOf(last: number): CheckedQuery | null {
    const known = queries.get(last);
    if (known !== undefined) return known;
    const start = chainStart(pieces, last);
    const made = start === null ? null : readableQuery(text, pieces, { constants: constantsBefore(pieces), chain: [start, last] }, surroundings);
    queries.set(last, made);
    return made;
  }

  function callOf(frame: number): Call | null {
    const known = calls.get(frame);
    if (known !== undefined) return known;
    const made = frames[frame]?.open === "(" ? makeCall(frames[frame]) : null;
    calls.set(frame, made);
    return made;
  }

  function makeCall({ at, part }: Frame): Call | null {
    const name = pieces[at - 1];
    if (name?.kind !== "name") return null;
    const isMember = pieces[at - 2]?.text === ".";
    const owner = pieces[at - 3];
    const isPlace = owner?.kind === "name" && pieces[at - 4]?.text !== ".";
    if (!isMember) {
      if (name.text === "session" || name.text === "sessions") return { kind: "open", name: name.text };
      const source = vocabulary.sources.get(name.text);
      return source === undefined ? null : { kind: "source", source };
    }
    if (isPlace && owner.text === "op") return { kind: "function", name: name.text };
    if (isPlace && owner.text === "chart") {
      const chart = vocabulary.charts.get(name.text);
      return chart === undefined ? null : { kind: "chart", chart, table: () => firstArgument(at, part) };
    }
    const verb = vocabulary.verbs.get(name.text);
    if (verb !== undefined) return { kind: "verb", verb, receiver: () => tableOf(at - 3), other: () => firstArgument(at, part) };
    return isTextEnding(name.text) ? { kind: "ending", name: name.text, receiver: () => tableOf(at - 3) } : null;
  }

  /** The table that stands before the first comma after a bracket. */
  function firstArgument(at: number, part: number): Schema {
    return part > at + 1 ? tableOf(partsOf(pieces, at, pieces.length)[0]![1]) : nothingKnown;
  }

  function parameterOf(frame: number): Parameter | null {
    const call = callOf(frame);
    if (call?.kind !== "verb") return null;
    const { parameters } = call.verb;
    const { commas } = frames[frame]!;
    const last = parameters.at(-1);
    return parameters[commas] ?? (last?.kind === "columns" || last?.kind === "ordering" ? last : null);
  }

  function entryOf(frame: number): string | null {
    const { part } = frames[frame]!;
    const key = pieces[part];
    if (pieces[part + 1]?.text !== ":" || key === undefined) return null;
    if (key.kind === "name") return key.text;
    return key.kind === "string" ? textOfString(key) : null;
  }

  function findRow(): QueryPlace["row"] {
    for (let frame = frames.length - 1; frame >= 0; frame--) {
      const from = frames[frame]!.part;
      const end = frames[frame + 1]?.at ?? pieces.length;
      let arrow = end - 1;
      while (arrow >= from && pieces[arrow]!.text !== "=>") arrow--;
      if (arrow < from) continue;
      const name = pieces[arrow - 1]?.text === ")" ? pieces[arrow - 2] : pieces[arrow - 1];
      if (name?.kind !== "name") return null;
      for (let around = frame; around >= 0; around--) {
        const call = callOf(around);
        if (call?.kind === "verb") return { name: name.text, columns: call.receiver(), parameter: parameterOf(around) };
      }
      return { name: name.text, columns: nothingKnown, parameter: null };
    }
    return null;
  }

  function findOptions(): QueryPlace["options"] {
    for (let frame = frames.length - 1; frame > 0; frame--) {
      if (frames[frame]!.open !== "{") continue;
      const call = callOf(frame - 1);
      if (call?.kind === "verb") {
        const parameter = parameterOf(frame - 1);
        if (parameter?.kind === "options") return { frame, options: parameter.options, columns: call.receiver(), call };
      }
      if (call?.kind === "chart" && frames[frame - 1]!.commas > 0) return { frame, options: call.chart.options, columns: call.table(), call };
      if (call?.kind === "source") return { frame, options: call.source.options, columns: withoutColumns, call };
    }
    return null;
  }

  return { context, callOf, tableOf, queryOf, parameterOf, entryOf, row: findRow(), options: findOptions() };
}

/** The option that a name means, if there is one of that name. */
export function optionOf(options: Options, name: string | null): Option | null {
  return name !== null && Object.hasOwn(options, name) ? options[name]! : null;
}
