import { readNumber, type Sides } from "../table/read-number";
import { shotColumnNames, shotColumns, type ShotColumn } from "../table/shot-columns";
import { convert, isConvertible, parseUnit, type Unit } from "../units";
import { sidesIn, type Field, type FoundSides } from "./propose-sides";
import type { Certainty, ProposedColumn } from "./session-proposal";
import { columnWords, headerWords } from "./propose-words";

/** Texts that exports write where there is no value. */
export const missingTexts: ReadonlySet<string> = new Set(["-", "--", "---", "–", "—", "−", "n/a", "N/A", "NA", "null", "NaN"]);

/** One header with the values of its shots over all exports. */
export interface HeaderValues {
  readonly header: string;
  readonly files: readonly string[];
  readonly values: readonly Field[];
  /** From a row of units. */
  readonly unitOfRow: Unit | null;
}

/** Units that exports use, by quantity. */
const unitsOf: Readonly<Record<string, readonly Unit[]>> = {
  speed: ["mph", "m/s", "km/h", "ft/s"],
  distance: ["yd", "m", "ft"],
  height: ["ft", "yd", "m"],
  angle: ["deg", "rad"],
  spin: ["rpm", "rad/s"],
  "face distance": ["mm", "cm", "in"],
  time: ["s", "ms"],
};

/** Units that numbers of these quantities have unless something says otherwise. Common practice, no source. */
const usual: Readonly<Record<string, Unit>> = { angle: "deg", spin: "rpm", "face distance": "mm", time: "s" };

function isOfShots(unit: Unit): boolean {
  return Object.values(unitsOf).some((all) => all.includes(unit));
}

/** Share of the values that have to be within the plausible range of their column. */
const mostFit = 0.9;

/** Returns what a header is proposed to be, from its words, its unit and its values. */
export function proposeColumn({ header, files, values, unitOfRow }: HeaderValues): ProposedColumn {
  const there = values.map(({ text, decimal }) => ({ text: text.trim(), decimal })).filter(({ text }) => text !== "" && !missingTexts.has(text));
  const said = [headerWords(header), headerWords(header, new Set(spelt(header)))].flatMap((each) => shotColumnNames.filter((name) => isNamed(name, header, each)));
  // One letter alone may be a unit: it is a side where the header's words say a column with sides.
  const written = sidesIn(there, missingTexts, mostFit).filter(({ isTold, direction }) => isTold || said.some((name) => shotColumns[name].direction?.[0] === direction[0]));
  const numbers = numbersOf(there, written[0]?.sides ?? null);
  const isNumber = there.length > 0 && numbers.length >= 0.8 * there.length;
  const unitsStated = [...new Set([unitOfRow, unitInHeader(header), ...unitsInValues(there, written[0]?.sides ?? null)].filter((unit) => unit !== null))];
  const [stated = null] = unitsStated;
  const words = headerWords(header, new Set(stated === null ? [] : spelt(header)));
  const named = shotColumnNames.filter((name) => isNamed(name, header, words));
  const possible = named.filter((name) => !["session", "stint", "pass"].includes(name) && suits(name, { isNumber, isEmpty: there.length === 0, stated }));
  const others = shotColumnNames.filter((name) => !["session", "stint", "pass", "zone"].includes(name) && !possible.includes(name) && suits(name, { isNumber, isEmpty: there.length === 0, stated }));
  const units = Object.fromEntries([...possible, ...others].flatMap((name) => (shotColumns[name].quantity === null ? [] : [[name, unitsThatFit(name, stated, numbers)]])));
  const sides = (written.find(({ direction }) => possible.some((name) => shotColumns[name].direction?.[0] === direction[0])) ?? written[0])?.text ?? null;
  const samples = [...new Set(there.map(({ text }) => text))].slice(0, 4);
  const shared = { header, files, sides, positive: null, unit: null, statedUnit: stated, samples, present: there.length, missing: values.length - there.length, isNumber, columns: [...possible, ...others], units };
  const [only, ...more] = possible;
  if (there.length === 0) return { ...shared, column: "keep", certainty: "likely", evidence: "it has no values" };
  if (unitsStated.length > 1) return { ...shared, columns: [], column: named.length > 0 ? null : "keep", certainty: named.length > 0 ? "ask" : "likely", evidence: `several units are stated: ${unitsStated.join(", ")}` };
  // A stated unit speaks for a reading: which one, only a person can say; of those with sides where letters beside the numbers may be sides.
  const beside = sidesIn(there, missingTexts, mostFit);
  const besideOf = (name: ShotColumn): FoundSides | undefined => beside.find(({ direction }) => direction[0] === shotColumns[name].direction?.[0]);
  const plausible = stated === null || !isNumber || named.length > 0 ? [] : others.filter((name) => units[name]?.includes(stated) && (beside.length === 0 || besideOf(name) !== undefined));
  const [likeliest] = plausible;
  if (only === undefined && likeliest !== undefined) return { ...shared, columns: plausible, sides: besideOf(likeliest)?.text ?? null, column: null, unit: stated, certainty: "ask", evidence: `its words say no shot column, but ${stated} is stated` };
  if (only === undefined) {
    const evidence = named.length > 0 ? `the words say ${named.join(" or ")}, but the values do not` : "its words say no shot column";
    return { ...shared, column: named.length > 0 ? null : "keep", certainty: named.length > 0 ? "ask" : "likely", evidence };
  }
  if (more.length > 0) return { ...shared, column: null, certainty: "ask", evidence: `it may be ${possible.join(" or ")}` };
  const { direction } = shotColumns[only];
  if (direction !== null && written.length > 0 && !written.some((each) => each.direction[0] === direction[0])) return { ...shared, column: null, certainty: "ask", evidence: `the words say ${only}, but ${sides ?? ""} does not tell ${direction.join(" from ")}` };
  const { unit, certainty: unitSure, words: unitWords } = unitFor(only, stated, units[only] ?? [], numbers);
  const turn = directionOf(only, header, numbers, written);
  const certainty: Certainty = [unitSure, turn.certainty].includes("ask") ? "ask" : [unitSure, turn.certainty].includes("likely") ? "likely" : "sure";
  return { ...shared, column: only, unit, positive: turn.positive, certainty, evidence: [`the words say ${only}`, unitWords, turn.words].filter((part) => part !== "").join("; ") };
}

/** The numbers of a column's values, `NaN` for what is none, read with the sides that it was proposed with. */
export function numbersUnder(values: readonly Field[], { sides }: ProposedColumn): Float64Array {
  const pair = sides === null ? null : (sidesIn(values, missingTexts, 0).find(({ text }) => text === sides)?.sides ?? null);
  return Float64Array.from(values, (value) => numberOf(value, pair));
}

function isNamed(name: ShotColumn, header: string, words: string): boolean {
  return (columnWords[name] ?? []).includes(words) || header.trim() === name || words === name.replaceAll("_", " ");
}

function suits(name: ShotColumn, { isNumber, isEmpty, stated }: { readonly isNumber: boolean; readonly isEmpty: boolean; readonly stated: Unit | null }): boolean {
  const { kind, quantity } = shotColumns[name];
  if (isEmpty) return true;
  if (kind === "text") return stated === null && (!isNumber || name === "head" || name === "note");
  if (!isNumber) return false;
  const [example] = quantity === null ? [] : (unitsOf[quantity] ?? []);
  if (stated === null) return true;
  // Strikes are read in centimetres or inches, and no flight is.
  return example !== undefined && isConvertible(stated, example) && (!isConvertible(stated, "m") || (quantity === "face distance") === ["mm", "cm", "in"].includes(stated));
}

/** Units in which nearly all numbers are plausible values of the column. */
function unitsThatFit(name: ShotColumn, stated: Unit | null, numbers: readonly number[]): readonly Unit[] {
  const { quantity, range } = shotColumns[name];
  const all = stated === null ? (unitsOf[quantity ?? ""] ?? []) : [stated];
  if (range === null || numbers.length === 0) return all;
  return all.filter((unit) => {
    const si = all.length === 0 || quantity === null ? unit : siUnit[quantity]!;
    const fit = numbers.filter((number) => isIn(convert(number, unit, si), range)).length;
    return fit >= mostFit * numbers.length;
  });
}

const siUnit: Readonly<Record<string, Unit>> = { speed: "m/s", distance: "m", height: "m", "face distance": "m", angle: "rad", spin: "rad/s", time: "s" };

function isIn(value: number, [low, high]: readonly [number, number]): boolean {
  return value >= low && value <= high;
}

function unitFor(name: ShotColumn, stated: Unit | null, fit: readonly Unit[], numbers: readonly number[]): { readonly unit: Unit | null; readonly certainty: Certainty; readonly words: string } {
  const { quantity } = shotColumns[name];
  if (quantity === null) return { unit: null, certainty: "sure", words: "" };
  if (stated !== null) {
    if (fit.includes(stated)) return { unit: stated, certainty: "sure", words: `${stated} is stated` };
    return { unit: null, certainty: "ask", words: `${stated} is stated, but its values are not plausible in it` };
  }
  const common = usual[quantity];
  if (common !== undefined && fit.includes(common)) return { unit: common, certainty: "likely", words: `no unit is stated; ${common} is usual` };
  const [only] = fit;
  if (fit.length === 1 && only !== undefined && numbers.length >= 5) return { unit: only, certainty: "likely", words: `no unit is stated; only ${only} is plausible` };
  return { unit: null, certainty: "ask", words: fit.length > 1 ? `no unit is stated; its values are plausible in ${fit.join(", ")}` : "no unit is stated, and its values do not tell it" };
}

function numbersOf(values: readonly Field[], sides: Sides | null): readonly number[] {
  return values.map((value) => numberOf(value, sides)).filter((number) => !Number.isNaN(number));
}

function numberOf({ text, decimal }: Field, sides: Sides | null): number {
  const reading = readNumber(text, { decimal, decimalKnown: true, unit: null, sides, missing: missingTexts });
  return reading.kind === "number" ? reading.value : Number.NaN;
}

function directionOf(name: ShotColumn, header: string, numbers: readonly number[], written: readonly FoundSides[]): { readonly positive: string | null; readonly certainty: Certainty; readonly words: string } {
  const { direction } = shotColumns[name];
  if (direction === null) return { positive: null, certainty: "sure", words: "" };
  const own = written.filter((each) => each.direction[0] === direction[0]);
  const [first] = own;
  if (first !== undefined) return { positive: null, certainty: first.isTold ? "sure" : "likely", words: `${own.filter(({ isTold }) => isTold === first.isTold).map(({ text }) => text).join(" or ")} tells the side` };
  const lower = header.toLowerCase();
  const said = direction.filter((word) => new RegExp(`(?:^|[^\\p{L}])${word}(?:ward)?(?:[^\\p{L}]|$)`, "u").test(lower));
  if (said.length === 1) return { positive: said[0]!, certainty: "sure", words: `the header says ${said[0]!}` };
  if (name === "launch_angle" && numbers.filter((number) => number > 0).length >= mostFit * numbers.length) return { positive: "up", certainty: "sure", words: "balls start upwards" };
  if (name === "back_spin") return { positive: null, certainty: "sure", words: "" };
  if (name === "angle_of_attack" && numbers.filter((number) => number < 0).length > numbers.length / 2) return { positive: "up", certainty: "likely", words: "irons are mostly hit downwards" };
  if (/\bup(?:ward)?\b/u.test(lower) && name === "strike_y") return { positive: "high", certainty: "sure", words: "the header says up" };
  return { positive: null, certainty: "ask", words: `nothing tells whether positive is ${direction.join(" or ")}` };
}

/** The unit that a header states, in brackets or as its last words. */
function unitInHeader(header: string): Unit | null {
  const bracketed = [...header.matchAll(/[([]([^)\]]*)[)\]]/gu)].flatMap((match) => match[1]!.split(/[,;]/u));
  const parts = header.trim().split(/[\s_]+/u);
  const last = parts.length > 1 ? [parts.at(-1)!] : [];
  for (const text of [...bracketed, ...last]) {
    const unit = parseUnit(text.trim().replace(/\.$/u, ""));
    // A letter at the end may be a name: C, F and K are no units of a shot.
    if (unit !== undefined && isOfShots(unit)) return unit;
  }
  return null;
}

function unitsInValues(values: readonly Field[], sides: Sides | null): ReadonlySet<Unit> {
  const found = new Set<Unit>();
  for (const { text, decimal } of values) {
    const reading = readNumber(text, { decimal, decimalKnown: true, unit: null, sides, missing: missingTexts });
    if (reading.kind === "number" && reading.unit !== null && isOfShots(reading.unit)) found.add(reading.unit);
  }
  return found;
}

/** The words of a header that spell a unit. */
function spelt(header: string): readonly string[] {
  const parts = header.toLowerCase().split(/[\s_]+/u);
  const last = parts.at(-1) ?? "";
  return parts.length > 1 && parseUnit(last) !== undefined ? last.split(/[^\p{L}\p{N}#°%]+/u) : [];
}
