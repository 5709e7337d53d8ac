/** Why a property of Vega-Lite is not taken, by its key. */
const expressions = "text is never run as a program: compute the column in a query cell, or use an object such as { \"field\": \"carry\", \"gt\": 150 }";
const data = "a chart draws the table that the cell's first line names, and nothing else";
const links = "a chart links to nothing and loads nothing";
const parameters = "charts have no parameters and no selections";

/** Keys that are refused wherever they stand, with the reason. */
export const refusedKeys: Readonly<Record<string, string>> = {
  data,
  datasets: data,
  url: links,
  href: links,
  lookup: "join the tables in a query cell",
  from: data,
  params: parameters,
  param: parameters,
  selection: parameters,
  select: parameters,
  bind: parameters,
  expr: expressions,
  signal: expressions,
  calculate: expressions,
  labelExpr: expressions,
  test: expressions,
  filter: expressions,
  timeUnit: "dates and times are text here: make a column of them in a query cell",
  sample: "a random sample has no seed here: filter the rows in a query cell",
  flatten: "make the rows in a query cell",
  pivot: "pivot in a query cell",
  extent: parameters,
  repeat: "write the views out in hconcat or vconcat",
  projection: "maps are not drawn",
};

/** Words that are refused as a value, with the reason. */
export const refusedWords: Readonly<Record<string, string>> = {
  image: links,
  geoshape: "maps are not drawn",
  ci: "its interval is resampled without a seed, and shots are not independent: use compare, or \"stderr\"",
  ci0: "it is resampled without a seed: use compare, or \"stderr\"",
  ci1: "it is resampled without a seed: use compare, or \"stderr\"",
  temporal: "dates and times are text here: use \"ordinal\"",
  geojson: "maps are not drawn",
  container: "leave the width out: a chart fills the width that there is",
};

/** Keys of the whole specification that are passed over with a warning, with the reason. */
export const ignoredKeys: Readonly<Record<string, string>> = {
  usermeta: "a chart cell carries no settings for other programs",
  config: "the theme of the editor decides how charts look",
  background: "the theme of the editor decides how charts look",
  padding: "the space around a chart is set where it is shown",
  autosize: "a chart fills the width that there is",
  name: "the cell's first line names the chart",
};

/** Keys that only a specification of Vega has at its top. */
export const vegaKeys: readonly string[] = ["marks", "signals", "scales", "axes", "legends", "projections"];
