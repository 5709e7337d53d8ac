/** What the extension says of an output with a chart, in the metadata of the output, under `fairstrike`. */
export interface OutputPlace {
  /** The mark by which page and extension mean the same output. */
  readonly output: string;
  /** The name of the cell that it is of. */
  readonly cell: string;
}

/** What an output's metadata say of its place; what they do not say is empty. */
export function placeOfOutput(metadata: unknown): OutputPlace {
  const own = recordOf(recordOf(metadata)["fairstrike"]);
  const text = (name: keyof OutputPlace): string => (typeof own[name] === "string" ? own[name] : "");
  return { output: text("output"), cell: text("cell") };
}

function recordOf(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null ? (value as Readonly<Record<string, unknown>>) : {};
}
