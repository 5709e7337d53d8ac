import { isRecord } from "../is-record";
import { hintsOf } from "../chart/fit-spec";
import type { ChartPayload } from "./payload";

/**
 * A chart as an output of the open type `application/vnd.vegalite.v6+json`: the specification itself, which any
 * renderer of that type can draw. What it shows in words and the table it draws are under `usermeta`, which the
 * standard leaves to programs.
 */
export function vegaLiteOutput(chart: ChartPayload): Readonly<Record<string, unknown>> {
  const { spec, description, table } = chart;
  return { ...spec, description, usermeta: { fairstrike: { description, table, ...(spec["usermeta"] === undefined ? {} : { hints: hintsOf(spec) }) } } };
}

/** What was put into an output by `vegaLiteOutput`, not yet checked; any other value as it is. */
export function chartInOutput(value: unknown): unknown {
  if (!isRecord(value) || !isRecord(value["usermeta"]) || !isRecord(value["usermeta"]["fairstrike"])) return value;
  const { usermeta, ...spec } = value;
  const { description, table, hints } = (usermeta as { readonly fairstrike: Readonly<Record<string, unknown>> }).fairstrike;
  // What the chart says of its size must reach whoever draws it: one scale for both axes hangs on it.
  return { type: "chart", spec: isRecord(hints) ? { ...spec, usermeta: { fairstrike: hints } } : spec, description, table };
}
