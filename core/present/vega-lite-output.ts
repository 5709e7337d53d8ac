import type { ChartPayload } from "./payload";

/**
 * A chart as an output of the open type `application/vnd.vegalite.v6+json`: the specification itself, which any
 * renderer of that type can draw. What it shows in words and the table it draws are under `usermeta`, which the
 * standard leaves to programs.
 */
export function vegaLiteOutput(chart: ChartPayload): Readonly<Record<string, unknown>> {
  const { spec, description, table } = chart;
  return { ...spec, description, usermeta: { fairstrike: { description, table } } };
}

/** What was put into an output by `vegaLiteOutput`, not yet checked; any other value as it is. */
export function chartInOutput(value: unknown): unknown {
  if (!isRecord(value) || !isRecord(value["usermeta"]) || !isRecord(value["usermeta"]["fairstrike"])) return value;
  const { usermeta, ...spec } = value;
  const { description, table } = (usermeta as { readonly fairstrike: Readonly<Record<string, unknown>> }).fairstrike;
  return { type: "chart", spec, description, table };
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
