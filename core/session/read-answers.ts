import { isShotColumn, shotColumnNames, shotColumns } from "../table/shot-columns";
import { units, type Unit } from "../units";
import { headKinds } from "./head-defaults";
import { unitsOf } from "./node-reader";
import { newHead } from "./propose-answers";
import type { ColumnAnswer, HeadAnswer, SessionAnswers, ShotsAnswer } from "./session-proposal";

/** The closed sets of answers, by key. */
const choices: Readonly<Record<string, readonly string[]>> = {
  hand: ["right", "left"],
  monitorPlace: ["indoor", "outdoor"],
  headsFrom: ["column", "file", "plan"],
  order: ["shot", "session shot", "time", "file"],
  carryIs: ["as played", "in standard air", "unknown"],
};

/** Every word for a direction. */
const directions: readonly string[] = [...new Set(Object.values(shotColumns).flatMap(({ direction }) => direction ?? []))];

/**
 * The answers in a parsed JSON text, on top of `first`: keys that are not there stay, columns are named by `header`, heads by `name`.
 *
 * @returns what cannot be read, each in a sentence; then the value holds what can.
 */
export function readAnswers(written: unknown, first: SessionAnswers): { readonly value: SessionAnswers; readonly wrong: readonly string[] } {
  // What was printed with questions and a proposal may come back whole.
  const value = isMap(written) && Object.hasOwn(written, "answers") ? written["answers"] : written;
  if (!isMap(value)) return { value: first, wrong: ["answers are a map of keys and values"] };
  const wrong: string[] = [];
  const read: Record<string, unknown> = { ...first };
  for (const [key, each] of Object.entries(value)) {
    const given = key === "warmUp" && each === "none" ? "" : each;
    if (!Object.hasOwn(first, key)) wrong.push(`${key} means nothing in answers; the keys are ${Object.keys(first).join(", ")}`);
    else if (key === "columns") read[key] = readColumns(given, first.columns, wrong);
    else if (key === "heads") read[key] = readHeads(given, first.heads, wrong);
    else if (key === "wrongHeads" || key === "shaped") read[key] = readShots(key, given, wrong);
    else if (isAccepted(key, given)) read[key] = given;
    else if (key === "calculated") wrong.push("calculated is a list of shot columns");
    else if (key === "fileHeads") wrong.push("fileHeads is a map from a file to its head");
    else if (Object.hasOwn(choices, key)) wrong.push(`${key} is one of ${choices[key]!.join(", ")}, not ${JSON.stringify(given)}`);
    else wrong.push(`${key} is a text`);
  }
  return { value: read as unknown as SessionAnswers, wrong };
}

function isAccepted(key: string, given: unknown): boolean {
  if (key === "calculated") return Array.isArray(given) && given.every((each) => typeof each === "string" && isShotColumn(each));
  if (key === "fileHeads") return isMap(given) && Object.values(given).every((each) => typeof each === "string");
  if (Object.hasOwn(choices, key)) return given === null || (typeof given === "string" && choices[key]!.includes(given));
  return typeof given === "string" || (given === null && ["session", "warmUp"].includes(key));
}

function isMap(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function readColumns(given: unknown, first: readonly ColumnAnswer[], wrong: string[]): readonly ColumnAnswer[] {
  const own = new Map<string, Readonly<Record<string, unknown>>>();
  for (const each of Array.isArray(given) ? (given as readonly unknown[]) : [null]) {
    if (isMap(each) && typeof each["header"] === "string" && first.some(({ header }) => header === each["header"])) own.set(each["header"], each);
    else wrong.push("columns is a list of maps, each with a header of the exports");
  }
  return first.map((before) => {
    const { column = before.column, unit = before.unit, sides = before.sides, positive = before.positive } = own.get(before.header) ?? {};
    const facts = typeof column === "string" && isShotColumn(column) ? shotColumns[column] : null;
    const isOf = (accepted: readonly string[], value: unknown): boolean => value === null || (typeof value === "string" && accepted.includes(value));
    const quantity = facts?.quantity ?? null;
    const unitsHere: readonly string[] = quantity === null ? Object.keys(units) : unitsOf(quantity);
    const directionsHere: readonly string[] = facts?.direction ?? directions;
    const say = (key: string, value: unknown, accepted: string): number => wrong.push(`in "columns", at "header": ${JSON.stringify(before.header)}: ${JSON.stringify(key)} is ${accepted}, not ${JSON.stringify(value)}`);
    const [isColumn, isUnit] = [isOf([...shotColumnNames, "keep"], column), isOf(unitsHere, unit)];
    const [isSides, isPositive] = [sides === null || typeof sides === "string", isOf(directionsHere, positive)];
    if (!isColumn) say("column", column, `keep or a shot column: ${shotColumnNames.join(", ")}`);
    if (!isUnit) say("unit", unit, `one of ${unitsHere.join(", ")}`);
    if (!isSides) say("sides", sides, "a text such as L/R");
    if (!isPositive) say("positive", positive, `one of ${directionsHere.join(", ")}`);
    return isColumn && isUnit && isSides && isPositive ? { header: before.header, column: column as ColumnAnswer["column"], unit: unit as Unit | null, sides: sides as string | null, positive: positive as string | null } : before;
  });
}

function readHeads(given: unknown, first: readonly HeadAnswer[], wrong: string[]): readonly HeadAnswer[] {
  const heads = new Map(first.map((head) => [head.name, head]));
  for (const each of Array.isArray(given) ? (given as readonly unknown[]) : [null]) {
    const fine = isMap(each) && typeof each["name"] === "string" && Object.entries(each).every(([key, text]) => Object.hasOwn(newHead(""), key) && (typeof text === "string" || (key === "kind" && text === null)));
    if (fine && ((each["kind"] ?? null) === null || (headKinds as readonly unknown[]).includes(each["kind"]))) heads.set(each["name"] as string, { ...(heads.get(each["name"] as string) ?? newHead("")), ...each });
    else if (fine) wrong.push(`in "heads", at "name": ${JSON.stringify(each["name"])}: "kind" is one of ${headKinds.join(", ")}, not ${JSON.stringify(each["kind"])}`);
    else wrong.push(`heads is a list of maps of texts with ${Object.keys(newHead("")).join(", ")}; kind is ${headKinds.join(", ")}`);
  }
  return [...heads.values()];
}

function readShots(key: string, given: unknown, wrong: string[]): readonly ShotsAnswer[] {
  return (Array.isArray(given) ? (given as readonly unknown[]) : [null]).flatMap((each) => {
    if (isMap(each) && typeof each["shots"] === "string" && typeof each["value"] === "string") return [{ shots: each["shots"], value: each["value"] }];
    wrong.push(`${key} is a list of maps of two texts, shots and value`);
    return [];
  });
}
