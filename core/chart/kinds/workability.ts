import type { ChartKind } from "../../query/vocabulary";
import { linearRegression } from "../../stats/linear-regression";
import type { Chart, Table } from "../../table/table";
import { acrossTitle, columnTitle, emptyChart, extent, groupChannels, groupsInWords, leftOut, legendLabel, makeChart, ofDerived, ownLegends, rangeInWords, titled, tooltips, withoutLegends } from "../chart-parts";
import type { Drawn } from "../drawn-rows";
import { drawnRows, numbersOf } from "../drawn-rows";
import { groupField, harmless, inWords } from "../field-name";
import { pooledShots } from "../pooled-shots";
import { groupOption, tooMany, whatGroups } from "../kind-options";

const numbers = ["face_to_path", "spin_axis"] as const;

/** Spin axis against face-to-path with a line for each group: the picture of `workability`. */
export const workability: ChartKind = {
  name: "workability",
  help: {
    summary: "Spin axis against face-to-path, shot by shot, with each group's line: the steeper it is, the more a head curves for the same delivery.",
    example: 'chart.workability(shots, { by: "head" })',
  },
  needs: numbers,
  options: { by: groupOption },
  build: (table, options, context) => tooMany(table, context) ?? buildWorkability(table, whatGroups(table, options)),
};

/** The line of one group. */
export interface GroupLine {
  readonly label: string;
  /** The spin axis that is expected at a face-to-path, both in the unit of their columns. */
  readonly valueAt: (along: number) => number;
}

/**
 * The picture of the shots of `table` with a line a group, drawn as far as the group's face-to-path goes.
 *
 * @param lines those of a model that takes out more than a picture can; least squares of the points unless given.
 */
export function buildWorkability(table: Table, by: string | null, lines?: readonly GroupLine[]): Chart {
  const drawn = drawnRows(table, { numbers, by, also: ["session", "shot", "head"] });
  const title = `Spin axis against face to path${by === null ? "" : `, by ${inWords(by)}`}`;
  const missing = leftOut(drawn, numbers);
  if (drawn.table.rowCount === 0) return emptyChart(title, missing === "" ? "There are no shots." : missing, drawn.table);

  const [along, axis] = [numbersOf(drawn.table, "face_to_path"), numbersOf(drawn.table, "spin_axis")];
  const pooled = pooledShots(drawn);
  const together = [pooled.players, pooled.repeats];
  const ends = drawn.groups.flatMap((group) => (pooled.groups.has(group.label) ? [] : endsOf(drawn, group, lines ?? null)));
  const channels = groupChannels(drawn, by);
  const { color } = ofDerived(withoutLegends(channels));
  const x = { type: "quantitative", scale: { domain: frame([...along.values]), nice: false, zero: false }, title: acrossTitle(along) };
  const y = { type: "quantitative", scale: { domain: frame([...axis.values, ...ends.map((end) => end.y)]), nice: false, zero: false }, title: `${columnTitle(axis)}, right +` };
  const zero = { data: { values: [{ at: 0 }] }, mark: { type: "rule", style: "grid" } };
  const spec = {
    title: titled(title, table, lineNote(ends.length > 0, lines !== undefined), ...together, missing),
    height: 300,
    layer: [
      { ...zero, encoding: { x: { ...x, field: "at" } } },
      { ...zero, encoding: { y: { ...y, field: "at" } } },
      {
        mark: { type: "point" },
        encoding: { x: { ...x, field: "face_to_path" }, y: { ...y, field: "spin_axis" }, ...channels, tooltip: tooltips(drawn.table) },
      },
      {
        data: { values: ends },
        mark: { type: "line", style: "group line", strokeWidth: 2.5 },
        encoding: {
          x: { ...x, field: "x" },
          y: { ...y, field: "y" },
          ...(color === undefined ? {} : { color, strokeDash: color }),
        },
      },
    ],
    resolve: ownLegends,
  };
  return makeChart(spec, { legendLabel: legendLabel(drawn) }, drawn.table, [
    `Spin axis against face to path of ${drawn.table.rowCount} ${drawn.noun}${by === null || drawn.groups.length < 2 ? "" : `, by ${inWords(by)}: ${groupsInWords(drawn)}`}.`,
    `Face to path ${rangeInWords(along)}, spin axis ${rangeInWords(axis)} (positive is right).`,
    slopesInWords(ends),
    ...together,
    missing,
  ]);
}

interface LineEnd {
  readonly x: number;
  readonly y: number;
  readonly [group: string]: number | string;
}

/** Both ends of the line of one group; none for a group without a line. */
function endsOf(drawn: Drawn, group: Drawn["groups"][number], lines: readonly GroupLine[] | null): readonly LineEnd[] {
  const along = numbersOf(drawn.table, "face_to_path");
  const own = Float64Array.from(group.rows, (row) => along.values[row]!);
  const line = lines === null ? leastSquares(drawn, group.rows, own) : lines.find((each) => harmless(each.label) === group.label)?.valueAt;
  if (line === undefined) return [];
  const [from, to] = extent(own);
  return from === to ? [] : [from, to].map((at) => ({ [groupField]: group.label, x: at, y: line(at) }));
}

function leastSquares(drawn: Drawn, rows: readonly number[], along: Float64Array): GroupLine["valueAt"] | undefined {
  const axis = numbersOf(drawn.table, "spin_axis");
  const fit = rows.length < 3 ? null : linearRegression([along.map(() => 1), along], Float64Array.from(rows, (row) => axis.values[row]!));
  return fit === null ? undefined : (at) => fit.coefficients[0]! + fit.coefficients[1]! * at;
}

function lineNote(areThere: boolean, areOfModel: boolean): string {
  if (!areThere) return "";
  return areOfModel ? "Lines: what is expected half-way through the session, for a strike at the mean." : "Lines: least squares; the strike is not taken out.";
}

/** How steep each line is, as a number in words. */
function slopesInWords(ends: readonly LineEnd[]): string {
  const slopes: string[] = [];
  for (let i = 0; i + 1 < ends.length; i += 2) {
    const [from, to] = [ends[i]!, ends[i + 1]!];
    const name = from[groupField] === "" ? "" : `${from[groupField]!} `;
    slopes.push(`${name}${((to.y - from.y) / (to.x - from.x)).toFixed(1).replace("-", "\u2212")}`);
  }
  return slopes.length === 0 ? "" : `Degrees of spin axis for a degree of face to path: ${slopes.join(", ")}.`;
}

function frame(values: readonly number[]): readonly [number, number] {
  const [least, most] = extent(values);
  const pad = (most - least) * 0.06 || 1;
  return [least - pad, most + pad];
}
