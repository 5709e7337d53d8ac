/** The colours and the type that a chart takes from where it is shown. */
export interface ChartTheme {
  /** `contrast` stands for both high-contrast themes: plain lines, no tints. */
  readonly kind: "light" | "dark" | "contrast";
  readonly foreground: string;
  /** What lies behind the chart; the chart itself has no background. */
  readonly background: string;
  readonly font: string;
}

/** Names of faces that are as wide as `textWidth` estimates, one of them on most machines, and then whatever has no serifs. */
const font = "'Helvetica Neue', Helvetica, Arial, 'Liberation Sans', sans-serif";

/** On white paper. */
export const lightTheme: ChartTheme = { kind: "light", foreground: "#1f1f1f", background: "#ffffff", font };

/** On a dark screen. */
export const darkTheme: ChartTheme = { kind: "dark", foreground: "#e4e4e4", background: "#1e1e1e", font };

/** White on black, without tints. */
export const contrastTheme: ChartTheme = { kind: "contrast", foreground: "#ffffff", background: "#000000", font };

/**
 * Colours of groups, told apart with the common kinds of colour blindness, each at least 3 : 1 against its background.
 *
 * Source: Okabe & Ito 2008, Color Universal Design. Black and yellow, which vanish on some background, come last. Their
 * purple, orange and sky blue are too pale for white paper; those three are darker here, the hue being kept.
 */
const colours = {
  onLight: ["#0072b2", "#d55e00", "#009e73", "#c46f9e", "#b87f00", "#2e93d0", "#000000"],
  onDark: ["#56b4e9", "#e69f00", "#009e73", "#cc79a7", "#f0e442", "#d55e00", "#ffffff"],
};

/** The second channel beside colour: a shape a group. */
const shapes = ["circle", "square", "triangle-up", "diamond", "cross", "triangle-down", "triangle-left"];

/** Groups that can be told apart by colour and shape: one more has to share both. */
export const mostMarks = shapes.length;

/**
 * Styles that the charts of this project give their marks, so that no specification names a colour.
 *
 * `reference`: a line to compare with. `band`: a region told apart from its neighbours. `margin`: one with edges that
 * matter. `grid`: lines that only guide. `outline`: the edge of a thing drawn. `strike`: one strike on a tinted face.
 * `mean`: the mark of a group's mean. `group line`: a line in its group's colour. `label`: text that belongs to a mark; `halo`: the same text below it on a tint; `remark` is fainter.
 */
export type MarkStyle = "reference" | "band" | "margin" | "grid" | "outline" | "strike" | "mean" | "group line" | "bar" | "label" | "halo" | "remark";

/** The Vega-Lite configuration for a theme: colours, type, lines; the same chart in another theme differs in it alone. */
export function chartConfig(theme: ChartTheme): Record<string, unknown> {
  const { foreground, background, kind } = theme;
  const isContrast = kind === "contrast";
  const faint = isContrast ? 0.9 : 0.75;
  // So much of the foreground is still 3 : 1 against the background of every usual theme.
  const line = isContrast ? 0.9 : 0.58;
  const styles: Record<MarkStyle, Record<string, unknown>> = {
    reference: { color: foreground, stroke: foreground, strokeWidth: 1.25, strokeDash: [5, 3], strokeOpacity: isContrast ? 1 : 0.8 },
    band: { color: foreground, fillOpacity: isContrast ? 0.18 : 0.08, stroke: null },
    margin: { color: foreground, fillOpacity: isContrast ? 0.18 : 0.08, stroke: foreground, strokeOpacity: line, strokeWidth: 1 },
    grid: { color: foreground, strokeOpacity: isContrast ? 0.75 : line, strokeWidth: 1, fill: null },
    outline: { color: foreground, stroke: foreground, strokeOpacity: isContrast ? 1 : 0.65, strokeWidth: 1.5, fillOpacity: isContrast ? 0 : 0.04 },
    strike: { filled: false, color: foreground, strokeWidth: 1, size: 14, opacity: isContrast ? 1 : 0.6 },
    mean: { stroke: foreground, strokeWidth: 2, fillOpacity: 1, opacity: 1 },
    "group line": { strokeWidth: 2, fill: null },
    bar: { strokeWidth: 1.5, stroke: foreground },
    label: { fill: foreground, fontSize: 11 },
    halo: { fill: background, stroke: background, strokeWidth: 3, strokeJoin: "round", fontSize: 11 },
    remark: { fill: foreground, fillOpacity: faint, fontSize: 11 },
  };
  const text = { font: theme.font, color: foreground };
  return {
    background: null,
    font: theme.font,
    padding: 4,
    autosize: { type: "pad", contains: "padding" },
    view: { stroke: null, continuousWidth: 320, continuousHeight: 280 },
    title: {
      anchor: "start", color: foreground, fontSize: 13, fontWeight: 600, lineHeight: 17,
      subtitleColor: foreground, subtitleFontSize: 11, subtitleLineHeight: 15, subtitlePadding: 4, offset: 10,
    },
    axis: {
      labelColor: foreground, titleColor: foreground, labelFontSize: 11, titleFontSize: 11, titleFontWeight: 600,
      gridColor: foreground, gridOpacity: isContrast ? 0.3 : 0.1, domainColor: foreground, domainOpacity: line,
      tickColor: foreground, tickOpacity: line, tickSize: 4, labelPadding: 4, titlePadding: 8, labelLimit: 220,
    },
    axisX: { labelAngle: 0 },
    legend: {
      orient: "top", direction: "horizontal", titleAnchor: "start", labelColor: foreground, titleColor: foreground,
      labelFontSize: 11, titleFontSize: 11, titleFontWeight: 600, symbolLimit: 30, symbolSize: 70,
      symbolStrokeWidth: 1.5, offset: 6, columnPadding: 14,
    },
    header: { labelColor: foreground, titleColor: foreground, labelFontSize: 11, titleFontSize: 11, labelFontWeight: 600 },
    mark: { ...text, color: groupColours(theme)[0] },
    // Opaque for the sake of contrast.
    point: { filled: true, size: 40, opacity: 1 },
    text: text,
    rule: { color: foreground },
    // Bars and areas still start at 0: Vega-Lite keeps that for marks whose length is read.
    scale: { zero: false },
    line: { strokeWidth: 2 },
    bar: { stroke: background },
    range: {
      category: groupColours(theme),
      symbol: shapes,
      // From light to dark on white and the other way on black, so that more always stands out more.
      heatmap: { scheme: isDark(background) ? "darkblue" : "blues" },
      ramp: { scheme: isDark(background) ? "darkblue" : "blues" },
      ordinal: { scheme: isDark(background) ? "darkblue" : "blues" },
      diverging: { scheme: "purpleorange" },
    },
    // A thin edge keeps marks apart that lie on each other. Here a style of a mark's own comes after it, unlike above.
    style: { point: { stroke: background, strokeWidth: 0.5 }, ...styles },
  };
}

/** The colours of groups on the theme's background, in the order in which groups take them. */
export function groupColours(theme: ChartTheme): readonly string[] {
  return isDark(theme.background) ? colours.onDark : colours.onLight;
}

/** True for a background darker than middle grey; a colour that cannot be read counts as light. */
function isDark(background: string): boolean {
  const [red, green, blue] = channels(background);
  // Relative luminance, WCAG 2.2, without the transfer curve: the background only has to be told dark or light.
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue < 128;
}

function channels(colour: string): readonly [number, number, number] {
  const hex = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})/i.exec(colour);
  if (hex) return [Number.parseInt(hex[1]!, 16), Number.parseInt(hex[2]!, 16), Number.parseInt(hex[3]!, 16)];
  const rgb = /^rgba?\(\s*(\d+)[\s,]+(\d+)[\s,]+(\d+)/i.exec(colour);
  return rgb ? [Number(rgb[1]), Number(rgb[2]), Number(rgb[3])] : [255, 255, 255];
}
