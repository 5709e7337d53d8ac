import type { DecimalMark } from "../table/delimited-text";
import { readNumber, type Sides } from "../table/read-number";
import { sideLetters } from "../table/side-letters";

/** What exports write for the two directions of a column. */
interface WrittenSides {
  /** The directions, positive first. */
  readonly direction: readonly [string, string];
  /** What stands for them in the export. */
  readonly sides: Sides;
  /** As an answer has it, in the order of `sideLetters`: `L/R`, `I/D`. */
  readonly text: string;
}

/** Words for directions, positive first, then letters or words that exports write for them; from common use, no source. */
const table: readonly { readonly direction: readonly [string, string]; readonly written: readonly (readonly [string, string])[] }[] = [
  { direction: ["right", "left"], written: [["R", "L"], ["D", "I"], ["D", "G"], ["right", "left"], ["rechts", "links"], ["derecha", "izquierda"], ["droite", "gauche"]] },
  { direction: ["toe", "heel"], written: [["T", "H"], ["S", "F"], ["P", "T"], ["toe", "heel"], ["Spitze", "Ferse"], ["punta", "talón"], ["pointe", "talon"]] },
  { direction: ["high", "low"], written: [["H", "L"], ["H", "T"], ["A", "B"], ["H", "B"], ["high", "low"], ["hoch", "tief"], ["alto", "bajo"], ["haut", "bas"]] },
  { direction: ["up", "down"], written: [["U", "D"], ["A", "B"], ["H", "B"], ["up", "down"], ["auf", "ab"], ["arriba", "abajo"], ["haut", "bas"]] },
];

const all: readonly WrittenSides[] = table.flatMap(({ direction, written }) =>
  written.map(([positive, negative]) => ({ direction, sides: { positive, negative }, text: direction[0] === "right" ? `${negative}/${positive}` : `${positive}/${negative}` })),
);

/** What may stand beside numbers for their sides, each as an answer has it, with what it tells. */
export const sideTexts: readonly { readonly text: string; readonly direction: readonly [string, string] }[] = all.map(({ text, direction }) => ({ text, direction }));

/** One value as it stands in an export. */
export interface Field {
  readonly text: string;
  readonly decimal: DecimalMark;
}

/** Sides that values may be written with. */
export interface FoundSides extends WrittenSides {
  /** True when both sides occur, or the words are the first letters of ours. */
  readonly isTold: boolean;
}

/**
 * The sides that a column's values are written with: those with which nearly all of them are numbers; those first that are
 * told, of which both occur. The same letters may be of several directions.
 *
 * @param share of the values that have to be numbers.
 * @returns empty where numbers have no sides.
 */
export function sidesIn(values: readonly Field[], missing: ReadonlySet<string>, share: number): readonly FoundSides[] {
  if (!values.some(({ text }) => /^\s*(?:[\d.,\s°]+\p{L}+|\p{L}+[\d.,\s]+)/u.test(text))) return [];
  const words = new Set(values.flatMap(({ text }) => text.toLowerCase().match(/\p{L}+/gu) ?? []));
  const found = all.flatMap((each) => {
    if (!words.has(each.sides.positive.toLowerCase()) && !words.has(each.sides.negative.toLowerCase())) return [];
    let [numbers, positive, negative] = [0, 0, 0];
    for (const { text, decimal } of values) {
      const reading = readNumber(text, { decimal, decimalKnown: true, unit: null, sides: each.sides, missing });
      if (reading.kind !== "number") continue;
      numbers++;
      if (reading.value > 0) positive++;
      else if (reading.value < 0) negative++;
    }
    if (positive + negative === 0 || numbers < share * values.length) return [];
    const both = positive > 0 && negative > 0;
    const isOurs = each.text === sideLetters(each.direction) || each.direction.includes(each.sides.positive);
    return [{ ...each, isTold: both || isOurs, both, rank: both ? 0 : isOurs ? 1 : 2 }];
  });
  // Letters of which both occur leave no doubt between these and others of the same direction.
  const settled = found.filter((each) => each.both || !found.some((other) => other.both && other.direction[0] === each.direction[0]));
  return settled.toSorted((one, other) => one.rank - other.rank);
}

/** What an answer's text for the sides of a column means there; `null` for letters that do not tell its directions. */
export function sidesOfText(text: string, direction: readonly [string, string]): Sides | null {
  const parts = text.split("/").map((part) => part.trim());
  const inOrder = direction[0] === "right" ? parts.toReversed() : parts;
  const known = all.find((each) => each.direction[0] === direction[0] && same(each.sides.positive, inOrder[0]) && same(each.sides.negative, inOrder[1]));
  return parts.length === 2 ? (known?.sides ?? null) : null;
}

function same(left: string, right: string | undefined): boolean {
  return left.toLowerCase() === right?.toLowerCase();
}
