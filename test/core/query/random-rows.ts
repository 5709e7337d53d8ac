import * as fc from "fast-check";
import { makeTable, numberColumn, textColumn, truthColumn, type Table } from "../../../core/table/table";

/** A plain value of a row; `null` is missing. */
export type Plain = number | string | boolean | null;

/** A row as the reference reads it. */
export type Row = Readonly<Record<string, Plain>>;

/** An expression as text, and what it must give for a row by the plainest reading. */
export interface Sample {
  readonly text: string;
  readonly value: (row: Row) => Plain;
}

const rowArbitrary = fc.record({
  n1: fc.constantFrom(null, 0, 1, -2.5, 7, 1e300),
  n2: fc.constantFrom(null, 0, 3, 7, -1e300),
  s1: fc.constantFrom(null, "Wren", "Heron", "low toe"),
  s2: fc.constantFrom(null, "Wren", "", "Ä"),
  t1: fc.constantFrom(null, true, false),
});

/** Tables of a few columns of each kind, with many missing values, and their rows. */
export const randomTables: fc.Arbitrary<{ readonly rows: readonly Row[]; readonly table: Table }> = fc
  .array(rowArbitrary, { maxLength: 12 })
  .map((rows) => ({
    rows,
    table: makeTable(
      [
        numberColumn("n1", rows.map((row) => row.n1)),
        numberColumn("n2", rows.map((row) => row.n2)),
        textColumn("s1", rows.map((row) => row.s1)),
        textColumn("s2", rows.map((row) => row.s2)),
        truthColumn("t1", rows.map((row) => row.t1)),
      ],
      rows.length,
    ),
  }));

/** A number that can be shown, or missing. */
const settled = (value: number): number | null => (Number.isFinite(value) ? value : null);

const arithmetic: Record<string, (a: number, b: number) => number> = {
  "+": (a, b) => a + b,
  "-": (a, b) => a - b,
  "*": (a, b) => a * b,
  "/": (a, b) => a / b,
  "%": (a, b) => a % b,
};

const comparisons: Record<string, (a: number | string, b: number | string) => boolean> = {
  "===": (a, b) => a === b,
  "!==": (a, b) => a !== b,
  "<": (a, b) => a < b,
  "<=": (a, b) => a <= b,
  ">": (a, b) => a > b,
  ">=": (a, b) => a >= b,
};

function column(name: string): fc.Arbitrary<Sample> {
  return fc.constant({ text: `d.${name}`, value: (row: Row) => row[name]! });
}

function literal(...values: Plain[]): fc.Arbitrary<Sample> {
  return fc.constantFrom(...values).map((value) => ({ text: JSON.stringify(value), value: () => value }));
}

function strict(of: readonly Sample[], text: string, apply: (...values: never[]) => Plain): Sample {
  return {
    text,
    value: (row) => {
      const values = of.map((part) => part.value(row));
      return values.includes(null) ? null : apply(...(values as never[]));
    },
  };
}

function choose(test: Sample, yes: Sample, no: Sample): Sample {
  return {
    text: `(${test.text} ? ${yes.text} : ${no.text})`,
    value: (row) => {
      const decided = test.value(row);
      return decided === null ? null : decided === true ? yes.value(row) : no.value(row);
    },
  };
}

function logic(operator: "&&" | "||", left: Sample, right: Sample): Sample {
  return {
    text: `(${left.text} ${operator} ${right.text})`,
    value: (row) => {
      const both = [left.value(row), right.value(row)];
      const settles = operator === "||";
      if (both.includes(settles)) return settles;
      return both.includes(null) ? null : !settles;
    },
  };
}

function missingTest(operator: "===" | "!==", of: Sample): Sample {
  return { text: `(${of.text} ${operator} null)`, value: (row) => (of.value(row) === null) === (operator === "===") };
}

const depth = { maxDepth: 4, depthSize: "small" } as const;

const samples = fc.letrec<{ number: Sample; text: Sample; truth: Sample }>((tie) => ({
  number: fc.oneof(
    depth,
    column("n1"),
    column("n2"),
    literal(0, 1, 2.5, 7),
    tie("number").map((of) => strict([of], `-${of.text}`.replace("--", "- -"), (value: number) => -value)),
    fc
      .tuple(fc.constantFrom(...Object.keys(arithmetic)), tie("number"), tie("number"))
      .map(([operator, a, b]) => strict([a, b], `(${a.text} ${operator} ${b.text})`, (x: number, y: number) => settled(arithmetic[operator]!(x, y)))),
    fc.tuple(tie("truth"), tie("number"), tie("number")).map(([test, yes, no]) => choose(test, yes, no)),
    tie("number").map((of) => strict([of], `op.abs(${of.text})`, (value: number) => Math.abs(value))),
    tie("number").map((of) => strict([of], `op.sqrt(${of.text})`, (value: number) => settled(Math.sqrt(value)))),
    tie("text").map((of) => strict([of], `op.length(${of.text})`, (value: string) => value.length)),
    fc.tuple(tie("number"), tie("number")).map(([a, b]) => ({ text: `op.if_missing(${a.text}, ${b.text})`, value: (row: Row) => a.value(row) ?? b.value(row) })),
  ),
  text: fc.oneof(
    depth,
    column("s1"),
    column("s2"),
    literal("Wren", "", "zz", 'a"b'),
    fc.tuple(tie("truth"), tie("text")).map(([test, yes]) => choose(test, yes, { text: "null", value: () => null })),
    tie("text").map((of) => strict([of], `op.upper(${of.text})`, (value: string) => value.toUpperCase())),
  ),
  truth: fc.oneof(
    depth,
    column("t1"),
    literal(true, false),
    tie("truth").map((of) => strict([of], `!${of.text}`, (value: boolean) => !value)),
    fc.tuple(fc.constantFrom<"&&" | "||">("&&", "||"), tie("truth"), tie("truth")).map(([operator, a, b]) => logic(operator, a, b)),
    fc
      .tuple(fc.constantFrom(...Object.keys(comparisons)), fc.oneof(fc.tuple(tie("number"), tie("number")), fc.tuple(tie("text"), tie("text"))))
      .map(([operator, [a, b]]) => strict([a, b], `(${a.text} ${operator} ${b.text})`, (x: number, y: number) => comparisons[operator]!(x, y))),
    fc.tuple(fc.constantFrom<"===" | "!==">("===", "!=="), fc.oneof(tie("number"), tie("text"), tie("truth"))).map(([operator, of]) => missingTest(operator, of)),
    fc.tuple(tie("text"), tie("text")).map(([a, b]) => strict([a, b], `op.starts_with(${a.text}, ${b.text})`, (x: string, y: string) => x.startsWith(y))),
    tie("text").map((of) => strict([of], `op.any_of(${of.text}, "Wren", "zz")`, (x: string) => x === "Wren" || x === "zz")),
  ),
}));

/** Expressions of each kind over the columns of the random tables. */
export const randomExpressions = { number: samples.number, text: samples.text, truth: samples.truth };
