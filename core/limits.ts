/**
 * Every bound on what a file or a run may cost, in one place. Nothing in a repository can raise them.
 */
export interface Limits {
  /** Bytes of one raw export or session file. */
  readonly fileBytes: number;
  /** Rows of one raw export, and of any table made while running. */
  readonly rows: number;
  /** Columns of one table. */
  readonly columns: number;
  /**
   * Rows times columns of a table that a verb makes larger. Room for 2 million rows of 50 columns, 800 MB of numbers,
   * which a kernel's memory limit does not count.
   */
  readonly values: number;
  /** UTF-16 units of one cell's text. */
  readonly cellText: number;
  /** UTF-16 units of one notebook file. */
  readonly notebookText: number;
  /** Cells of one notebook. */
  readonly cells: number;
  /** Depth of nesting in a cell's text. */
  readonly depth: number;
  /** Syntax nodes in one cell. */
  readonly nodes: number;
  /** Row evaluations times nodes in one cell: the steps it may take. */
  readonly steps: number;
  /** Milliseconds one cell may run. */
  readonly cellTime: number;
  /** Rows sent with a result; the rest stay with the kernel. */
  readonly rowsShown: number;
  /** Marks in one chart. */
  readonly marks: number;
  /** Pixels of a chart's width or height. */
  readonly pixels: number;
  /** Panels of a faceted chart. */
  readonly panels: number;
  /** UTF-16 units of a text that a cell gives. */
  readonly textResult: number;
  /** UTF-16 units of a chart's specification. */
  readonly chartText: number;
  /** Problems listed for one file; the true total is said beside them. */
  readonly problems: number;
}

/**
 * Bytes of an export that an editor's language server reads, 16 MB: of a longer one it checks the beginning and says so.
 * A run and a check on the command line read all of it.
 */
export const editorExportBytes = 16 * 1024 * 1024;

/** The bounds in force. */
export const defaultLimits: Limits = {
  fileBytes: 500 * 1024 * 1024,
  rows: 2_000_000,
  columns: 500,
  values: 100_000_000,
  cellText: 64 * 1024,
  notebookText: 5 * 1024 * 1024,
  cells: 5_000,
  depth: 100,
  nodes: 10_000,
  steps: 2_000_000_000,
  cellTime: 10_000,
  rowsShown: 200,
  marks: 20_000,
  pixels: 4_000,
  panels: 64,
  textResult: 256 * 1024,
  chartText: 256 * 1024,
  problems: 100,
};
