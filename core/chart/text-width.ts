/** Widths in thousandths of the size of the type, of a common sans serif; rounded up. From memory of Helvetica's metrics. */
const widths: readonly (readonly [characters: string, width: number])[] = [
  ["ijl'|\u2019", 235],
  [" !,.:;/\\fIt[]()·", 295],
  ["rJ-\u2010\u2011{}\"*°", 370],
  ["csvxyzk", 515],
  ["FLTZ", 625],
  ["ABEKPSVXY&", 675],
  ["CDGHNORQUw", 735],
  ["mMW", 870],
  ["%@←→", 960],
];

/** The type at hand may be wider than the one the widths are of; a cut label is worse than a little space. */
const wider = 1.1;

const byCharacter: ReadonlyMap<string, number> = new Map(widths.flatMap(([characters, width]) => Array.from(characters, (c) => [c, width] as const)));

/**
 * Pixels that a line of text takes, estimated without a screen; bold type counts 7 % more.
 *
 * Characters that are not listed count as a digit does, wide East Asian ones and symbols as a whole em.
 */
export function textWidth(text: string, size: number, isBold = false): number {
  let width = 0;
  for (const character of text) width += byCharacter.get(character) ?? (character.codePointAt(0)! < 0x1100 ? 565 : 1000);
  return (width / 1000) * size * (isBold ? 1.07 : 1) * wider;
}
