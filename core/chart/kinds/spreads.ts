import { formatShare } from "../../present/format-number";
import type { ChartKind, Option, OptionValues } from "../../query/vocabulary";
import type { EllipseKind, Point, PointCloud } from "../../stats/ellipses";
import { ellipseEdge, isFlat, leastEllipsePoints, pointCloud, squaredRadius } from "../../stats/ellipses";
import { minimumCovarianceDeterminant } from "../../stats/mcd";
import type { Chart, Table } from "../../table/table";
import { drawGround, groundNumbers } from "../ground";
import { groupOption, tooMany, whatGroups } from "../kind-options";

/** Every ellipse that can be asked for. */
const ellipseChoices = ["next shot", "population", "mean point", "robust"] as const;

type EllipseChoice = (typeof ellipseChoices)[number];

/** The option `ellipse`: what an ellipse is to hold. */
export const ellipseOption: Option = {
  kind: "choice",
  choices: ellipseChoices,
  required: false,
  help: 'What an ellipse holds: "next shot" with 95 % unless told; "population", about 95 % of all shots if centre and scatter were exact; "mean point", the mean with 95 %; "robust", about 95 % of the shots that most of them are like, far ones not counted.',
};

/** The ellipse asked for; the next shot's unless told. */
export function ellipseOf(options: OptionValues): EllipseChoice {
  return ellipseChoices.find((choice) => choice === options["ellipse"]) ?? "next shot";
}

/** Carry against offline with an ellipse for each group, by name: how much each scatters. */
export const spreads: ChartKind = {
  name: "spreads",
  help: {
    summary: "How much each group scatters: carry against offline with an ellipse that says what it holds.",
    example: 'chart.spreads(shots, { by: "head", ellipse: "next shot" })',
  },
  needs: groundNumbers,
  options: { by: groupOption, ellipse: ellipseOption },
  build: (table, options, context) =>
    tooMany(table, context) ??
    buildSpreads(table, whatGroups(table, options), { ellipse: ellipseOf(options), probability: 0.95, seed: context.seed, isLevelled: false }),
};

/** How the scatter of shots is drawn. */
export interface SpreadsPicture {
  readonly ellipse: EllipseChoice;
  /** What the ellipse holds, 0..1. */
  readonly probability: number;
  /** Of the search for the robust ellipse. */
  readonly seed: number;
  /** True for shots from which the drift of their session is taken out. */
  readonly isLevelled: boolean;
}

/** The picture of the columns `carry` and `offline` of a table of shots. */
export function buildSpreads(table: Table, by: string | null, { ellipse, probability, seed, isLevelled }: SpreadsPicture): Chart {
  let far = 0;
  const edgeOf = (points: readonly Point[]): Point[] | null => {
    if (points.length < leastEllipsePoints) return null;
    if (ellipse !== "robust") return edgeAround(pointCloud(points), ellipse, probability);
    const robust = minimumCovarianceDeterminant([points.map(({ x }) => x), points.map(({ y }) => y)], { seed });
    if (robust === null) return null;
    far += robust.far.length;
    const [[xx, xy], [, yy]] = robust.covariance as unknown as readonly [readonly [number, number], readonly [number, number]];
    return edgeAround({ n: points.length, centre: { x: robust.centre[0]!, y: robust.centre[1]! }, xx, xy, yy }, "population", probability);
  };
  return drawGround(table, by, {
    title: "How the shots scatter",
    edgeOf,
    ellipses: ellipseInWords(ellipse, probability),
    notes: (bare) => [
      ellipse === "robust" && far > 0 ? `${far} far ${far === 1 ? "shot is" : "shots are"} drawn and ${far === 1 ? "does" : "do"} not count for ${bare.length === 0 ? "the ellipses" : "an ellipse"}.` : "",
      bare.length === 0 ? "" : `No ellipse${bare.join("") === "" ? "" : ` for ${bare.join(", ")}`}: fewer than ${leastEllipsePoints} shots, or shots on a line.`,
      isLevelled ? "The drift of the session is taken out." : "",
    ],
  });
}

function edgeAround(cloud: PointCloud, kind: EllipseKind, probability: number): Point[] | null {
  return isFlat(cloud) ? null : ellipseEdge(cloud, squaredRadius(kind, cloud.n, probability));
}

function ellipseInWords(ellipse: EllipseChoice, probability: number): string {
  const share = formatShare(probability);
  switch (ellipse) {
    case "population":
      return `Each ellipse holds about ${share} of all shots (if centre and scatter were exact).`;
    case "next shot":
      return `Each ellipse holds the next shot with ${share}.`;
    case "mean point":
      return `Each ellipse holds the mean point with ${share}.`;
    case "robust":
      return `Each ellipse is robust (minimum covariance determinant): it holds about ${share} of shots that fall as most of these do.`;
  }
}
