import { createCheckMemo, type CheckMemo } from "./check-memo";
import type { CellHeader, FrontMatter, NotebookDocument } from "./notebook/document";
import { nameCells } from "./notebook/cell-names";
import { formatProblems } from "./notebook/newer-format";
import { readFrontMatter } from "./notebook/read-front-matter";
import { bodyOffset, readHeader } from "./notebook/read-header";
import { problem, type Problem } from "./problem";
import { referencesOf, type References } from "./query/references";
import { textStart, type TextRange } from "./text-position";

/** A query or chart cell as far as it can be read by itself. */
export interface ReadCell {
  /** The cell's number in the document, from 0. */
  readonly index: number;
  readonly kind: "query" | "chart";
  readonly text: string;
  readonly bodyOffset: number;
  /** `null` for a cell of the editor that was given no first line yet. */
  readonly header: CellHeader | null;
  /** The name as written, or `cell 3` where there is none. */
  readonly name: string;
  readonly nameRange: TextRange;
  /** True when other cells can use it by its name. */
  readonly isNamed: boolean;
  /** Every use of a table by its name, and every path. */
  readonly uses: References;
}

/** A notebook whose cells were read one by one, before any of them is checked. */
export interface ReadNotebook {
  /** The first front matter; all defaults when there is none. */
  readonly front: FrontMatter;
  /** The number of its cell; −1 when there is none. */
  readonly frontIndex: number;
  /** False when the front matter has a mistake by which sessions may be missing from `front.shots`. */
  readonly namesAllShots: boolean;
  readonly cells: readonly ReadCell[];
  /** Problems of front matter, header lines and conflicts, one list for each cell of the document. */
  readonly problems: readonly (readonly Problem[])[];
}

/** Reads what each cell of a notebook says about itself and which tables and files it names. */
export function readCells(document: NotebookDocument, memo: CheckMemo = createCheckMemo()): ReadNotebook {
  const frontIndex = document.cells.findIndex((cell) => cell.kind === "front");
  const front = readFrontMatter(document.cells[frontIndex]?.text ?? "");
  const cells: ReadCell[] = [];
  let named: NotebookDocument | null = null;
  const problems = document.cells.map(({ kind, text }, index): readonly Problem[] => {
    switch (kind) {
      case "front":
        if (index === frontIndex) return document.isNewer === true ? front.problems : [...formatProblems(text), ...front.problems];
        return [problem("nb.second-front", {}, firstLine(text))];
      case "conflict":
        return [problem("nb.conflict", {}, firstLine(text))];
      case "prose":
        return [];
      case "query":
      case "chart": {
        const read = readCell(kind, text, index, memo);
        cells.push(read.cell);
        if (read.cell.header !== null) return read.problems;
        named ??= nameCells(document);
        return withFirstLine(read.problems, text, named.cells[index]!.text);
      }
    }
  });
  const only = onlyTable(cells, front.value);
  for (const cell of cells) if (only !== null && cell.header !== null) problems[cell.index] = withTable(problems[cell.index]!, cell, cell.header, only);
  return { front: front.value, frontIndex, namesAllShots: !front.problems.some(losesShots), cells, problems };
}

/** The problems, where one is that a cell has no first line with the line that saving gives it as the fix. */
function withFirstLine(problems: readonly Problem[], text: string, named: string): readonly Problem[] {
  const line = named.slice(0, named.length - text.length);
  const fix = { title: `Call it ${line.trim().split("=")[1]!}`, edits: [{ range: textStart, text: line }] };
  return problems.map((each) => (each.code === "nb.no-header" ? { ...each, fix } : each));
}

/** The one table that a chart can draw; `null` where there are several or none. */
function onlyTable(cells: readonly ReadCell[], front: FrontMatter): string | null {
  const names = new Set([...(front.shots.length > 0 ? ["shots"] : []), ...cells.filter(({ isNamed, uses }) => isNamed && uses.gives === "table").map(({ name }) => name)]);
  return names.size === 1 ? [...names][0]! : null;
}

/** The problems, where one is that a chart names no table with the only one as the fix. */
function withTable(problems: readonly Problem[], { text }: ReadCell, { nameRange }: CellHeader, table: string): readonly Problem[] {
  const { line, column } = nameRange.end;
  const isQuoted = /["']/u.test(text[column - 1] ?? "");
  const at = { line, column: isQuoted ? column + 1 : column };
  const fix = { title: `Draw ${table}`, edits: [{ range: { start: at, end: at }, text: ` table=${table}` }] };
  return problems.map((each) => (each.code === "nb.no-table" ? { ...each, fix } : each));
}

function readCell(language: "query" | "chart", text: string, index: number, memo: CheckMemo): { cell: ReadCell; problems: readonly Problem[] } {
  const offset = bodyOffset(text);
  const { value: header, problems: found } = readHeader(text.split("\n", 1)[0]!);
  const kind = header?.kind ?? language;
  const nameRange = header?.nameRange ?? firstLine(text);
  const problems = [...found];
  if (kind === "chart" && (header?.table ?? null) === null) problems.push(problem("nb.no-table", {}, nameRange));
  return {
    cell: {
      index,
      kind,
      text,
      bodyOffset: offset,
      header,
      name: header?.name ?? `cell ${index + 1}`,
      nameRange,
      isNamed: header !== null && !found.some((each) => each.code === "nb.bad-name"),
      uses: kind === "query" ? memo.of("references", text, [], () => referencesOf(text, offset)) : tableOf(header, found),
    },
    problems,
  };
}

/** The table that a chart cell draws; none where what it names can be no table, which is among the problems. */
function tableOf(header: CellHeader | null, problems: readonly Problem[]): References {
  const { table, tableRange } = header ?? { table: null, tableRange: null };
  const isNone = table === null || tableRange === null || problems.some((found) => found.code === "nb.bad-table");
  return { names: isNone ? [] : [{ name: table, range: tableRange }], paths: [], choices: [], allChoices: false, gives: "chart" };
}

/** True for a mistake in the front matter by which fewer sessions may have been read than are named. */
function losesShots(found: Problem): boolean {
  if (found.severity !== "error") return false;
  if (found.code === "nb.value") return found.facts.key === "shots";
  return found.code === "nb.not-a-map" || /^(?:path|yaml)\./u.test(found.code);
}

/** The first line of a cell's text, for problems that concern the whole cell. */
function firstLine(text: string): TextRange {
  const end = text.indexOf("\n");
  return { start: { line: 1, column: 1 }, end: { line: 1, column: (end < 0 ? text.length : end) + 1 } };
}
