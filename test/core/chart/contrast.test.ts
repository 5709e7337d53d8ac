import { expect, test } from "vitest";
import { chartConfig, contrastTheme, darkTheme, groupColours, lightTheme, type ChartTheme } from "../../../core/chart/themes";

/** The themes of charts: those of this project, and what the page finds in an editor's usual ones. */
const themes: Readonly<Record<string, ChartTheme>> = {
  light: lightTheme,
  dark: darkTheme,
  "contrast dark": contrastTheme,
  "contrast light": { ...contrastTheme, foreground: "#292929", background: "#ffffff" },
  "greyer light": { ...lightTheme, foreground: "#3b3b3b" },
  "greyer dark": { ...darkTheme, foreground: "#cccccc", background: "#1f1f1f" },
};

function channelsOf(colour: string): readonly number[] {
  return [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
}

/** Relative luminance of sRGB channels 0..255. Source: WCAG 2.2, definition of relative luminance. */
function luminance(channels: readonly number[]): number {
  const [red, green, blue] = channels.map((each) => (each / 255 <= 0.04045 ? each / 255 / 12.92 : ((each / 255 + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

/** Contrast of a colour of an opacity laid on a background. Source: WCAG 2.2, definition of contrast ratio. */
function contrastOf(colour: string, opacity: number, background: string): number {
  const below = channelsOf(background);
  const seen = channelsOf(colour).map((each, i) => each * opacity + below[i]! * (1 - opacity));
  const [dark, light] = [luminance(seen), luminance(below)].sort((a, b) => a - b);
  return (light! + 0.05) / (dark! + 0.05);
}

type Part = Readonly<Record<string, string | number>>;

/** Expects parts of every theme's configuration, by the path to them, to stand out by `least`. */
function checkContrast(path: readonly string[], colour: string, opacity: string | null, least: number): void {
  for (const [name, theme] of Object.entries(themes)) {
    const part = path.reduce<unknown>((whole, key) => (whole as Readonly<Record<string, unknown>>)[key], chartConfig(theme)) as Part;
    const given = opacity === null ? 1 : (part[opacity] ?? 1);
    expect(contrastOf(String(part[colour]), Number(given), theme.background), `${path.join(".")} ${colour}, ${name}`).toBeGreaterThanOrEqual(least);
  }
}

test("the formula gives the published ends of its scale", () => {
  expect(contrastOf("#000000", 1, "#ffffff")).toBeCloseTo(21, 5);
  expect(contrastOf("#808080", 0, "#ffffff")).toBe(1);
});

test("text stands out by 4.5 : 1", () => {
  for (const colour of ["labelColor", "titleColor"]) for (const part of ["axis", "legend", "header"]) checkContrast([part], colour, null, 4.5);
  for (const colour of ["color", "subtitleColor"]) checkContrast(["title"], colour, null, 4.5);
  for (const style of ["label", "remark"]) checkContrast(["style", style], "fill", "fillOpacity", 4.5);
});

test("lines that say something stand out by 3 : 1", () => {
  for (const style of ["reference", "margin", "outline"]) checkContrast(["style", style], "stroke", "strokeOpacity", 3);
  checkContrast(["style", "grid"], "color", "strokeOpacity", 3);
  checkContrast(["style", "strike"], "color", "opacity", 3);
  checkContrast(["style", "mean"], "stroke", "opacity", 3);
  checkContrast(["axis"], "domainColor", "domainOpacity", 3);
  checkContrast(["axis"], "tickColor", "tickOpacity", 3);
});

test("marks and lines of every group stand out by 3 : 1", () => {
  for (const [name, theme] of Object.entries(themes)) {
    const { point } = chartConfig(theme) as { readonly point: Part };
    for (const colour of groupColours(theme)) expect(contrastOf(colour, Number(point["opacity"]), theme.background), `${colour}, ${name}`).toBeGreaterThanOrEqual(3);
  }
});
