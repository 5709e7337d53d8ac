import { defaultLimits, type Limits } from "../limits";
import { lineTable, type LineTable, type TextRange } from "../text-position";
import { sourceNames } from "./names";
import { childrenOf, isChosen } from "./chosen-words";
import { parseQuery } from "./parse-query";
import { isChartCall, type CellSyntax, type Span, type Syntax } from "./syntax";

/** One use of a table by its name. */
export interface Reference {
  readonly name: string;
  readonly range: TextRange;
}

/** One path given to `session` or `sessions`; one that cannot be that of a session file is none, and is told as such where it stands. */
export interface PathReference {
  readonly path: string;
  readonly range: TextRange;
  readonly function: "session" | "sessions";
}

/** What a cell takes from elsewhere. */
export interface References {
  readonly names: readonly Reference[];
  readonly paths: readonly PathReference[];
  /** Every use of a choice of the front matter by its name. */
  readonly choices: readonly Reference[];
  /** True where `choose()` stands, which takes all choices. */
  readonly allChoices: boolean;
  /** What the cell gives, whatever else may be wrong with it; a table where its text cannot be read. */
  readonly gives: "table" | "chart" | "text";
}

/** True for what can be the path of a session file, or a pattern of several. */
export function isSessionPath(path: string): boolean {
  return path.endsWith(".session.yaml");
}

/** Names that stand for a part of the language where a table could stand. */
const places: ReadonlySet<string> = new Set(["op", "chart", "chosen", "text", "session", "sessions", ...sourceNames]);

/** A comment, a call that opens sessions with the text it is given, or another text, which hides what looks like one. */
const openings =
  /\/\*[^]*?(?:\*\/|$)|\/\/[^\n]*|(?<![.\p{ID_Continue}$])(?<opens>sessions?)(?<gap>\s*\(\s*)(?<text>"[^"\\\n]*"|'[^'\\\n]*')|"(?:[^"\\\n]|\\.)*"?|'(?:[^'\\\n]|\\.)*'?/gu;

/**
 * The tables and paths that a query cell names, whether or not its verbs and columns are right; no tables when its text
 * cannot be read, but paths still, since their columns are wanted while what follows is being written. Cheap: for putting cells in order and finding the files they need.
 *
 * @param text the whole text of the cell; ranges are in it.
 * @param bodyOffset where its body begins, in UTF-16 units.
 */
export function referencesOf(text: string, bodyOffset: number, limits: Limits = defaultLimits): References {
  const cell = parseQuery(text, bodyOffset, limits).value;
  const lines = lineTable(text);
  if (cell === null) return { names: [], paths: pathsInBrokenText(text, bodyOffset, lines), choices: [], allChoices: false, gives: "table" };
  return findReferences(cell, (span) => lines.rangeAt(span.from, span.to));
}

function pathsInBrokenText(text: string, bodyOffset: number, lines: LineTable): readonly PathReference[] {
  return [...text.slice(bodyOffset).matchAll(openings)].flatMap(({ index, groups }): PathReference[] => {
    const { opens, gap, text: written } = groups ?? {};
    if (opens === undefined || gap === undefined || written === undefined || !isSessionPath(written.slice(1, -1))) return [];
    const from = bodyOffset + index + opens.length + gap.length;
    return [{ path: written.slice(1, -1), range: lines.rangeAt(from, from + written.length), function: opens === "session" ? "session" : "sessions" }];
  });
}

/** The same for a cell that is parsed already. */
export function findReferences(cell: CellSyntax, rangeOf: (span: Span) => TextRange): References {
  const names: Reference[] = [];
  const paths: PathReference[] = [];
  const constants = new Set<string>();
  const choices: Reference[] = [];
  let allChoices = false;

  /** Choices stand in row functions too. */
  function visitChoices(node: Syntax): void {
    if (isChosen(node)) choices.push({ name: node.name, range: rangeOf(node.nameSpan) });
    else if (node.kind === "call" && node.callee.kind === "member" && node.callee.name === "choose") {
      if (node.given.length === 0) allChoices = true;
      for (const given of node.given) if (given.kind === "text") choices.push({ name: given.value, range: rangeOf(given) });
        // Its name is not known before the cell is checked.
        else allChoices = true;
    }
    childrenOf(node).forEach(visitChoices);
  }

  function visit(node: Syntax): void {
    switch (node.kind) {
      case "name":
        if (!constants.has(node.name) && !places.has(node.name)) names.push({ name: node.name, range: rangeOf(node) });
        return;
      case "member":
        return visit(node.of);
      case "call": {
        const { callee, given } = node;
        if (callee.kind !== "name") visit(callee);
        else if (callee.name === "session" || callee.name === "sessions") {
          const path = given[0];
          if (path?.kind === "text" && isSessionPath(path.value)) paths.push({ path: path.value, range: rangeOf(path), function: callee.name });
        }
        return given.forEach(visit);
      }
      case "object":
        return node.entries.forEach((entry) => visit(entry.value));
      case "list":
        return node.items.forEach(visit);
      case "negate":
      case "not":
        return visit(node.of);
      case "binary":
        visit(node.left);
        return visit(node.right);
      case "choose":
        visit(node.test);
        visit(node.yes);
        return visit(node.no);
      // A row function sees its row and constants, never a table.
      case "row function":
      case "number":
      case "text":
      case "truth":
      case "missing":
        return;
    }
  }

  for (const { name, value } of cell.constants) {
    visitChoices(value);
    visit(value);
    constants.add(name);
  }
  const { result } = cell;
  if (result.kind === "text with holes") {
    result.holes.forEach(visit);
    result.holes.forEach(visitChoices);
    return { names, paths, choices, allChoices, gives: "text" };
  }
  visit(result);
  visitChoices(result);
  return { names, paths, choices, allChoices, gives: isChartCall(result) ? "chart" : "table" };
}
