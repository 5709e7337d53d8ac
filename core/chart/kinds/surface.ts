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
import type { Point } from "../ellipse";
import { faceOutline, strikeCross } from "../face-outline";
import { harmless, inWords } from "../field-name";
import type { ChartSpec } from "../fit-spec";
import { tooMany, tooManyPanels } from "../kind-options";

/** What is lost over the face: one sketched face a head, tinted where it was hit by the loss against its own centre. */
export const surface: ChartKind = {
  name: "surface",
  help: {
    summary: "What is lost over the face, one face a head: the darker or brighter, the more, only where the head was hit.",
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

/** Width and height of a tile, in mm. */
const tileSize = 3;

/** How far from the strike reference tiles are looked for, in mm: no strike is farther out. */
const reach = { x: 60, y: 48 };

/** A stretch of the face with its loss; the corners are in mm. */
interface Tile {
  readonly x: number;
  readonly to_x: number;
  readonly y: number;
  readonly to_y: number;
  readonly loss: number;
}

/** One head with what is drawn of it. */
interface Panel {
  readonly name: string;
  readonly strikes: readonly (Point & { readonly value: number })[];
  readonly tiles: readonly Tile[];
  /** The losses at the standard misses that were hit, in words. */
  readonly labels: readonly (Point & { readonly label: string })[];
  readonly outline: readonly Point[];
}

/** The picture of losses: small multiples, one a group, on one scale of colour, with the losses at standard misses as numbers. */
export function buildSurface(picture: SurfacePicture): Chart {
  const { table, column, used, data } = picture;
  const lost = inWords(column.name);
  const title = titleOf(column);
  const drawn = drawnTable(picture);
  if (data.value.length === 0) return emptyChart(title, `No shot has a strike and a value of ${lost}.`, drawn);
  const panels = used.groups.map((name, group) => panelOf(picture, harmless(name), group));
  const tiles = panels.flatMap((panel) => panel.tiles);
  const isRightHanded = table.sessions.every((session) => session.hand === "right" || session.mirrored === true);
  const axes = axesOf(panels, isRightHanded);
  const [least, most] = extent([0, ...tiles.map((tile) => tile.loss)]);
  const unit = column.unit === null ? "" : ` (${unitLabel(column.unit)})`;
  const scale = { domain: [least, most > least ? most : least + 1], nice: false, zero: false };
  const color = { field: "loss", type: "quantitative", title: `lost${unit}`, scale, legend: { gradientLength: 180, titleLimit: 200 } };
  const untold = panels.filter((panel) => panel.tiles.length === 0).map((panel) => panel.name);
  const hand = isRightHanded ? "right-hander's face, toe on the left" : "left-hander's face, toe on the right";
  const spec = {
    title: titled(
      title,
      table,
      `Seen from in front: a ${hand}. Tints and numbers: the loss${unit} against each one's own centre, only where it was hit; below 0, no loss. Circles: strikes.`,
      picture.model?.form.because === "few shots" ? "Too few shots for a fall-off of each one's own: all have the same." : "",
      untold.length === 0 ? "" : `No loss told for ${untold.join(", ")}: it takes ${leastForLosses.shots} shots in ${leastForLosses.turns} stints, and some near the centre.`,
      leftOut(picture),
    ),
    concat: panels.map((panel) => facePanel(panel, axes, color)),
    columns: Math.min(3, panels.length),
    resolve: { scale: { color: "shared" } },
  };
  const heightPerWidth = (axes.up[1] - axes.up[0]) / (axes.across[1] - axes.across[0]);
  return makeChart(spec, { heightPerWidth, tallest: 360, panelWidth: 230 }, drawn, [
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
  if (model === null || !model.heads.includes(group)) return { name, strikes, tiles: [], labels: [], outline };
  const isTold = toldAt(model, group);
  const { x, y } = misses[group]!;
  const points = [{ x, y: 0 }, { x: -x, y: 0 }, { x: 0, y }, { x: 0, y: -y }].filter((at) => isTold(at.x, at.y));
  const losses = points.map((at) => lossAt(model, group, at.x, at.y));
  const digits = Math.max(...losses.map((loss) => digitsAsStated(Number(loss.toPrecision(2)))), 0);
  return {
    name,
    strikes,
    tiles: tilesOf(isTold, (atX, atY) => lossAt(model, group, atX, atY)),
    labels: points.map((at, i) => ({ ...at, label: formatNumber(losses[i]!, column.unit === null ? digits : Math.min(1, digits)) })),
    outline,
  };
}

function tilesOf(isTold: (x: number, y: number) => boolean, loss: (x: number, y: number) => number): readonly Tile[] {
  const tiles: Tile[] = [];
  const half = tileSize / 2;
  for (let x = -reach.x; x <= reach.x; x += tileSize) {
    for (let y = -reach.y; y <= reach.y; y += tileSize) {
      if (isTold(x, y)) tiles.push({ x: x - half, to_x: x + half, y: y - half, to_y: y + half, loss: Number(loss(x, y).toPrecision(6)) });
    }
  }
  return tiles;
}

interface Axes {
  readonly across: readonly [number, number];
  readonly up: readonly [number, number];
  readonly x: ChartSpec;
  readonly y: ChartSpec;
}

function axesOf(panels: readonly Panel[], isRightHanded: boolean): Axes {
  const shown = panels.flatMap(({ outline, strikes, tiles }) => [...outline, ...strikes, ...tiles, ...tiles.map((tile) => ({ x: tile.to_x, y: tile.to_y }))]);
  const padded = ([least, most]: readonly [number, number]): [number, number] => [least - 4, most + 4];
  const across = padded(extent(shown.map((point) => point.x)));
  const up = padded(extent(shown.map((point) => point.y)));
  const [left, right] = isRightHanded ? ["toe", "heel"] : ["heel", "toe"];
  const x = { field: "x", type: "quantitative", title: `← ${left} · strike x (mm) · ${right} →`, scale: { domain: across, nice: false, zero: false, reverse: isRightHanded }, axis: { grid: false } };
  const y = { field: "y", type: "quantitative", title: "strike y (mm)", scale: { domain: up, nice: false, zero: false }, axis: { grid: false } };
  return { across, up, x, y };
}

function facePanel({ name, strikes, tiles, labels, outline }: Panel, { x, y }: Axes, color: ChartSpec): ChartSpec {
  return {
    title: { text: `${name} (${strikes.length})`, fontSize: 12, anchor: "middle", offset: 4 },
    layer: [
      {
        data: { values: outline.map((point, order) => ({ ...point, order })) },
        mark: { type: "line", style: "outline", interpolate: "cardinal", tension: 0.2, filled: true },
        encoding: { x, y, order: { field: "order" } },
      },
      ...(tiles.length === 0 ? [] : [{ data: { values: tiles.map((tile) => ({ ...tile })) }, mark: { type: "rect", strokeWidth: 0 }, encoding: { x, x2: { field: "to_x" }, y, y2: { field: "to_y" }, color } }]),
      ...strikeCross(x, y),
      {
        data: { values: strikes.map((strike) => ({ ...strike })) },
        mark: { type: "point", style: "strike" },
        encoding: { x, y },
      },
      ...["halo", "label"].map((style) => ({
        data: { values: labels.map((each) => ({ ...each })) },
        mark: { type: "text", style, fontWeight: 700, fontSize: 12 },
        encoding: { x, y, text: { field: "label" } },
      })),
    ],
  };
}

function panelInWords({ name, strikes, tiles, labels }: Panel, column: NumberColumn, miss: StandardMiss): string {
  if (tiles.length === 0) return `${name}: ${strikes.length} strikes, no loss told.`;
  const places = labels.map(({ x, y, label }) => `${label} ${formatMeasure(Math.abs(x) + Math.abs(y), 0, "mm")} ${y === 0 ? (x === miss.x ? "to the toe" : "to the heel") : y > 0 ? "high" : "low"}`);
  const unit = column.unit === null ? "" : ` ${unitLabel(column.unit)}`;
  return `${name}: ${strikes.length} strikes; lost${unit}: ${places.length === 0 ? "no standard miss was hit" : places.join(", ")}.`;
}
