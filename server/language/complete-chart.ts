import { aggregateNames, takesAnyKind } from "../../core/chart/aggregates";
import type { CheckedChart } from "../../core/chart/check-chart";
import { viewKeys } from "../../core/chart/check-view";
import type { JsonNode } from "../../core/chart/json-tree";
import type { JsonPlace } from "../../core/chart/loose-json";
import { propertiesOf } from "../../core/chart/shape-at";
import type { Shape } from "../../core/chart/shape";
import { keyHelp, valueHelp } from "../../core/chart/spec-help";
import { bodyOffset } from "../../core/notebook/read-header";
import type { Suggestion } from "./answers";
import { calculates, columnsFor, isReading } from "./chart-columns";
import { chartPlaceAt, columnOf, drawnSchema, fieldAround, lastKey, type ChartPlace } from "./chart-place";
import { valueSnippet, wholeChartsFor } from "./chart-snippets";
import { columnKind, columnMarkdown } from "./column-hover";
import type { NotebookView } from "./notebook-view";

/** A value that can be written: as JSON, or as a snippet of JSON. */
type Offer = Omit<Suggestion, "replace" | "insert" | "filter"> & { readonly json: string };

/**
 * What can stand at `offset` in the body of a chart cell: what checking accepts there, from the tables that it goes by.
 * Quotes, colons and commas come along where they are missing.
 */
export function completeChart(view: NotebookView, cell: number, offset: number): readonly Suggestion[] {
  const { text } = view.cells[cell]!;
  const found = chartPlaceAt(view, cell, offset);
  if (found === null) return [];
  const { place, root } = found;
  if (place.kind === "key") return keysAt(found, text);
  if (place.path.length > 0) return valuesAt(found, view, cell).map((offer) => suggested(offer, place, text));
  const isAll = text.slice(Math.min(bodyOffset(text), text.length)).trim() === place.written;
  return root === null || (place.token === "bare" && isAll) ? wholeChartsFor(view, cell, drawnSchema(view, cell), place.replace) : [];
}

function keysAt(found: ChartPlace, text: string): readonly Suggestion[] {
  const { place, holder, shapes } = found;
  const others = holder?.kind === "object" ? holder.entries.filter(({ keySpan }) => keySpan.from !== place.replace.from) : [];
  const given = new Set(others.map(({ key }) => key));
  const isView = viewKeys.some((key) => given.has(key));
  const field = given.has("field") ? fieldAround(found) : null;
  const isText = field !== null && field.known.kind !== "number" && field.known.kind !== null;
  const within = lastKey(place.path);
  return Object.entries(propertiesOf(shapes) ?? {})
    .filter(([key]) => !given.has(key) && !(isView && viewKeys.includes(key)) && !(isText && key === "bin"))
    .map(([key, shape]): Suggestion => {
      const value = place.hasColon ? "" : `: ${valueSnippet(fitted(shape, key, found), [...place.path.filter((step) => typeof step === "string"), key], columnsAround(found))}`;
      const help = keyHelp(key, within);
      const json = `${JSON.stringify(key)}${value}`;
      const isFirst = key === "mark" || key === "encoding" || key === "field";
      const offer = { label: key, kind: "key" as const, json, rank: isFirst ? 0 : 1, ...(help === null ? {} : { documentation: help }), ...(place.hasColon ? {} : { isSnippet: true as const }) };
      return suggested(offer, place, text);
    });
}

/** The words of a choice that the column at hand can have; without a column, those that want none. */
function fitted(shape: Shape, key: string, found: ChartPlace): Shape {
  if (shape.is !== "choice") return shape;
  const field = fieldAround(found);
  const isNumber = hasOperation(found.holder) || (field !== null && isReading(field.name, field.known.kind));
  if (isNumber && shape.of.includes("quantitative")) return { is: "choice", of: ["quantitative"] };
  const isAlone = key === "aggregate" && field === null;
  return { is: "choice", of: shape.of.filter((word) => (isAlone ? word === "count" : isFitting(word, key, found))) };
}

/** Columns for a value that is yet to be written, in the object at hand or in a new one. */
function columnsAround(found: ChartPlace): (path: readonly string[]) => readonly string[] {
  const depth = found.place.path.filter((step) => typeof step === "string").length + 1;
  return (path) => columnsFor(found, path, path.length === depth ? found.holder : null);
}

function valuesAt(found: ChartPlace, view: NotebookView, cell: number): readonly Offer[] {
  const { place, shapes } = found;
  const path = place.path.filter((step) => typeof step === "string");
  const key = lastKey(place.path);
  const offers = shapes.flatMap((shape): readonly Offer[] => {
    switch (shape.is) {
      case "choice":
        return shape.of.filter((word) => isFitting(word, key, found)).map((word) => choice(word, key));
      case "column":
        return columnOffers(found);
      case "words":
        return textOffers(found, key, view.cells[cell]!.checked.chart);
      case "truth":
        return ["true", "false"].map((word): Offer => ({ label: word, kind: "word", json: word }));
      case "null":
        return [{ label: "null", kind: "word", json: "null", rank: 2 }];
      case "object":
      case "list":
      case "transforms": {
        const json = valueSnippet(shape, path, (at) => columnsFor(found, at, null));
        return [{ label: json.replace(/\$\{\d+:(.*?)\}|\$\d/gu, "$1").replace(/ {2,}/gu, " "), kind: "snippet", json, isSnippet: true, rank: 1 }];
      }
      default:
        return [];
    }
  });
  // What is begun is a text or a word, no object.
  return offers.filter(({ json, kind }) => (place.token === "quoted" ? json.startsWith('"') : place.token === "none" || kind !== "snippet"));
}

function choice(word: string, key: string): Offer {
  const help = valueHelp(word, key);
  return { label: word, kind: "choice", json: JSON.stringify(word), ...(help === null ? {} : { documentation: help }) };
}

/** False for an operation or a type that the column at hand cannot have. */
function isFitting(word: string, key: string, found: ChartPlace): boolean {
  const known = fieldAround(found)?.known;
  if (known === undefined || known.kind === "number" || known.kind === null) return true;
  if (key === "aggregate" || key === "op") return !aggregateNames.includes(word) || takesAnyKind(word);
  return key !== "type" || word !== "quantitative" || calculates(found.holder) || hasOperation(found.holder);
}

function hasOperation(holder: JsonNode | null): boolean {
  return holder?.kind === "object" && holder.entries.some(({ key }) => key === "aggregate");
}

function columnOffers(found: ChartPlace): readonly Offer[] {
  const { place, holder, scope, schema } = found;
  const others = holder?.kind === "list" ? new Set(holder.items.flatMap((item) => (item.kind === "text" && item.from !== place.replace.from ? [item.value] : []))) : new Set<string>();
  return columnsFor(found, place.path, holder)
    .filter((name) => !others.has(name))
    .map((name): Offer => {
      const column = columnOf(name, found);
      const isMade = scope.columns.get(name)?.isMade === true;
      const rows = scope.isPlain && !isMade ? schema.rowCount : undefined;
      return {
        label: name,
        kind: "column",
        json: JSON.stringify(name),
        detail: isMade ? `${columnKind(column)}, made by a transform` : columnKind(column),
        documentation: columnMarkdown(column, rows),
      };
    });
}

/** Texts that are known: values of the column that something is compared with, and the description of what is drawn. */
function textOffers(found: ChartPlace, key: string, chart: CheckedChart | null): readonly Offer[] {
  if (found.place.path.length === 1 && key === "description") return chart?.fieldsKnown === true ? [{ label: chart.generated, kind: "word", json: JSON.stringify(chart.generated) }] : [];
  if (!["equal", "oneOf", "domain", "sort", "datum"].includes(key)) return [];
  const field = fieldAround(found);
  return (field?.known.values ?? []).map((value): Offer => ({ label: value, kind: "value", json: JSON.stringify(value), detail: `a value of ${field!.name}` }));
}

/** The suggestion of an offer at a place, with the commas that are missing around it. */
function suggested({ json, ...offer }: Offer, { replace, token, comma }: JsonPlace, text: string): Suggestion {
  const isTight = token === "none" && text[replace.from - 1] === ":";
  const quote = token === "quoted" ? text[replace.from]! : "";
  const insert = `${comma.before ? ", " : isTight ? " " : ""}${json}${comma.after ? (/\s/u.test(text[replace.to] ?? " ") ? "," : ", ") : ""}`;
  return { ...offer, replace, insert, filter: `${quote}${offer.label}` };
}
