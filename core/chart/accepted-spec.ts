// One table of data, the part of Vega-Lite 6 that a chart cell may use: longer than a file of code should be.
import type { Limits } from "../limits";
import { aggregateNames, windowNames } from "./aggregates";
import type { Properties, Shape } from "./shape";
import { choice, colour, column, list, newColumn, nothing, number, numberFormat, object, truth, union, words } from "./shape";

const size = number(0, 200);
const share = number(0, 1);
const pixels = number(-2000, 2000);
const orient = choice("left", "right", "top", "bottom");
const align = choice("left", "center", "right");
const baseline = choice("top", "middle", "bottom", "alphabetic", "line-top", "line-bottom");
const weight = union(choice("normal", "bold", "bolder", "lighter"), number(100, 900));
const dash = list(number(0, 100), 8);
const titleText = union(words, list(words, 20), nothing);
const anchor = choice("start", "middle", "end");

/** Marks that a chart cell may use. */
export const markNames = [
  "arc", "area", "bar", "boxplot", "circle", "errorband", "errorbar", "line", "point", "rect", "rule", "square",
  "text", "tick", "trail",
] as const;

/** Shapes of points; a path of one's own is not taken, since a faulty one draws nothing. */
const symbol = choice("circle", "square", "cross", "diamond", "triangle-up", "triangle-down", "triangle-right", "triangle-left", "triangle", "stroke", "arrow", "wedge");

const aggregate = choice(...aggregateNames);

const interpolate = choice("linear", "linear-closed", "step", "step-before", "step-after", "basis", "basis-closed", "basis-open", "cardinal", "cardinal-closed", "cardinal-open", "monotone", "bundle", "natural");

const schemes = [
  "accent", "category10", "category20", "category20b", "category20c", "dark2", "observable10", "paired", "pastel1",
  "pastel2", "set1", "set2", "set3", "tableau10", "tableau20", "blues", "tealblues", "teals", "greens", "browns",
  "greys", "purples", "warmgreys", "reds", "oranges", "turbo", "viridis", "inferno", "magma", "plasma", "cividis",
  "bluegreen", "bluepurple", "goldgreen", "goldorange", "goldred", "greenblue", "orangered", "purplebluegreen",
  "purpleblue", "purplered", "redpurple", "yellowgreenblue", "yellowgreen", "yelloworangebrown", "yelloworangered",
  "darkblue", "darkgold", "darkgreen", "darkmulti", "darkred", "lightgreyred", "lightgreyteal", "lightmulti",
  "lightorange", "lighttealblue", "blueorange", "brownbluegreen", "purplegreen", "pinkyellowgreen", "purpleorange",
  "redblue", "redgrey", "redyellowblue", "redyellowgreen", "spectral", "rainbow", "sinebow",
];

const place = union(number(), choice("width", "height"));

const drawn: Properties = {
  filled: truth, color: colour, fill: union(colour, nothing), stroke: union(colour, nothing), opacity: share,
  fillOpacity: share, strokeOpacity: share, strokeWidth: number(0, 50), strokeDash: dash, strokeDashOffset: size,
  strokeCap: choice("butt", "round", "square"), strokeJoin: choice("miter", "round", "bevel"),
};

/** Parts of composite marks: drawn or not, or drawn how. */
const part = union(truth, object({ ...drawn, size, thickness: size, extent: number(0, 10) }));

const markDefinition = object({
  ...drawn,
  type: choice(...markNames),
  size: number(0, 10_000), shape: symbol, interpolate, tension: share, orient: choice("horizontal", "vertical"),
  point: union(truth, choice("transparent"), object({ ...drawn, size: number(0, 10_000), shape: symbol })),
  line: union(truth, object({ ...drawn, interpolate })),
  align, baseline, dx: pixels, dy: pixels, angle: number(-360, 360), limit: number(0, 2000), text: words,
  lineBreak: words, lineHeight: size, ellipsis: words, fontSize: size, fontWeight: weight, fontStyle: choice("normal", "italic"),
  cornerRadius: size, cornerRadiusEnd: size, cornerRadiusTopLeft: size, cornerRadiusTopRight: size,
  cornerRadiusBottomLeft: size, cornerRadiusBottomRight: size,
  width: union(number(0, 2000), object({ band: share })), height: union(number(0, 2000), object({ band: share })),
  innerRadius: number(0, 2000), outerRadius: number(0, 2000), padAngle: number(0, 7), radius: number(0, 2000),
  radius2: number(0, 2000), theta: number(-10, 10), theta2: number(-10, 10),
  bandSize: number(0, 2000), binSpacing: number(0, 100), minBandSize: number(0, 100), thickness: size,
  extent: union(choice("min-max", "stderr", "stdev", "iqr"), number(0, 10)),
  ticks: part, box: part, median: part, rule: part, outliers: part, borders: part, band: part,
  tooltip: union(truth, nothing, words), clip: truth, x: place, y: place, x2: place, y2: place, xOffset: pixels, yOffset: pixels,
  style: choice("reference", "band", "grid", "outline", "mean", "group line", "bar", "label", "remark"),
});

const scale = union(
  nothing,
  object({
    type: choice("linear", "log", "pow", "sqrt", "symlog", "ordinal", "band", "point", "quantile", "quantize", "threshold", "bin-ordinal"),
    domain: union(list(union(number(), words, truth, nothing)), choice("unaggregated")),
    domainMin: number(), domainMax: number(), domainMid: number(),
    range: list(union(number(), colour, symbol, dash)), rangeMin: number(), rangeMax: number(),
    scheme: union(choice(...schemes), object({ name: choice(...schemes), count: number(1, 100), extent: list(share, 2) })),
    zero: truth, nice: union(truth, number(1, 100)), reverse: truth, clamp: truth, round: truth,
    padding: number(0, 500), paddingInner: share, paddingOuter: number(0, 10), align: share,
    exponent: number(-10, 10), base: number(1.01, 100), constant: number(1e-9, 1e6),
    interpolate: choice("rgb", "lab", "hcl", "hsl", "hsl-long", "hcl-long", "cubehelix", "cubehelix-long"),
  }),
);

/** Text of axes, legends and headers. */
function textOf(name: "label" | "title" | "subtitle"): Properties {
  return {
    [`${name}Align`]: align, [`${name}Angle`]: number(-360, 360), [`${name}Baseline`]: baseline, [`${name}Color`]: colour,
    [`${name}FontSize`]: size, [`${name}FontStyle`]: choice("normal", "italic"), [`${name}FontWeight`]: weight,
    [`${name}Limit`]: number(0, 2000), [`${name}Offset`]: pixels, [`${name}Padding`]: pixels, [`${name}Opacity`]: share,
    [`${name}LineHeight`]: size, [`${name}Anchor`]: anchor, [`${name}Orient`]: orient,
  };
}

function strokeOf(name: "grid" | "tick" | "domain"): Properties {
  return { [`${name}Color`]: colour, [`${name}Dash`]: dash, [`${name}Opacity`]: share, [`${name}Width`]: number(0, 20) };
}

const guideValues = list(union(number(), words, truth));

const axis = union(
  nothing,
  object({
    ...textOf("label"), ...textOf("title"), ...strokeOf("grid"), ...strokeOf("tick"), ...strokeOf("domain"),
    title: titleText, labels: truth, ticks: truth, grid: truth, domain: truth, values: guideValues, tickCount: number(0, 100),
    tickMinStep: number(0, 1e6), tickSize: size, tickBand: choice("center", "extent"), tickExtra: truth, tickRound: truth,
    format: numberFormat, labelOverlap: union(truth, choice("parity", "greedy")), labelBound: union(truth, number(0, 100)),
    labelFlush: union(truth, number(0, 100)), labelSeparation: size, orient, offset: pixels, position: pixels,
    minExtent: number(0, 500), maxExtent: number(0, 500), bandPosition: share, zindex: number(0, 1), translate: pixels,
    titleX: pixels, titleY: pixels,
  }),
);

const legend = union(
  nothing,
  object({
    ...textOf("label"), ...textOf("title"),
    title: titleText, type: choice("symbol", "gradient"), direction: choice("horizontal", "vertical"), columns: number(0, 100),
    orient: choice("none", "left", "right", "top", "bottom", "top-left", "top-right", "bottom-left", "bottom-right"),
    format: numberFormat, values: guideValues, tickCount: number(0, 100), offset: pixels, padding: size, rowPadding: size,
    columnPadding: size, symbolType: symbol, symbolSize: number(0, 2000), symbolOpacity: share, symbolStrokeWidth: number(0, 20),
    symbolFillColor: colour, symbolStrokeColor: colour, symbolLimit: number(1, 60), gradientLength: number(10, 1000),
    gradientThickness: size, labelOverlap: union(truth, choice("parity", "greedy")), fillColor: colour, strokeColor: colour,
    cornerRadius: size, zindex: number(0, 1), legendX: pixels, legendY: pixels,
  }),
);

const header = union(
  nothing,
  object({ ...textOf("label"), ...textOf("title"), title: titleText, labels: truth, format: numberFormat, orient }),
);

const bins: Properties = {
  maxbins: number(1, 500), extent: list(number(-1e12, 1e12), 2), nice: truth, base: number(1.01, 100), minstep: number(0, 1e9), anchor: number(),
};
/** A step is taken in an encoding only, where the number of bins that it makes of the data is checked. */
const bin = union(truth, nothing, choice("binned"), object({ ...bins, step: number(1e-9, 1e9), binned: truth }));

const sortBy = object({
  field: column, op: aggregate, order: union(choice("ascending", "descending"), nothing),
  encoding: choice("x", "y", "color", "fill", "stroke", "size", "shape", "opacity", "text"),
});
const sort = union(
  choice("ascending", "descending", "x", "y", "-x", "-y", "color", "-color", "size", "-size"),
  nothing,
  list(union(number(), words, truth)),
  sortBy,
);

const comparable = union(number(-1e12, 1e12), words);

/** Conditions as objects: the only form in which a filter or a condition is taken. */
const predicate: Shape = {
  is: "later",
  shape: () =>
    object({
      field: column, equal: union(comparable, truth), lt: comparable, lte: comparable, gt: comparable, gte: comparable,
      range: list(union(number(-1e12, 1e12), nothing), 2), oneOf: list(union(comparable, truth)), valid: truth,
      and: list(predicate, 50), or: list(predicate, 50), not: predicate,
    }),
};

/** Types of an encoding. Times are text in this project's tables, so there is no `temporal`. */
export const typeNames = ["quantitative", "ordinal", "nominal"] as const;

/** What every encoding of a field may have. */
const fieldOf: Properties = {
  field: column, aggregate, bin, type: choice(...typeNames), title: titleText, bandPosition: share,
};

/** A channel whose fixed value is of the given shape. */
function channel(value: Shape, more: Properties = {}): Shape {
  const conditional = object({ test: predicate, value, field: column, type: choice(...typeNames), scale, legend, title: titleText, aggregate, bin });
  return object({
    ...fieldOf, scale, legend, sort, value, datum: union(number(), words, truth),
    condition: union(conditional, list(conditional, 20)), ...more,
  });
}

const position = channel(place, { axis, stack: union(truth, nothing, choice("zero", "normalize", "center")), impute: object({ value: number(), method: choice("value", "mean", "median", "min", "max") }) });
const secondPosition = object({ field: column, aggregate, bin, title: titleText, bandPosition: share, value: place, datum: union(number(), words) });
const paint = channel(union(colour, nothing));
const amount = channel(number(0, 10_000));
const textChannel = channel(words, { format: numberFormat });
const plainField = object(fieldOf);
const several = (shape: Shape): Shape => union(shape, list(shape, 30));
const panelProperties: Properties = {
  ...fieldOf, header, sort: union(choice("ascending", "descending"), nothing, list(union(number(), words, truth)), sortBy),
  columns: number(1, 64), spacing: number(0, 200), align: choice("all", "each", "none"), center: truth,
};
const panels = object(panelProperties);

const encodingProperties: Properties = {
  x: position, y: position, x2: secondPosition, y2: secondPosition, xOffset: channel(pixels), yOffset: channel(pixels),
  xError: secondPosition, yError: secondPosition, xError2: secondPosition, yError2: secondPosition,
  theta: position, theta2: secondPosition, radius: position, radius2: secondPosition,
  color: paint, fill: paint, stroke: paint, opacity: channel(share), fillOpacity: channel(share), strokeOpacity: channel(share),
  strokeWidth: amount, strokeDash: channel(dash), size: amount, angle: channel(number(-360, 360)), shape: channel(symbol),
  text: textChannel, tooltip: union(nothing, several(object({ ...fieldOf, format: numberFormat, value: words }))),
  detail: several(plainField), order: union(several(object({ ...fieldOf, sort: union(choice("ascending", "descending"), nothing) })), nothing),
  facet: panels, row: panels, column: panels,
};

const groupby = list(column, 20);
const names = list(newColumn, 4);

/** Transforms by the key that tells them; none of them evaluates text. */
export const transforms: Readonly<Record<string, Properties>> = {
  filter: { filter: predicate },
  aggregate: { aggregate: list(object({ op: aggregate, field: column, as: newColumn }), 50), groupby },
  joinaggregate: { joinaggregate: list(object({ op: aggregate, field: column, as: newColumn }), 50), groupby },
  bin: { bin: union(truth, object(bins)), field: column, as: union(newColumn, names) },
  window: {
    window: list(
      object({
        op: choice(...windowNames),
        param: number(1, 1000), field: column, as: newColumn,
      }),
      50,
    ),
    groupby, frame: list(union(nothing, number(-100_000, 100_000)), 2), ignorePeers: truth,
    sort: list(object({ field: column, order: union(choice("ascending", "descending"), nothing) }), 20),
  },
  stack: {
    stack: column, groupby, offset: choice("zero", "center", "normalize"), as: union(newColumn, names),
    sort: list(object({ field: column, order: union(choice("ascending", "descending"), nothing) }), 20),
  },
  fold: { fold: list(column, 100), as: names },
  density: {
    density: column, groupby, bandwidth: number(0, 1e9), extent: list(number(-1e12, 1e12), 2), counts: truth, cumulative: truth,
    steps: number(2, 1000), minsteps: number(2, 1000), maxsteps: number(2, 1000), resolve: choice("independent", "shared"), as: names,
  },
  regression: {
    regression: column, on: column, groupby, method: choice("linear", "log", "exp", "pow", "quad", "poly"), order: number(1, 6),
    extent: list(number(-1e12, 1e12), 2), as: names,
  },
  loess: { loess: column, on: column, groupby, bandwidth: number(0.01, 1), as: names },
  quantile: { quantile: column, groupby, probs: list(share), step: number(0.001, 1), as: names },
  impute: { impute: column, key: column, groupby, method: choice("value", "mean", "median", "min", "max"), value: union(number(), words), frame: list(union(nothing, number(-100_000, 100_000)), 2), keyvals: list(union(number(), words)) },
};

const titled = union(
  words,
  list(words, 20),
  nothing,
  object({
    text: titleText, subtitle: titleText, anchor, orient, offset: pixels, align, baseline, color: colour, dx: pixels, dy: pixels,
    fontSize: size, fontStyle: choice("normal", "italic"), fontWeight: weight, frame: choice("bounds", "group"), limit: number(0, 2000),
    lineHeight: size, subtitleColor: colour, subtitleFontSize: size, subtitleFontStyle: choice("normal", "italic"),
    subtitleFontWeight: weight, subtitleLineHeight: size, subtitlePadding: size, zindex: number(0, 1),
  }),
);

const sharing = choice("shared", "independent");
const everyChannel = (...channels: readonly string[]): Shape => object(Object.fromEntries(channels.map((name) => [name, sharing])));
const legendChannels = ["color", "fill", "stroke", "opacity", "fillOpacity", "strokeOpacity", "strokeWidth", "strokeDash", "size", "shape", "angle"];

/**
 * The properties of a view: one plot, layers over one another, or several plots side by side.
 *
 * Sizes are bounded by `limits`. What is not here is refused: data, expressions, parameters, links, images.
 */
export function viewProperties(limits: Limits): Properties {
  const view: Shape = { is: "later", shape: () => object(viewProperties(limits)) };
  const extent = union(number(1, limits.pixels), object({ step: number(1, 400), for: choice("position", "offset") }));
  const views = list(view, limits.panels);
  return {
    title: titled, description: words, width: extent, height: extent,
    mark: union(choice(...markNames), markDefinition),
    encoding: object(encodingProperties),
    transform: { is: "transforms" },
    layer: views, concat: views, hconcat: views, vconcat: views, spec: view,
    facet: object({ ...panelProperties, row: panels, column: panels }),
    columns: number(1, 64), spacing: union(number(0, 500), object({ row: number(0, 500), column: number(0, 500) })),
    align: choice("all", "each", "none"), center: truth, bounds: choice("full", "flush"),
    resolve: object({
      scale: everyChannel("x", "y", "xOffset", "yOffset", "theta", "radius", ...legendChannels),
      axis: everyChannel("x", "y"),
      legend: everyChannel(...legendChannels),
    }),
    view: object({ ...drawn, cornerRadius: size }),
  };
}
