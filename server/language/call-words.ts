import type { Aggregate, ChartKind, Help, Option, Options, Parameter, RowFunction, SourceKind, Verb } from "../../core/query/vocabulary";
import type { SignatureAnswer } from "./answers";
import { sentence } from "./column-hover";
import { codeBlock } from "./markdown-blocks";

/** What stands at one place of a call: a name of its own, or an option, which can stand anywhere between its braces. */
export interface CallPart {
  /** As it is written in the label. */
  readonly written: string;
  readonly documentation: string;
  /** The same in a list of all parts, where it says less. */
  readonly brief?: string;
  /** The option's name; `null` for what has its place by number. */
  readonly option: string | null;
  /** The number of the argument. */
  readonly place: number;
  /** True for what takes all arguments from its place on. */
  readonly takesRest: boolean;
}

/** How something is called: its label, each part, and what it does. */
export interface CallShape {
  readonly name: string;
  readonly parts: readonly CallPart[];
  readonly help: Help;
}

/** How a verb is called. */
export function shapeOfVerb({ name, parameters, help }: Verb): CallShape {
  return { name, parts: parameters.flatMap(partsOfParameter), help };
}

/** How a kind of chart is called. */
export function shapeOfChart({ name, options, needs, help }: ChartKind): CallShape {
  const table: CallPart = { ...noPart, written: "table", documentation: `The table to draw${needs.length === 0 ? "" : `; it needs ${needs.join(", ")}`}.`, place: 0 };
  return { name: `chart.${name}`, parts: [table, ...optionParts(options, 1)], help };
}

/** How a table made from options is called. */
export function shapeOfSource({ name, options, help }: SourceKind): CallShape {
  return { name, parts: optionParts(options, 0), help };
}

/** How a function of one row is called. */
export function shapeOfFunction({ name, parameters, help }: RowFunction): CallShape {
  const parts = parameters.map((parameter, place): CallPart => {
    const kind = { number: "A number", text: "Text", truth: "True or false", any: "Any value" }[parameter.kind];
    const more = parameter.rest === true ? ", one or more" : parameter.optional === true ? ", may be left out" : "";
    return { ...noPart, written: parameter.rest === true ? `${parameter.name}, …` : parameter.name, documentation: `${kind}${more}.`, place, takesRest: parameter.rest === true };
  });
  return { name: `op.${name}`, parts, help };
}

/** How a function of the rows of a group is called. */
export function shapeOfAggregate({ name, of, numbers, help }: Aggregate): CallShape {
  const kind = { number: "A column of numbers", text: "A column of text", any: "A column", none: "" }[of];
  const column: readonly CallPart[] = of === "none" ? [] : [{ ...noPart, written: '"column"', documentation: `${kind}, in quotes, or a row function: d => d.carry * 2.`, place: 0 }];
  const more = numbers.map((each, i): CallPart => ({ ...noPart, written: each.name, documentation: `A number from ${each.least} to ${each.most}.`, place: column.length + i }));
  return { name: `op.${name}`, parts: [...column, ...more], help };
}

/** `op.desc("carry")`, which belongs to an order and to nothing else. */
export const shapeOfDesc: CallShape = {
  name: "op.desc",
  parts: [{ written: '"column"', documentation: "A column, in quotes.", option: null, place: 0, takesRest: false }],
  help: { summary: "Orders by a column with the greatest first.", example: 'shots.orderby(op.desc("carry"))' },
};

/** `session("…")` and `sessions("…")`. */
export const shapesOfOpening: Readonly<Record<"session" | "sessions", CallShape>> = {
  session: {
    name: "session",
    parts: [{ written: '"path"', documentation: "The session file, relative to the notebook: a path that ends in .session.yaml.", option: null, place: 0, takesRest: false }],
    help: { summary: "Gives the shots of one session.", example: 'session("sessions/spring.session.yaml")' },
  },
  sessions: {
    name: "sessions",
    parts: [{ written: '"folder/*.session.yaml"', documentation: "A folder relative to the notebook; all its session files are read, in the order of their names.", option: null, place: 0, takesRest: false }],
    help: { summary: "Gives the shots of all sessions of a folder, one under another.", example: 'sessions("sessions/*.session.yaml")' },
  },
};

/** `.one("column", decimals)`, which ends a hole of a text. */
export function shapeOfEnding(name: string, help: Help): CallShape {
  const parts: readonly CallPart[] =
    name === "one"
      ? [
          { ...noPart, written: '"column"', documentation: "The column whose value is wanted, in quotes.", place: 0 },
          { ...noPart, written: "decimals", documentation: "Decimals, 0 to 10; may be left out.", place: 1 },
        ]
      : [];
  return { name, parts, help };
}

/** The label of a call, `compare({ of, by, margin })`, with where each part stands in it. */
export function labelOf({ name, parts }: CallShape): { readonly label: string; readonly spans: readonly { readonly from: number; readonly to: number }[] } {
  let label = `${name}(`;
  const spans = parts.map((part, i) => {
    const before = parts[i - 1];
    if (before !== undefined) label += before.option !== null && part.option === null ? " }, " : ", ";
    if (part.option !== null && (before === undefined || before.option === null)) label += "{ ";
    const from = label.length;
    label += part.written;
    return { from, to: label.length };
  });
  return { label: `${label}${parts.length > 0 && parts.at(-1)!.option !== null ? " }" : ""})`, spans };
}

/** The call as signature help shows it, with the number of the part at the cursor. */
export function signatureOf(shape: CallShape, active: number | null): SignatureAnswer {
  const { label, spans } = labelOf(shape);
  return { label, documentation: shape.help.summary, parameters: spans.map((span, i) => ({ ...span, documentation: shape.parts[i]!.documentation })), active };
}

/** The call as a hover shows it, in Markdown: label, what it does, each part, how it is computed, an example. */
export function callMarkdown(shape: CallShape, more: readonly string[] = []): string {
  const { help, parts } = shape;
  return [
    codeBlock(labelOf(shape).label, "js"),
    help.summary,
    ...(parts.length === 0 ? [] : [parts.map(({ written, brief, documentation }) => `- \`${written}\`: ${brief ?? documentation}`).join("\n")]),
    ...(help.method === undefined ? [] : [`**Method.** ${help.method}`]),
    ...more,
    codeBlock(help.example, "js"),
  ].join("\n\n");
}

/** What an option can be given as, in words, where its help does not say it: `one of "as struck", "same"`; else `null`. */
function optionInWords(option: Option): string | null {
  switch (option.kind) {
    case "column":
    case "columns":
    case "text":
      return null;
    case "choice":
      return `one of ${option.choices.map((choice) => `"${choice}"`).join(", ")}`;
    case "number":
      return `a ${option.whole ? "whole " : ""}number${option.whole ? wholeBounds(option) : bounds(option)}`;
    case "measure":
      return "a number with its unit, in quotes";
    case "quantity":
      return `a number with its unit, as "${option.example}"`;
    case "truth":
      return "true or false";
    case "windows":
      return "ranges by column, in quotes";
  }
}

/** What an option is for and what it can be, in sentences. */
export function optionSentences(option: Option): string {
  const kind = optionInWords(option);
  return kind === null ? helpOf(option) : `${helpOf(option)} ${sentence(kind)}`;
}

function helpOf({ required, help }: Option): string {
  return `${required ? "Needed. " : ""}${sentence(help)}`;
}

const noPart = { option: null, takesRest: false } as const;

function bounds({ above, below }: Extract<Option, { kind: "number" }>): string {
  const parts = [Number.isFinite(above) ? `above ${above}` : "", Number.isFinite(below) ? `below ${below}` : ""].filter((part) => part !== "");
  return parts.length === 0 ? "" : ` ${parts.join(" and ")}`;
}

/** The bounds of whole numbers, which belong to them. */
function wholeBounds(option: Extract<Option, { kind: "number" }>): string {
  const { above, below } = option;
  return Number.isFinite(above) && Number.isFinite(below) ? ` from ${Math.floor(above) + 1} to ${Math.ceil(below) - 1}` : bounds(option);
}

function partsOfParameter(parameter: Parameter, place: number): readonly CallPart[] {
  if (parameter.kind === "options") return optionParts(parameter.options, place);
  const takesRest = parameter.kind === "columns" || parameter.kind === "ordering" || parameter.kind === "choices";
  return [{ written: writtenAs(parameter), documentation: sentence(parameter.help), option: null, place, takesRest }];
}

function optionParts(options: Options, place: number): readonly CallPart[] {
  return Object.entries(options).map(([name, option]) => ({ written: name, documentation: optionSentences(option), brief: helpOf(option), option: name, place, takesRest: false }));
}

function writtenAs(parameter: Exclude<Parameter, { kind: "options" }>): string {
  switch (parameter.kind) {
    case "condition":
      return "d => condition";
    case "new columns":
      return "{ name: d => … }";
    case "aggregates":
      return "{ name: op.… }";
    case "choices":
      return '"choice", …';
    case "columns":
    case "ordering":
      return '"column", …';
    case "renames":
      return '{ old: "new" }';
    case "table":
    case "number":
      return parameter.name;
  }
}
