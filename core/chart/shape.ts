/**
 * What may stand at one place of a chart's specification.
 *
 * A union has at most one shape a kind of JSON value, so that what is meant is clear from what is written.
 */
export type Shape =
  | { readonly is: "number"; readonly least: number; readonly most: number }
  | { readonly is: "words" }
  | { readonly is: "pattern"; readonly pattern: RegExp; readonly what: string }
  | { readonly is: "choice"; readonly of: readonly string[] }
  | { readonly is: "truth" }
  | { readonly is: "null" }
  /** The name of a column of the table that is drawn. */
  | { readonly is: "column" }
  /** A new name for what a transform makes. */
  | { readonly is: "new column" }
  | { readonly is: "list"; readonly of: Shape; readonly most: number }
  | { readonly is: "object"; readonly of: Properties }
  /** The transforms of a view, told apart by their keys. */
  | { readonly is: "transforms" }
  | { readonly is: "union"; readonly of: readonly Shape[] }
  /** A shape that contains itself. */
  | { readonly is: "later"; readonly shape: () => Shape };

/** The properties that an object may have. */
export type Properties = Readonly<Record<string, Shape>>;

/** A number from `least` to `most`, both included. */
export function number(least = -1e6, most = 1e6): Shape {
  return { is: "number", least, most };
}

/** One of the given words. */
export function choice(...of: readonly string[]): Shape {
  return { is: "choice", of };
}

/** A list of at most `most` values of one shape. */
export function list(of: Shape, most = 200): Shape {
  return { is: "list", of, most };
}

/** An object with the given properties, none of them required. */
export function object(of: Properties): Shape {
  return { is: "object", of };
}

/** One of several shapes; unions in it are laid open. */
export function union(...of: readonly Shape[]): Shape {
  return { is: "union", of: of.flatMap((shape) => (shape.is === "union" ? shape.of : [shape])) };
}

export const words: Shape = { is: "words" };
export const truth: Shape = { is: "truth" };
export const nothing: Shape = { is: "null" };
export const column: Shape = { is: "column" };
export const newColumn: Shape = { is: "new column" };

/** A colour: a name, `#rgb` or `rgb(…)`; nothing that could point anywhere. */
export const colour: Shape = {
  is: "pattern",
  pattern: /^(?:#[0-9a-f]{3,8}|[a-z]{3,24}|(?:rgb|hsl)a?\([\d.,%\s/]{1,40}\))$/i,
  what: 'a colour such as "teal" or "#009e73"',
};

/** A format of numbers, with widths and decimals of at most two digits. Source: the specifiers of d3-format 3. */
export const numberFormat: Shape = {
  is: "pattern",
  pattern: /^(?:[^{}]?[<>=^])?[-+( ]?[$#]?0?\d{0,2},?(?:\.\d{1,2})?~?[a-z%]?$/i,
  what: 'a number format such as ".1f" or "d"',
};

/** What is accepted at a place, in words. */
export function inWordsOf(shape: Shape): string {
  switch (shape.is) {
    case "number":
      return Math.abs(shape.most) >= 1e6 ? "a number" : `a number from ${shape.least} to ${shape.most}`;
    case "words":
      return "text";
    case "pattern":
      return shape.what;
    case "choice":
      return shape.of.length > 16 ? `one of ${shape.of.slice(0, 12).map(quoted).join(", ")} … (${shape.of.length} in all)` : shape.of.map(quoted).join(", ");
    case "truth":
      return "true or false";
    case "null":
      return "null";
    case "column":
      return "the name of a column";
    case "new column":
      return "a new name";
    case "list":
      return shape.most < 200 ? `a list of at most ${shape.most}` : `a list`;
    case "object":
      return "an object";
    case "transforms":
      return "a list of transforms";
    case "union":
      return shape.of.map(inWordsOf).join(", or ");
    case "later":
      return inWordsOf(shape.shape());
  }
}

function quoted(word: string): string {
  return `"${word}"`;
}
