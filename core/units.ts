/** A kind of quantity: what decides which unit a notebook shows it in. */
export type Quantity =
  | "speed"
  | "distance"
  | "height"
  | "angle"
  | "spin"
  | "face distance"
  | "time"
  | "temperature"
  | "pressure"
  | "share"
  | "club length"
  | "mass"
  | "sound level";

interface UnitFacts {
  readonly quantity: Quantity;
  /** SI value = value × factor + offset. */
  readonly factor: number;
  readonly offset?: number;
  /** Other spellings accepted in files; matched without regard to case. */
  readonly also: readonly string[];
  readonly source: string;
}

const sp811 = "NIST SP 811 (2008), Appendix B.8";

/**
 * Every unit a column, a session or an option may have, with its exact factor to SI.
 *
 * Radians are the coherent unit of angle, seconds of time, and a share of 1 of per cent.
 */
export const units = {
  "m/s": { quantity: "speed", factor: 1, also: ["mps", "m/sec", "ms-1"], source: "SI" },
  "km/h": { quantity: "speed", factor: 1 / 3.6, also: ["kmh", "kph", "km/hr"], source: sp811 },
  mph: { quantity: "speed", factor: 0.44704, also: ["mi/h", "miles/h"], source: sp811 },
  "ft/s": { quantity: "speed", factor: 0.3048, also: ["fps", "ft/sec"], source: sp811 },
  m: { quantity: "distance", factor: 1, also: ["meter", "meters", "metre", "metres"], source: "SI" },
  yd: { quantity: "distance", factor: 0.9144, also: ["yds", "yard", "yards"], source: sp811 },
  ft: { quantity: "height", factor: 0.3048, also: ["feet", "foot"], source: sp811 },
  mm: { quantity: "face distance", factor: 0.001, also: ["millimetre", "millimeter"], source: "SI" },
  cm: { quantity: "face distance", factor: 0.01, also: ["centimetre", "centimeter"], source: "SI" },
  in: { quantity: "club length", factor: 0.0254, also: ["inch", "inches", '"'], source: sp811 },
  deg: { quantity: "angle", factor: Math.PI / 180, also: ["°", "degree", "degrees", "º"], source: sp811 },
  rad: { quantity: "angle", factor: 1, also: ["radian", "radians"], source: "SI" },
  rpm: { quantity: "spin", factor: (2 * Math.PI) / 60, also: ["r/min", "rev/min", "1/min"], source: sp811 },
  "rad/s": { quantity: "spin", factor: 1, also: [], source: "SI" },
  rps: { quantity: "spin", factor: 2 * Math.PI, also: ["rev/s"], source: sp811 },
  s: { quantity: "time", factor: 1, also: ["sec", "second", "seconds"], source: "SI" },
  ms: { quantity: "time", factor: 0.001, also: ["msec"], source: "SI" },
  degC: { quantity: "temperature", factor: 1, offset: 273.15, also: ["°C", "C", "celsius"], source: sp811 },
  degF: { quantity: "temperature", factor: 5 / 9, offset: 459.67 * (5 / 9), also: ["°F", "F", "fahrenheit"], source: sp811 },
  K: { quantity: "temperature", factor: 1, also: ["kelvin"], source: "SI" },
  Pa: { quantity: "pressure", factor: 1, also: [], source: "SI" },
  hPa: { quantity: "pressure", factor: 100, also: ["mbar", "millibar"], source: sp811 },
  kPa: { quantity: "pressure", factor: 1000, also: [], source: "SI" },
  inHg: { quantity: "pressure", factor: 3386.389, also: ["in Hg"], source: `${sp811}, conventional inch of mercury` },
  "%": { quantity: "share", factor: 0.01, also: ["percent", "per cent", "pct"], source: "SI brochure, 5.4.7" },
  g: { quantity: "mass", factor: 0.001, also: ["gram", "grams"], source: "SI" },
  kg: { quantity: "mass", factor: 1, also: [], source: "SI" },
  dB: { quantity: "sound level", factor: 1, also: ["dBFS", "dBA"], source: "logarithmic; not converted" },
} as const satisfies Record<string, UnitFacts>;

/** The name of a unit. */
export type Unit = keyof typeof units;

/** The unit systems a notebook may ask for. */
export type UnitSystem = "yd-mph" | "m-kmh" | "m-ms";

/** All unit systems, the default first. */
export const unitSystems: readonly UnitSystem[] = ["yd-mph", "m-kmh", "m-ms"];

/** Lengths of every sort convert into one another; other quantities only among themselves. */
const dimension: Record<Quantity, string> = {
  speed: "speed",
  distance: "length",
  height: "length",
  "face distance": "length",
  "club length": "length",
  angle: "angle",
  spin: "rate of spin",
  time: "time",
  temperature: "temperature",
  pressure: "pressure",
  share: "share",
  mass: "mass",
  "sound level": "sound level",
};

const shownIn: Record<Quantity, Record<UnitSystem, Unit>> = {
  speed: { "yd-mph": "mph", "m-kmh": "km/h", "m-ms": "m/s" },
  distance: { "yd-mph": "yd", "m-kmh": "m", "m-ms": "m" },
  height: { "yd-mph": "ft", "m-kmh": "m", "m-ms": "m" },
  "face distance": { "yd-mph": "mm", "m-kmh": "mm", "m-ms": "mm" },
  "club length": { "yd-mph": "in", "m-kmh": "in", "m-ms": "in" },
  angle: { "yd-mph": "deg", "m-kmh": "deg", "m-ms": "deg" },
  spin: { "yd-mph": "rpm", "m-kmh": "rpm", "m-ms": "rpm" },
  time: { "yd-mph": "s", "m-kmh": "s", "m-ms": "s" },
  temperature: { "yd-mph": "degF", "m-kmh": "degC", "m-ms": "degC" },
  pressure: { "yd-mph": "hPa", "m-kmh": "hPa", "m-ms": "hPa" },
  share: { "yd-mph": "%", "m-kmh": "%", "m-ms": "%" },
  mass: { "yd-mph": "g", "m-kmh": "g", "m-ms": "g" },
  "sound level": { "yd-mph": "dB", "m-kmh": "dB", "m-ms": "dB" },
};

const spellings: ReadonlyMap<string, Unit> = new Map(
  (Object.keys(units) as Unit[]).flatMap((unit) =>
    [unit as string, ...units[unit].also].map((word) => [word.toLowerCase(), unit] as const),
  ),
);

/** The unit in which a notebook of the given system shows a quantity. */
export function unitFor(quantity: Quantity, system: UnitSystem): Unit {
  return shownIn[quantity][system];
}

/** The unit that `text` spells, in any accepted spelling; `undefined` when none does. */
export function parseUnit(text: string): Unit | undefined {
  const word = text.trim();
  if (Object.hasOwn(units, word)) return word as Unit;
  return spellings.get(word.toLowerCase());
}

/** Units in which the same can be written as in `unit`: itself, those for the same quantity, then any that convert; three at most. */
export function unitsBeside(unit: Unit): readonly Unit[] {
  const all = (Object.keys(units) as Unit[]).filter((other) => isConvertible(other, unit));
  const own = all.filter((other) => units[other].quantity === units[unit].quantity);
  return [...new Set([unit, ...own, ...all])].slice(0, 3);
}

/** What the unit measures, in words: `a length`, `an angle`. */
export function measuredBy(unit: Unit): string {
  const what = dimension[units[unit].quantity];
  return `${/^[aeiou]/.test(what) ? "an" : "a"} ${what}`;
}

/** True when values in `a` can be converted to `b`. */
export function isConvertible(a: Unit, b: Unit): boolean {
  return dimension[units[a].quantity] === dimension[units[b].quantity];
}

/**
 * `value` converted from one unit to another; `NaN` stays `NaN`.
 *
 * @throws {RangeError} when the two units measure different things.
 * Source of the factors: NIST SP 811 (2008), Appendix B.8; the SI brochure.
 * @example convert(1, "mph", "m/s") // 0.44704
 */
export function convert(value: number, from: Unit, to: Unit): number {
  if (from === to) return value;
  if (!isConvertible(from, to)) throw new RangeError(`cannot convert ${from} to ${to}`);
  const a: UnitFacts = units[from];
  const b: UnitFacts = units[to];
  return (value * a.factor + (a.offset ?? 0) - (b.offset ?? 0)) / b.factor;
}

/** A *difference* converted from one unit to another: offsets of scales (temperature) do not count. */
export function convertDifference(value: number, from: Unit, to: Unit): number {
  if (from === to) return value;
  if (!isConvertible(from, to)) throw new RangeError(`cannot convert ${from} to ${to}`);
  return (value * units[from].factor) / units[to].factor;
}

/** A number with its unit. */
export interface Measure {
  readonly value: number;
  readonly unit: Unit;
}

/** Reads `3 yd`, `-9 mm`, `0.5 %` or `21 degC`; `undefined` when the text is not a number and a known unit. */
export function parseMeasure(text: string): Measure | undefined {
  const match = /^\s*([-+\u2212]?\d+(?:\.\d+)?)\s*(\S.*?)\s*$/u.exec(text);
  if (!match) return undefined;
  const unit = parseUnit(match[2]!);
  const value = Number(match[1]!.replace("\u2212", "-"));
  return unit === undefined || !Number.isFinite(value) ? undefined : { value, unit };
}
