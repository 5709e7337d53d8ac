import type { ChartKind } from "../../query/vocabulary";
import type { HeadKind } from "../../session/session-facts";
import type { Chart, Table } from "../../table/table";
import type { ChartSpec } from "../fit-spec";
import { emptyChart, extent, groupChannels, groupsInWords, leftOut, makeChart, titled, tooltips } from "../chart-parts";
import type { Drawn, Group } from "../drawn-rows";
import { drawnRows, numbersOf } from "../drawn-rows";
import type { Point } from "../ellipse";
import { meanPoint, nextPointEllipse } from "../ellipse";
import { faceOutline } from "../face-outline";
import { fieldName, inWords } from "../field-name";
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

interface Face {
  readonly isRightHanded: boolean;
  readonly outline: readonly Point[];
  readonly across: readonly [number, number];
  readonly up: readonly [number, number];
}

function buildStrikes(table: Table, drawn: Drawn, by: string | null): Chart {
  const title = by === null ? "Where the face was hit" : `Where the face was hit, by ${inWords(by)}`;
  const missing = leftOut(drawn, numbers);
  if (drawn.table.rowCount === 0) return emptyChart(title, missing === "" ? "There are no strikes." : missing, drawn.table);

  const x = numbersOf(drawn.table, "strike_x");
  const y = numbersOf(drawn.table, "strike_y");
  const panels = drawn.groups.map((group) => {
    const points = group.rows.map((row) => ({ x: x.values[row]!, y: y.values[row]! }));
    return { group, mean: meanPoint(points), edge: nextPointEllipse(points) ?? [] };
  });
  const face = faceOf(table, [...x.values.keys()].map((row) => ({ x: x.values[row]!, y: y.values[row]! })));
  const hand = face.isRightHanded ? "right-hander's face, toe on the left" : "left-hander's face, toe on the right";
  const spec = {
    title: titled(
      title,
      table,
      `Seen from in front: a ${hand}. The outline is a sketch; the cross is the strike reference.`,
      panels.some((panel) => panel.edge.length > 0) ? "Outlined marks: means. Ellipses hold the next strike with 95 %." : "Outlined marks: means.",
      missing,
    ),
    concat: panels.map((panel) => facePanel(panel, face, drawn, by)),
    columns: Math.min(3, panels.length),
    resolve: { scale: { color: "shared", shape: "shared" } },
  };
  const heightPerWidth = (face.up[1] - face.up[0]) / (face.across[1] - face.across[0]);
  return makeChart(spec, { heightPerWidth, tallest: 360, panelWidth: 230 }, drawn.table, [
    `Where the face was hit in ${drawn.table.rowCount} ${drawn.noun}${by === null ? "" : `, by ${inWords(by)}: ${groupsInWords(drawn)}`}.`,
    ...panels.map(({ group, mean }) => `${group.label === "" ? "Mean" : group.label}: ${inDirection(mean.x, "toe", "heel")} and ${inDirection(mean.y, "high", "low")} on average.`),
    missing,
  ]);
}

function facePanel(panel: { readonly group: Group; readonly mean: Point; readonly edge: readonly Point[] }, face: Face, drawn: Drawn, by: string | null): ChartSpec {
  const { group, mean, edge } = panel;
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
  const channels = withoutLegends(groupChannels(drawn, by));
  const named = by === null ? {} : { [fieldName(by)]: group.label };
  const ordered = (points: readonly Point[]): object[] => points.map((point, order) => ({ ...named, ...point, order }));
  const { color } = channels;
  return {
    ...(group.label === "" ? {} : { title: { text: `${group.label} (${group.rows.length})`, fontSize: 12, anchor: "middle", offset: 4 } }),
    layer: [
      {
        data: { values: ordered(face.outline) },
        mark: { type: "line", style: "outline", interpolate: "cardinal", tension: 0.2, filled: true },
        encoding: { x, y, order: { field: "order" } },
      },
      ...referenceCross(x, y),
      {
        data: { values: ordered(edge) },
        mark: { type: "line", style: "group line" },
        encoding: { x, y, order: { field: "order" }, ...(color === undefined ? {} : { color }) },
      },
      {
        ...(by === null || drawn.groups.length < 2 ? {} : { transform: [{ filter: { field: fieldName(by), equal: group.label } }] }),
        mark: { type: "point" },
        encoding: { x: { ...x, field: "strike_x" }, y: { ...y, field: "strike_y" }, ...channels, tooltip: tooltips(drawn.table) },
      },
      {
        data: { values: [{ ...named, ...mean }] },
        mark: { type: "point", style: "mean", size: 150 },
        encoding: { x, y, ...channels },
      },
    ],
  };
}

/** A cross at the strike reference, long enough to be seen below the marks. */
function referenceCross(x: ChartSpec, y: ChartSpec): ChartSpec[] {
  const arm = 10;
  const line = { type: "rule", style: "grid", strokeOpacity: 0.7 };
  return [
    { data: { values: [{ x: -arm, to: arm, y: 0 }] }, mark: line, encoding: { x, x2: { field: "to" }, y } },
    { data: { values: [{ x: 0, y: -arm, to: arm }] }, mark: line, encoding: { x, y, y2: { field: "to" } } },
  ];
}

/** The panels' titles name the groups, so that no legend is needed. */
function withoutLegends(channels: ChartSpec): ChartSpec {
  return Object.fromEntries(Object.entries(channels).map(([channel, definition]) => [channel, { ...(definition as object), legend: null }]));
}

function faceOf(table: Table, points: readonly Point[]): Face {
  const kinds = new Set(table.sessions.flatMap((session) => session.heads.map((head): HeadKind => head.kind)));
  const kind = kinds.size === 1 ? [...kinds][0]! : "iron";
  const outline = faceOutline(kind);
  const reach = (values: readonly number[]): [number, number] => {
    const [least, most] = extent(values);
    return [least - 5, most + 5];
  };
  return {
    isRightHanded: table.sessions.length === 0 || table.sessions.some((session) => session.hand === "right"),
    outline,
    across: reach([...outline, ...points].map((point) => point.x)),
    up: reach([...outline, ...points].map((point) => point.y)),
  };
}

function inDirection(value: number, positive: string, negative: string): string {
  return `${Math.abs(value).toFixed(1)} mm ${value < 0 ? negative : positive}`;
}
