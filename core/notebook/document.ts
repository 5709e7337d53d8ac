import type { Measure, UnitSystem } from "../units";

/** What a cell is. `front` is the front matter, always first; a `conflict` is a region with merge markers. */
export type CellKind = "front" | "prose" | "query" | "chart" | "conflict";

/**
 * How a cell stands in the file wherever that differs from the canonical form; every property is optional and absent
 * when canonical, so that a cell copied, split or made anew is simply canonical. There are no offsets and no lines.
 */
export interface CellForm {
  /** Spaces before the opening fence, 1 to 3. */
  readonly indent?: number;
  /** The opening fence, when it is not three backticks. */
  readonly fence?: string;
  /** The closing fence line as it stands, when it is not the opening fence; "" when the fence is never closed. */
  readonly closing?: string;
  /** The info word, when it is not the canonical one of its kind. */
  readonly word?: string;
  /** White space between info word and attributes, and after them, where not a single space and nothing. */
  readonly gap?: string;
  readonly trail?: string;
  /** The text between this cell and the one before it, when not one blank line (or nothing, for the first). */
  readonly before?: string;
  /** The text after the last cell, when not one line end. */
  readonly after?: string;
  /** The cell's whole text in the file, where line ends are mixed or it cannot be rebuilt from the rest. */
  readonly raw?: string;
}

/**
 * One cell: its kind, its text as an editor shows it (LF line ends), and how it stands in the file.
 *
 * The text of a query or chart cell begins with its header line (`query=gap`), then its body. The text of the front
 * matter is the YAML between the `---` lines.
 */
export interface Cell {
  readonly kind: CellKind;
  readonly text: string;
  readonly form: CellForm;
}

/** A notebook as text: its cells in order and the line end that new lines get. */
export interface NotebookDocument {
  readonly cells: readonly Cell[];
  readonly lineEnd: "\n" | "\r\n" | "\r";
  /** True when the file begins with a byte order mark. */
  readonly mark: boolean;
}

/** The header line of a query or chart cell, read. */
export interface CellHeader {
  readonly kind: "query" | "chart";
  readonly name: string;
  /** For a chart: the table it draws, and its description. */
  readonly table: string | null;
  readonly description: string | null;
}

/** The front matter, read. What is absent has its default. */
export interface FrontMatter {
  readonly title: string | null;
  /** Session files, as given. */
  readonly shots: readonly string[];
  readonly units: UnitSystem;
  readonly margins: Readonly<Record<string, Measure>>;
  readonly seed: number;
}
