import type { ChartKind } from "../../query/vocabulary";
import { headDefaults } from "../../session/head-defaults";
import { headKindOf } from "../../session/head-kind";
import type { CentreZone, HeadKind } from "../../session/session-facts";
import type { Chart, Table } from "../../table/table";
import type { ChartSpec } from "../fit-spec";
import { emptyChart, extent, groupChannels, groupsInWords, leftOut, makeChart, ofDerived, titled, tooltips, withoutLegends } from "../chart-parts";
import type { Drawn, Group } from "../drawn-rows";
import { drawnRows, numbersOf } from "../drawn-rows";
import type { Point } from "../ellipse";
import { meanPoint, nextPointEllipse } from "../ellipse";
import { chord, faceOutline, strikeCross } from "../face-outline";
import { fieldName, groupField, inWords } from "../field-name";
import { pooledInWords, pooledShots } from "../pooled-shots";
import { groupOption, tooMany, tooManyPanels, whatGroups } from "../kind-options";

const numbers = ["strike_x", "strike_y"] as const;

/** Where the face was hit: one sketched face a group, seen from in front, with its strike reference at 0. */
export const strikes: ChartKind = {
  name: "strikes",
  help: {
    summary: "Where the face was hit, one face a group, with the mean strike and the ellipse that holds the next one with 95 %.",
    example: 'chart.strikes(shots, { by: "head" })',
  },
  needs: numbers,
  options: { by: groupOption },
  build: (table, options, context) => {
    const by = whatGroups(table, options);
    const drawn = drawnRows(table, { numbers, by, also: ["session", "shot", "head", "zone"] });
    return tooMany(table, context) ?? tooManyPanels(drawn.groups.length, context) ?? buildStrikes(table, drawn, by);
  },
};

/** One group with what is drawn of it. */
interface Panel {
  readonly group: Group;
  readonly points: readonly Point[];
  readonly mean: Point;
  readonly edge: readonly Point[];
  readonly outline: readonly Point[];
  readonly zone: CentreZone;
}

interface Face {
  readonly isRightHanded: boolean;
  readonly across: readonly [number, number];
  readonly up: readonly [number, number];
}

function buildStrikes(table: Table, drawn: Drawn, by: string | null): Chart {
  const title = by === null ? "Where the face was hit" : `Where the face was hit, by ${inWords(by)}`;
  const missing = leftOut(drawn, numbers);
  if (drawn.table.rowCount === 0) return emptyChart(title, missing === "" ? "There are no strikes." : missing, drawn.table);

  const x = numbersOf(drawn.table, "strike_x");
  const y = numbersOf(drawn.table, "strike_y");
  const pooled = pooledShots(drawn);
  const panels = drawn.groups.map((group): Panel => {
    const points = group.rows.map((row) => ({ x: x.values[row]!, y: y.values[row]! }));
    const kind = headKindOf(table.sessions, by === "head" ? group.label : null);
    return { group, points, mean: meanPoint(points), edge: pooled.groups.has(group.label) ? [] : (nextPointEllipse(points) ?? []), outline: faceOutline(kind), zone: zoneOf(table, kind) };
  });
  const face = faceOf(table, panels);
  const hand = face.isRightHanded ? "right-hander's face, toe on the left" : "left-hander's face, toe on the right";
  const spec = {
    title: titled(
      title,
      table,
      `Seen from in front: a ${hand}. The outline is a sketch; the cross is the strike reference, the lines bound the zones.`,
      panels.some((panel) => panel.edge.length > 0) ? "Outlined marks: means. Ellipses hold the next strike with 95 %." : "Outlined marks: means.",
      ...pooledInWords(pooled),
      missing,
    ),
    concat: panels.map((panel) => facePanel(panel, face, drawn, by)),
    columns: Math.min(3, panels.length),
    resolve: { scale: { color: "shared", shape: "shared" } },
  };
  const heightPerWidth = (face.up[1] - face.up[0]) / (face.across[1] - face.across[0]);
  return makeChart(spec, { heightPerWidth, tallest: 360, panelWidth: 230 }, drawn.table, [
    `Where the face was hit in ${drawn.table.rowCount} ${drawn.noun}${by === null ? "" : `, by ${inWords(by)}: ${groupsInWords(drawn)}`}.`,
    ...panels.map(({ group, mean }) => `${group.label === "" ? "Mean" : group.label}: ${inDirection(mean.x, "toe", "heel", "across")} and ${inDirection(mean.y, "high", "low", "in height")} on average.`),
    ...pooledInWords(pooled),
    missing,
  ]);
}

function facePanel({ group, mean, edge, outline, zone }: Panel, face: Face, drawn: Drawn, by: string | null): ChartSpec {
  const [left, right] = face.isRightHanded ? ["toe", "heel"] : ["heel", "toe"];
  const x = {
    field: "x", type: "quantitative", title: `← ${left} · strike x (mm) · ${right} →`,
    scale: { domain: face.across, nice: false, zero: false, reverse: face.isRightHanded },
    axis: { grid: false },
  };
  const y = {
    field: "y", type: "quantitative", title: "strike y (mm)",
    scale: { domain: face.up, nice: false, zero: false },
    axis: { grid: false },
  };
  // The panels' titles name the groups, so that no legend is needed.
  const channels = withoutLegends(groupChannels(drawn, by));
  const named = { [groupField]: group.label };
  const ordered = (points: readonly Point[]): object[] => points.map((point, order) => ({ ...named, ...point, order }));
  const ofGroup = ofDerived(channels);
  const { color } = ofGroup;
  return {
    ...(group.label === "" ? {} : { title: { text: `${group.label} (${group.rows.length})`, fontSize: 12, anchor: "middle", offset: 4 } }),
    layer: [
      {
        data: { values: ordered(outline) },
        mark: { type: "line", style: "outline", interpolate: "cardinal", tension: 0.2, filled: true },
        encoding: { x, y, order: { field: "order" } },
      },
      ...zoneLines(outline, zone, x, y),
      ...strikeCross(x, y),
      {
        data: { values: ordered(edge) },
        mark: { type: "line", style: "group line" },
        encoding: { x, y, order: { field: "order" }, ...(color === undefined ? {} : { color }) },
      },
      {
        ...(drawn.by === null || drawn.groups.length < 2 ? {} : { transform: [{ filter: { field: fieldName(drawn.by), equal: group.label } }] }),
        mark: { type: "point" },
        encoding: { x: { ...x, field: "strike_x" }, y: { ...y, field: "strike_y" }, ...channels, tooltip: tooltips(drawn.table) },
      },
      {
        data: { values: [{ ...named, ...mean }] },
        mark: { type: "point", style: "mean", size: 150 },
        encoding: { x, y, ...ofGroup },
      },
    ],
  };
}

/** The lines that part the face into its nine zones. */
function zoneLines(outline: readonly Point[], zone: CentreZone, x: ChartSpec, y: ChartSpec): ChartSpec[] {
  const upright = [-zone.halfWidth, zone.halfWidth].flatMap((at) => {
    const ends = chord(outline, "x", at);
    return ends === null ? [] : [{ x: at, y: ends[0], to: ends[1] }];
  });
  const level = [-zone.halfHeight, zone.halfHeight].flatMap((at) => {
    const ends = chord(outline, "y", at);
    return ends === null ? [] : [{ x: ends[0], to: ends[1], y: at }];
  });
  const mark = { type: "rule", style: "grid" };
  return [
    { data: { values: level }, mark, encoding: { x, x2: { field: "to" }, y } },
    { data: { values: upright }, mark, encoding: { x, y, y2: { field: "to" } } },
  ];
}

function zoneOf(table: Table, kind: HeadKind): CentreZone {
  return table.sessions.find((session) => session.centreZones !== undefined)?.centreZones?.[kind] ?? headDefaults[kind].centreZone;
}

function faceOf(table: Table, panels: readonly Panel[]): Face {
  const shown = panels.flatMap((panel) => [...panel.outline, ...panel.points, ...panel.edge]);
  const reach = (values: readonly number[]): [number, number] => {
    const [least, most] = extent(values);
    return [least - 4, most + 4];
  };
  return {
    isRightHanded: table.sessions.every((session) => session.hand === "right" || session.mirrored === true),
    across: reach(shown.map((point) => point.x)),
    up: reach(shown.map((point) => point.y)),
  };
}

/** `1.2 mm toe`; what is shown as 0 lies on neither side and is said to be along `neither`. */
function inDirection(value: number, positive: string, negative: string, neither: string): string {
  const size = Math.abs(value).toFixed(1);
  return `${size} mm ${Number(size) === 0 ? neither : value < 0 ? negative : positive}`;
}
