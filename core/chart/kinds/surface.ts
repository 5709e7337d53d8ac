import { digitsAsStated, formatMeasure, formatNumber, unitLabel } from "../../present/format-number";
import type { ChartKind } from "../../query/vocabulary";
import { headKindOf, standardMissOf } from "../../session/head-kind";
import type { StandardMiss } from "../../session/session-facts";
import type { LossModel } from "../../stats/loss-model";
import { fitLossModel, headShots, leastForLosses, lossAt, toldAt } from "../../stats/loss-model";
import type { ShotData } from "../../stats/shot-data";
import { schemaOf } from "../../table/schema";
import type { Chart, Column, NumberColumn, Table } from "../../table/table";
import { findColumn, makeTable, numberColumn, takeRows } from "../../table/table";
import { byOption, groupColumn } from "../../verbs/group-column";
import { lossName, missingLossColumns, offCentre } from "../../verbs/loss-columns";
import { presentShots, shotData } from "../../verbs/shot-data";
import type { UsedShots } from "../../verbs/used-shots";
import { usedShots } from "../../verbs/used-shots";
import { asSubject, emptyChart, extent, makeChart, titled } from "../chart-parts";
import type { SampledField } from "../contours";
import { ringsAbove } from "../contours";
import type { Point } from "../ellipse";
import type { FaceContours } from "../face-contours";
import { bandsOf, contourLayers, contoursOf, sampleFace } from "../face-contours";
import { faceOutline, strikeCross } from "../face-outline";
import { harmless, inWords } from "../field-name";
import type { ChartSpec } from "../fit-spec";
import { tooMany, tooManyPanels } from "../kind-options";
import { textWidth } from "../text-width";

/** What is lost over the face: one sketched face a head, with contours of the loss against its own centre where it was hit. */
export const surface: ChartKind = {
  name: "surface",
  help: {
    summary: "What is lost over the face, one face a head, in contours at round losses, only where the head was hit.",
    example: 'chart.surface(shots, { of: "ball_speed", by: "head" })',
  },
  needs: ["strike_x", "strike_y"],
  options: {
    of: { kind: "column", of: "number", required: false, help: 'Column of numbers that is lost off the centre; "ball_speed" unless told.' },
    by: byOption,
  },
  build: (table, options, context) => {
    const many = tooMany(table, context);
    if (many !== null) return many;
    const by = groupColumn(table, options, "chart.surface");
    if ("type" in by) return by;
    const lacking = missingLossColumns(schemaOf(table), options);
    if (lacking !== null) return lacking;
    const column = findColumn(table, lossName(options)) as NumberColumn;
    if (table.rowCount === 0) return emptyChart(titleOf(column), "There are no shots.", table);
    const used = usedShots(table, by, "chart.surface", context, offCentre);
    if ("type" in used) return used;
    const data = shotData(table, column, used, true);
    const misses = used.groups.map((group) => standardMissOf(used.sessions, headKindOf(used.sessions, by.name === "head" ? group : null)));
    const model = fitLossModel(data, headShots(data, used.stint !== null));
    return tooManyPanels(used.groups.length, context) ?? buildSurface({ table, column, by: by.name, used, data, model, misses });
  },
};

/** What the picture of losses is made of. */
export interface SurfacePicture {
  readonly table: Table;
  /** What is lost. */
  readonly column: NumberColumn;
  /** What the groups are: `head`. */
  readonly by: string;
  readonly used: UsedShots;
  /** The used shots with a strike and a value. */
  readonly data: ShotData;
  /** `null` where the shots determine no surface: then only strikes are drawn. */
  readonly model: LossModel | null;
  /** For each group where its standard misses are, in mm. */
  readonly misses: readonly StandardMiss[];
}

/** One head with what is drawn of it. */
interface Panel {
  readonly name: string;
  readonly strikes: readonly (Point & { readonly value: number })[];
  /** The losses over the face where it was hit; `null` where none is told. */
  readonly losses: SampledField | null;
  /** The losses at the standard misses that were hit, in words. */
  readonly labels: readonly (Point & { readonly label: string })[];
  readonly outline: readonly Point[];
}

/** The picture of losses: small multiples, one a group, with the same contours on all, and the losses at standard misses as numbers. */
export function buildSurface(picture: SurfacePicture): Chart {
  const { table, column, used, data } = picture;
  const lost = inWords(column.name);
  const title = titleOf(column);
  const drawn = drawnTable(picture);
  if (data.value.length === 0) return emptyChart(title, `No shot has a strike and a value of ${lost}.`, drawn);
  const panels = used.groups.map((name, group) => panelOf(picture, harmless(name), group));
  const isRightHanded = table.sessions.every((session) => session.hand === "right" || session.mirrored === true);
  const axes = axesOf(panels, isRightHanded);
  const bands = bandsOf(...extent([0, ...panels.flatMap(({ losses }) => (losses === null ? [] : [...losses.values]))]));
  const unit = column.unit === null ? "" : ` (${unitLabel(column.unit)})`;
  const legend = { symbolType: "square", symbolSize: 130, symbolOpacity: 1, symbolStrokeWidth: 1, titleLimit: 200 };
  const color = { field: "band", type: "ordinal", title: `lost${unit}`, scale: { domain: bands.names }, legend };
  const contours = panels.map(({ losses, labels }) => (losses === null ? null : contoursOf(losses, bands, [{ x: 0, y: 0 }, ...labels])));
  const hasZero = contours.some((each) => each?.lines.some(({ level }) => level === 0) === true);
  const untold = panels.filter((panel) => panel.losses === null).map((panel) => panel.name);
  const hand = isRightHanded ? "right-hander's face, toe on the left" : "left-hander's face, toe on the right";
  const spec = {
    title: titled(
      title,
      table,
      `Seen from in front: a ${hand}. Lines and numbers: the loss${unit} against each one's own centre, only where it was hit; bold, at the standard misses.${hasZero ? " Dashed: no loss." : ""} Circles: strikes.`,
      picture.model?.form.because === "few shots" ? "Too few shots for a fall-off of each one's own: all have the same." : "",
      untold.length === 0 ? "" : `No loss told for ${untold.join(", ")}: it takes ${leastForLosses.shots} shots in ${leastForLosses.turns} stints, and some near the centre.`,
      leftOut(picture),
    ),
    concat: panels.map((panel, group) => facePanel(panel, contours[group]!, axes, color)),
    columns: Math.min(3, panels.length),
    resolve: { scale: { color: "shared" } },
  };
  const heightPerWidth = (axes.up[1] - axes.up[0]) / (axes.across[1] - axes.across[0]);
  return makeChart(spec, { heightPerWidth, tallest: 360, panelWidth: 230, legendLabel: Math.max(...bands.names.map((name) => textWidth(name, 11))) }, drawn, [
    `${title}, in ${data.value.length} shots.`,
    ...panels.map((panel, group) => panelInWords(panel, column, picture.misses[group]!)),
    leftOut(picture),
  ]);
}

function titleOf(column: NumberColumn): string {
  return `${asSubject(column.name)} lost over the face`;
}

/** How many shots are not drawn and why; empty when all are. */
function leftOut({ table, column, data }: SurfacePicture): string {
  const count = table.rowCount - data.value.length;
  return count === 0 ? "" : `${count} of ${table.rowCount} shots not drawn: no strike or no ${inWords(column.name)}, or not meant as stock shots.`;
}

/** The shots that the picture rests on, with their strikes in mm. */
function drawnTable({ table, column, by, used, data }: SurfacePicture): Table {
  const rows = presentShots(table, column, used, true).map((i) => used.rows[i]!);
  const kept = ["session", "shot", by].flatMap((name) => findColumn(table, name) ?? []).filter((each, i, all) => all.indexOf(each) === i);
  const columns: Column[] = [
    ...kept.map((each) => takeRows(each, rows)),
    numberColumn("strike_x", data.strike!.x, "mm", "measured"),
    numberColumn("strike_y", data.strike!.y, "mm", "measured"),
    ...(column.name === "strike_x" || column.name === "strike_y" ? [] : [takeRows(column, rows)]),
  ];
  return makeTable(columns, rows.length, table);
}

function panelOf({ table, column, by, used, data, model, misses }: SurfacePicture, name: string, group: number): Panel {
  const places = [...data.group.keys()].filter((i) => data.group[i] === group);
  const strikes = places.map((i) => ({ x: data.strike!.x[i]!, y: data.strike!.y[i]!, value: data.value[i]! }));
  const outline = faceOutline(headKindOf(table.sessions, by === "head" ? used.groups[group]! : null));
  if (model === null || !model.heads.includes(group)) return { name, strikes, losses: null, labels: [], outline };
  const isTold = toldAt(model, group);
  const { x, y } = misses[group]!;
  const points = [{ x, y: 0 }, { x: -x, y: 0 }, { x: 0, y }, { x: 0, y: -y }].filter((at) => isTold(at.x, at.y));
  const losses = points.map((at) => lossAt(model, group, at.x, at.y));
  const digits = Math.max(...losses.map((loss) => digitsAsStated(Number(loss.toPrecision(2)))), 0);
  return {
    name,
    strikes,
    losses: sampleFace({ isTold, valueAt: (atX, atY) => lossAt(model, group, atX, atY) }),
    labels: points.map((at, i) => ({ ...at, label: formatNumber(losses[i]!, column.unit === null ? digits : Math.min(1, digits)) })),
    outline,
  };
}

interface Axes {
  readonly across: readonly [number, number];
  readonly up: readonly [number, number];
  readonly x: ChartSpec;
  readonly y: ChartSpec;
}

function axesOf(panels: readonly Panel[], isRightHanded: boolean): Axes {
  const shown = panels.flatMap(({ outline, strikes, losses }) => [...outline, ...strikes, ...(losses === null ? [] : ringsAbove(losses, Number.NEGATIVE_INFINITY).flat())]);
  const padded = ([least, most]: readonly [number, number]): [number, number] => [least - 4, most + 4];
  const across = padded(extent(shown.map((point) => point.x)));
  const up = padded(extent(shown.map((point) => point.y)));
  const [left, right] = isRightHanded ? ["toe", "heel"] : ["heel", "toe"];
  const x = { field: "x", type: "quantitative", title: `← ${left} · strike x (mm) · ${right} →`, scale: { domain: across, nice: false, zero: false, reverse: isRightHanded }, axis: { grid: false } };
  const y = { field: "y", type: "quantitative", title: "strike y (mm)", scale: { domain: up, nice: false, zero: false }, axis: { grid: false } };
  return { across, up, x, y };
}

function facePanel({ name, strikes, labels, outline }: Panel, contours: FaceContours | null, { x, y }: Axes, color: ChartSpec): ChartSpec {
  const words = [
    { values: contours?.labels ?? [], type: { fontSize: 10 } },
    { values: labels, type: { fontSize: 12, fontWeight: 700 } },
  ];
  return {
    title: { text: `${name} (${strikes.length})`, fontSize: 12, anchor: "middle", offset: 4 },
    layer: [
      {
        data: { values: outline.map((point, order) => ({ ...point, order })) },
        mark: { type: "line", style: "outline", interpolate: "cardinal", tension: 0.2, filled: true },
        encoding: { x, y, order: { field: "order" } },
      },
      ...(contours === null ? [] : contourLayers(contours, x, y, color)),
      ...strikeCross(x, y),
      {
        data: { values: strikes.map((strike) => ({ ...strike })) },
        mark: { type: "point", style: "strike" },
        encoding: { x, y },
      },
      ...words.flatMap(({ values, type }) =>
        ["halo", "label"].map((style) => ({
          data: { values: values.map((each) => ({ ...each })) },
          mark: { type: "text", style, ...type },
          encoding: { x, y, text: { field: "label" } },
        })),
      ),
    ],
  };
}

function panelInWords({ name, strikes, losses, labels }: Panel, column: NumberColumn, miss: StandardMiss): string {
  if (losses === null) return `${name}: ${strikes.length} strikes, no loss told.`;
  const places = labels.map(({ x, y, label }) => `${formatMeasure(Math.abs(x) + Math.abs(y), 0, "mm")} ${y === 0 ? (x === miss.x ? "to the toe" : "to the heel") : y > 0 ? "high" : "low"} ${label}`);
  const unit = column.unit === null ? "" : ` in ${unitLabel(column.unit)}`;
  const gained = labels.some(({ label }) => label.startsWith("\u2212")) ? " (below 0: gained)" : "";
  return `${name}: ${strikes.length} strikes; lost${unit}${gained}: ${places.length === 0 ? "no standard miss was hit" : places.join(", ")}.`;
}
