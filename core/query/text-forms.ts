import type { Help } from "./vocabulary";

/** One form of a text with computed numbers: how it is written, and what it is for. */
export interface TextForm {
  /** The name that a hole ends with; `null` for a form without one. */
  readonly ending: string | null;
  readonly form: string;
  readonly help: Help;
}

const wren = 'shots.filter(d => d.head === "Wren")';

/** A text with computed numbers, and what its holes can hold: what checking reads and the reference shows. */
export const textForms: readonly TextForm[] = [
  {
    ending: null,
    form: "text`…`",
    help: {
      summary:
        "Gives words in Markdown whose numbers come from tables: a cell's last expression, with a hole ${…} for each number. " +
        "What a hole gives from the data is shown as it is and never becomes markup; holes stand in sentences, headings, lists and tables, not in code, HTML or addresses.",
      example: `text\`Wren carried **\${${wren}.rollup({ mean: op.mean("carry") }).one("mean")}** on average.\``,
    },
  },
  {
    ending: "one",
    form: 'TABLE.one("column", decimals)',
    help: {
      summary:
        "The value of the only row of a table, with its unit; decimals as the table shows them unless they are given (0 to 10). A missing value is a dash.",
      example: `text\`The longest was \${shots.orderby(op.desc("carry")).slice(0, 1).one("carry", 0)}.\``,
    },
  },
  {
    ending: "sentences",
    form: "TABLE.sentences()",
    help: {
      summary: "What a verb of the trade answers, and whose shots these were, straight behind that verb or the name of its cell; all its sentences stand below its table.",
      example: 'text`${shots.describe({ of: "carry", by: "head" }).sentences()}`',
    },
  },
  {
    ending: null,
    form: "TABLE",
    help: {
      summary: "The first 50 rows of a table, on a line to itself; how many are left out is said below.",
      example: 'text`${shots.groupby("head").count()}`',
    },
  },
];

const endings: ReadonlySet<string> = new Set(textForms.flatMap(({ ending }) => ending ?? []));

/** Names that a hole of a text can end with, `TABLE.one("carry")`. */
export const textEndings: readonly string[] = [...endings];

/** True for a name that a hole of a text can end with, and that no verb has. */
export function isTextEnding(name: string): boolean {
  return endings.has(name);
}
