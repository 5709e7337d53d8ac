import type { RowFunction } from "../query/vocabulary";
import { commonType, pureNumber, someText, truthValue } from "./function-types";

const text = { name: "text", kind: "text" } as const;
const part = { name: "part", kind: "text" } as const;

/** Functions of text. There are no patterns and nothing that makes text longer without bound. */
export const textFunctions: readonly RowFunction[] = [
  {
    name: "lower",
    help: { summary: "The text in small letters, the same in every language.", example: 'shots.filter(d => op.lower(d.head) === "wren")' },
    parameters: [text],
    type: () => someText,
    apply: (value) => (value as string).toLowerCase(),
  },
  {
    name: "upper",
    help: { summary: "The text in capital letters, the same in every language.", example: "shots.derive({ label: d => op.upper(d.head) })" },
    parameters: [text],
    type: () => someText,
    apply: (value) => (value as string).toUpperCase(),
  },
  {
    name: "trim",
    help: { summary: "The text without white space at both ends.", example: "shots.derive({ label: d => op.trim(d.head) })" },
    parameters: [text],
    type: () => someText,
    apply: (value) => (value as string).trim(),
  },
  {
    name: "length",
    help: { summary: "How many characters the text has.", example: "shots.filter(d => op.length(d.note) > 0)" },
    parameters: [text],
    type: () => pureNumber,
    apply: (value) => Array.from(value as string).length,
  },
  {
    name: "starts_with",
    help: { summary: "Whether the text begins with a part.", example: 'shots.filter(d => op.starts_with(d.zone, "low"))' },
    parameters: [text, part],
    type: () => truthValue,
    apply: (value, begin) => (value as string).startsWith(begin as string),
  },
  {
    name: "ends_with",
    help: { summary: "Whether the text ends with a part.", example: 'shots.filter(d => op.ends_with(d.zone, "toe"))' },
    parameters: [text, part],
    type: () => truthValue,
    apply: (value, end) => (value as string).endsWith(end as string),
  },
  {
    name: "includes",
    help: { summary: "Whether a part stands somewhere in the text.", example: 'shots.filter(d => op.includes(d.zone, "toe"))' },
    parameters: [text, part],
    type: () => truthValue,
    apply: (value, middle) => (value as string).includes(middle as string),
  },
  {
    name: "any_of",
    help: { summary: "Whether the first value is one of the others.", example: 'shots.filter(d => op.any_of(d.head, "Wren", "Heron"))' },
    parameters: [
      { name: "value", kind: "any" },
      { name: "choice", kind: "any", rest: true },
    ],
    type: (given) => {
      const common = commonType(given);
      return typeof common === "string" ? common : truthValue;
    },
    matches: true,
    apply: (value, ...choices) => choices.includes(value),
  },
];
