import type { TextRange } from "../text-position";
import type { Measure, UnitSystem } from "../units";
import type { NotebookChoice } from "./choice";

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
  /**
   * The text between this cell and the one before it, from the line end of that one's last line on, when not a line
   * end and one blank line (or nothing, for the first).
   */
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
  /** True where the file was found to be of a newer format as it was parsed, and that is said of the file as a whole. */
  readonly isNewer?: true;
}

/** One attribute of a header line, with the places of its name and of its value without quotes. */
export interface HeaderAttribute {
  readonly value: string;
  readonly nameRange: TextRange;
  readonly valueRange: TextRange;
}

/** The header line of a query or chart cell, read. Ranges are in the line, which is line 1 of the cell's text. */
export interface CellHeader {
  readonly kind: "query" | "chart";
  readonly name: string;
  readonly nameRange: TextRange;
  /** For a chart: the table it draws, and its description. */
  readonly table: string | null;
  readonly tableRange: TextRange | null;
  readonly description: string | null;
  /** Every attribute in order, unknown ones too; of one that is there twice, the first. */
  readonly attributes: ReadonlyMap<string, HeaderAttribute>;
}

/** A session file, or the session files of a folder (`folder/*.session.yaml`), as the front matter names it. */
export interface NamedPath {
  readonly path: string;
  /** In the front matter's text. */
  readonly range: TextRange;
}

/** The front matter, read. What is absent has its default. */
export interface FrontMatter {
  readonly title: string | null;
  readonly shots: readonly NamedPath[];
  readonly units: UnitSystem;
  /** The margin of each shot column that has one, above 0 and in a unit that the column can have. */
  readonly margins: Readonly<Record<string, Measure>>;
  /** True when a margin is stated that cannot be read: no default may stand in for it. */
  readonly marginsUnread: boolean;
  readonly seed: number;
  /** Named choices that cells use, in their order. */
  readonly choices: readonly NotebookChoice[];
}
