import { closestName } from "../../core/closest-name";
import { folderOf, resolvePath } from "../../core/path";
import { columnInWords } from "./session-key-words";
import { unitsOf } from "../../core/session/node-reader";
import { wordsOfDirection } from "../../core/session/directions";
import { correctableColumns, type Shape } from "../../core/session/session-shapes";
import { unitInName } from "../../core/table/convert-units";
import { sideLetters } from "../../core/table/side-letters";
import { isShotColumn, shotColumns, type ShotColumn } from "../../core/table/shot-columns";
import type { SuggestionKind } from "./answers";
import { columnOf, looseTreeOf, mappedHeaders, nodeAt, siblingText, type SessionPlace } from "./session-place";
import type { SessionView } from "./session-view";
import { limitsSnippet, placeholder, typicalOfColumn, unitsForColumn } from "./session-typical";

/** A value that can stand at a place, before it is put into quotes and given its stretch. */
export interface ValueChoice {
  readonly text: string;
  readonly kind: SuggestionKind;
  readonly detail?: string;
  readonly rank?: number;
  /** The value as a snippet, where it is one; it needs no quotes. */
  readonly snippet?: string;
  /** True for a truth, which means another thing in quotes. */
  readonly isPlain?: true;
  /** True for a unit behind a number that is there already. */
  readonly isUnit?: true;
}

/** What can stand at a place where one of the shapes is wanted, apart from keys. */
export async function valuesFor(view: SessionView, place: SessionPlace, shape: Shape, typed: string): Promise<readonly ValueChoice[]> {
  const column = columnOf(place.path);
  switch (shape.kind) {
    case "choice":
      return shape.choices.map((text) => ({ text, kind: isShotColumn(text) ? "column" : "choice", ...detailOf(text) }));
    case "truth":
      return ["true", "false"].map((text) => ({ text, kind: "choice", isPlain: true }));
    case "measure":
      return measures(unitsOf(shape.quantity), shape.typical, typed);
    case "of the column":
      return column === null ? [] : columnMeasures(shape.as, column, typed);
    case "text":
      return texts(view, place, shape.typical ?? []);
    case "name":
      return names(view, place, shape.of, typed, column);
    default:
      return [];
  }
}

function detailOf(text: string): { readonly detail?: string } {
  return isShotColumn(text) ? { detail: columnInWords(text) } : {};
}

function columnMeasures(as: "measure" | "measure or share" | "limits", column: ShotColumn, typed: string): readonly ValueChoice[] {
  if (as === "limits") {
    const snippet = limitsSnippet(column);
    return snippet === null ? [] : [{ text: "[low, high]", kind: "snippet", snippet, detail: "lower and upper limit" }];
  }
  const share = as === "measure or share" ? unitsOf("share") : [];
  return measures([...unitsForColumn(column), ...share], typicalOfColumn(as, column), typed);
}

/** Units behind a number; without one, a usual value and a place for a number in front of each unit. */
function measures(units: readonly string[], typical: string | null, typed: string): readonly ValueChoice[] {
  if (/\d/u.test(typed)) return units.map((text) => ({ text, kind: "unit", isUnit: true }));
  const usual: ValueChoice[] = typical === null ? [] : [{ text: typical, kind: "snippet", snippet: placeholder(typical, { next: 1 }), detail: "a usual value" }];
  return [...usual, ...units.map((unit): ValueChoice => ({ text: `number in ${unit}`, kind: "snippet", snippet: `$1 ${unit}`, rank: 1 }))];
}

/** Words that are usual at a place, and those that the session itself has there. */
function texts(view: SessionView, place: SessionPlace, typical: readonly string[]): readonly ValueChoice[] {
  const key = place.path.findLast((each) => each !== null);
  const own = key === "intent" ? (view.session?.shots ?? []).flatMap(({ intent }) => intent ?? []) : key === "set" ? headNames(view).described : [];
  const called = key === "called" ? headNames(view).hit : [];
  return unique([...typical, ...own, ...called]).map((text) => ({ text, kind: "choice" }));
}

async function names(view: SessionView, place: SessionPlace, of: (Shape & { kind: "name" })["of"], typed: string, column: ShotColumn | null): Promise<readonly ValueChoice[]> {
  switch (of) {
    case "export":
      return exportsBeside(view, typed);
    case "head":
      return heads(view);
    case "header":
      return headers(view, column, place.scalar.text);
    case "column or header":
      return [...columnsOf(view), ...headers(view, null, "").filter(({ rank }) => rank !== 2)];
    case "unit":
      return column === null ? [] : columnUnits(view, place, column);
    case "sides":
      return directionsOf(column).map((direction) => {
        const [first, second] = direction[0] === "right" ? [direction[1], direction[0]] : direction;
        return { text: sideLetters(direction), kind: "choice", detail: `letters for ${first} and ${second}` };
      });
    case "positive":
      return directionsOf(column).flat().map((text) => ({ text, kind: "choice", detail: `positive numbers mean ${text}` }));
    case "value":
      return corrected(view, siblingText(place, "column") ?? "", typed);
  }
}

function directionsOf(column: ShotColumn | null): readonly (readonly [string, string])[] {
  const direction = column === null ? null : shotColumns[column].direction;
  return direction === null ? [] : wordsOfDirection(direction);
}

/** Endings of files that can be an export. */
const exportEndings = /\.(?:csv|tsv|txt)$/iu;

async function exportsBeside(view: SessionView, typed: string): Promise<readonly ValueChoice[]> {
  const folder = folderOf(typed);
  const place = resolvePath(folderOf(view.path), folder === "" ? "." : folder).value;
  if (place === null) return [];
  const used = new Set((view.session?.sources ?? []).map(({ file }) => file));
  return (await view.listFolder(place === "" ? "." : place)).filter((name) => exportEndings.test(name)).map((name) => {
    const text = folder === "" ? name : `${folder}/${name}`;
    return { text, kind: "file", rank: used.has(text) && text !== typed ? 1 : 0 };
  });
}

/** Heads that the session describes, and names under which heads are known in the exports and that it does not describe. */
export function headNames(view: SessionView): { readonly described: readonly string[]; readonly hit: readonly string[] } {
  const tree = nodeAt(looseTreeOf(view), "heads");
  const written = tree?.kind === "map" ? tree.entries.filter(({ hasColon }) => hasColon).map(({ key }) => key.text) : [];
  const described = unique([...(view.session?.heads ?? []).map(({ name }) => name), ...written]);
  const called = new Set((view.session?.heads ?? []).flatMap((head) => head.called));
  const header = view.session?.columns.find(({ column }) => column === "head")?.header;
  const fromExports = view.exports.flatMap((each) => each.headers.filter(({ name }) => name === header).flatMap(({ values }) => values));
  const fromShots = (view.shots?.sessions ?? []).flatMap((session) => session.heads.map(({ name }) => name));
  return { described, hit: unique([...fromShots, ...fromExports]).filter((name) => !described.includes(name) && !called.has(name)) };
}

function heads(view: SessionView): readonly ValueChoice[] {
  const { described, hit } = headNames(view);
  return [
    ...described.map((text): ValueChoice => ({ text, kind: "value", detail: "head" })),
    ...hit.map((text): ValueChoice => ({ text, kind: "value", detail: "head in the exports, not described", rank: 1 })),
  ];
}

/** Headers of the exports: the one most like the column first, those that are mapped already last. */
function headers(view: SessionView, column: ShotColumn | null, own: string): readonly ValueChoice[] {
  const mapped = mappedHeaders(view.session);
  const values = new Map<string, readonly string[]>();
  for (const each of view.exports) for (const header of each.headers) if (header.name !== "" && !values.has(header.name)) values.set(header.name, header.values);
  const near = column === null ? null : closestName(column, [...values.keys()].map((name) => name.replace(/\s*[([].*$/u, "")));
  return [...values].map(([text, few]) => {
    const user = mapped.get(text);
    const isTaken = user !== undefined && user !== column && text !== own;
    const rank = isTaken ? 2 : near !== null && text.startsWith(near) ? 0 : 1;
    return { text, kind: "value", rank, detail: isTaken ? `read as ${user}` : few.slice(0, 4).join(", ") };
  });
}

function columnsOf(view: SessionView): readonly ValueChoice[] {
  const there = view.shots === null ? null : new Set(view.shots.columns.map(({ name }) => name));
  return correctableColumns.filter((name) => there?.has(name) !== false).map((text) => ({ text, kind: "column", ...detailOf(text) }));
}

/** The units of a column, first the one that its header names. */
function columnUnits(view: SessionView, place: SessionPlace, column: ShotColumn): readonly ValueChoice[] {
  const named = unitInName(siblingText(place, "from") ?? "");
  return unitsForColumn(column).map((text) => ({ text, kind: "unit", rank: text === named ? 0 : 1 }));
}

/** What a correction can put in a column. */
function corrected(view: SessionView, column: string, typed: string): readonly ValueChoice[] {
  if (column === "head") return heads(view);
  if (column === "intent") return ["stock", ...unique((view.session?.shots ?? []).flatMap(({ intent }) => intent ?? []))].map((text) => ({ text, kind: "choice" }));
  if (!isShotColumn(column)) return [];
  return /\d/u.test(typed) ? unitsForColumn(column).map((text) => ({ text, kind: "unit", isUnit: true })) : [];
}

function unique(words: readonly string[]): readonly string[] {
  return [...new Set(words)];
}
