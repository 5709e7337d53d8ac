import { expect, test } from "vitest";
import { chartSvg, compileChart, makeView } from "../../../core/chart/draw-chart";
import { fitSpec, wrapWords } from "../../../core/chart/fit-spec";
import { chartConfig, contrastTheme, darkTheme, groupColours, lightTheme } from "../../../core/chart/themes";

const data = { values: [{ a: 1, g: "x" }, { a: 2, g: "y" }] };
const plain = { data, mark: "point", encoding: { x: { field: "a", type: "quantitative" } } };

test("K-04 K-05 even a specification that nothing checked loads nothing and links nowhere", async () => {
  const spec = { ...plain, data: { url: "package.json", format: { type: "json" } } };
  expect(await chartSvg(spec, lightTheme, 300)).not.toContain("fairstrike");
  const linked = { ...plain, encoding: { ...plain.encoding, href: { value: "javascript:alert(1)" } } };
  expect(await chartSvg(linked, lightTheme, 300)).not.toContain("javascript:");
  const image = { data, mark: { type: "image", url: "file:///etc/hostname" }, encoding: plain.encoding };
  expect(await chartSvg(image, lightTheme, 300)).not.toContain("/etc/hostname");
});

test("K-02 an expression that nothing checked calls nothing but the functions of charts", async () => {
  const before = Object.keys(globalThis).length;
  for (const expression of ["datum.constructor('return 1')", "datum.constructor.constructor('return 1')()", "toString.constructor('return 1')()", "globalThis", "this.constructor"]) {
    const spec = { ...plain, transform: [{ calculate: expression, as: "b" }] };
    await expect(chartSvg(spec, lightTheme, 300)).rejects.toThrow(Error);
  }
  expect(Object.keys(globalThis)).toHaveLength(before);
});

test("what is given to the library stays as it came", async () => {
  const frozen = JSON.parse(JSON.stringify(plain), (_key, value: unknown) => Object.freeze(value)) as typeof plain;
  await chartSvg(frozen, lightTheme, 300);
  expect(JSON.stringify(frozen)).toBe(JSON.stringify(plain));
});

test("K-16 a view that is let go keeps nothing", async () => {
  const view = makeView(compileChart(plain, chartConfig(lightTheme)), "none");
  await view.runAsync();
  expect(() => view.finalize()).not.toThrow();
});

test("a plot without a width fills what there is, one with a width keeps it", async () => {
  const widthOf = async (spec: object): Promise<number> => Number(/width="(\d+)"/.exec(await chartSvg(spec as never, lightTheme, 500))?.[1]);
  expect(await widthOf(plain)).toBeGreaterThan(470);
  expect(await widthOf(plain)).toBeLessThanOrEqual(500);
  expect(await widthOf({ ...plain, width: 100 })).toBeLessThan(200);
});

test("panels go into as many rows as the width needs", () => {
  const spec = { concat: [plain, plain, plain], columns: 3, usermeta: { fairstrike: { panelWidth: 200 } } };
  expect([300, 520, 900].map((width) => fitSpec(spec, width, 40)["columns"])).toEqual([1, 2, 3]);
  expect(fitSpec(spec, 900, 40)["usermeta"]).toBeUndefined();
});

test("text is broken at spaces, and a word that fits no line is cut", () => {
  expect(wrapWords("one two three four", (line) => line.length <= 9)).toEqual(["one two", "three", "four"]);
  expect(wrapWords("x".repeat(50), (line) => line.length <= 20)[0]!.length).toBeLessThanOrEqual(20);
});

test("groups have colours of their own, chosen by how dark the background is", () => {
  for (const theme of [lightTheme, darkTheme, contrastTheme]) expect(new Set(groupColours(theme)).size).toBe(7);
  expect(groupColours({ ...lightTheme, background: "rgb(30, 30, 30)" })).toEqual(groupColours(darkTheme));
});

test("the mark of a mean has an edge in the colour of words, that of a shot one in the background's", async () => {
  const point = (style?: string): object => ({ ...plain, mark: { type: "point", ...(style === undefined ? {} : { style }) } });
  const edgeOf = async (spec: object): Promise<string | undefined> => /aria-roledescription="point"[^>]* stroke="([^"]*)"/u.exec(await chartSvg(spec as never, darkTheme, 300))?.[1];
  expect(await edgeOf(point("mean"))).toBe(darkTheme.foreground);
  expect(await edgeOf(point())).toBe(darkTheme.background);
});

test("what is more stands out more, also in a light theme of high contrast", () => {
  const schemeOn = (background: string): unknown => (chartConfig({ ...contrastTheme, background })["range"] as { readonly heatmap: { readonly scheme: string } }).heatmap.scheme;
  expect(schemeOn("#ffffff")).toBe("blues");
  expect(schemeOn("#000000")).toBe("darkblue");
});
