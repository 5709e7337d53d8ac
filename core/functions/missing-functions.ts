import type { RowFunction } from "../query/vocabulary";
import { commonType, truthValue } from "./function-types";

const value = { name: "value", kind: "any" } as const;

/** Functions of values that may be missing. */
export const missingFunctions: readonly RowFunction[] = [
  {
    name: "is_missing",
    help: { summary: "Whether the value is missing; d.carry === null says the same.", example: "shots.filter(d => !op.is_missing(d.carry))" },
    parameters: [value],
    type: () => truthValue,
    takesMissing: true,
    apply: (given) => given === null,
  },
  {
    name: "if_missing",
    help: {
      summary: "The first value, or the second where the first is missing.",
      example: "shots.derive({ length: d => op.if_missing(d.carry, d.total) })",
    },
    parameters: [value, { name: "otherwise", kind: "any" }],
    type: commonType,
    takesMissing: true,
    apply: (given, otherwise) => given ?? otherwise ?? null,
  },
];
