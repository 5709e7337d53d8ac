import { replaceSpans } from "../../core/replace-spans";
import { checkNotebook } from "../../core/check-notebook";
import type { NotebookDocument } from "../../core/notebook/document";
import type { Problem } from "../../core/problem";
import { shown } from "../../core/problem-kind";
import { readCells } from "../../core/read-cells";
import { lineTable } from "../../core/text-position";
import type { CellEdit } from "./answers";
import { originOf } from "./column-origins";
import { makeView } from "./make-view";
import type { NotebookView } from "./notebook-view";
import { namesOf, readCellOf } from "./occurrences";
import { symbolOf, type PlacedName } from "./references";

/** A rename that is to be made: the names that change, what they become, and what they stand for. */
export interface Renaming {
  readonly symbol: string;
  readonly names: readonly PlacedName[];
  readonly to: string;
  readonly edits: readonly CellEdit[];
}

/**
 * Why a rename would change more than names, in words; `null` when it would not.
 *
 * The notebook is checked again as it would be: there may be no problem that was not there before, every name must stand
 * for what it stands for now, and every cell must give the same columns but for the one renamed.
 */
export function whyNotRenamed(view: NotebookView, renaming: Renaming): string | null {
  const after = viewAfter(view, renaming.edits);
  for (const { index } of view.cells) {
    const because = newProblem(view, after, index);
    if (because !== null) return because;
  }
  return otherMeaning(view, after, renaming) ?? otherColumns(view, after, renaming);
}

/** The notebook as it would be, checked against the same sessions. */
function viewAfter(view: NotebookView, edits: readonly CellEdit[]): NotebookView {
  const byCell = new Map<number, CellEdit[]>();
  for (const edit of edits) byCell.set(edit.cell, [...(byCell.get(edit.cell) ?? []), edit]);
  const cells = view.cells.map(({ kind, text, index }) => ({ kind, text: replaceSpans(text, byCell.get(index) ?? []), form: {} }));
  const document: NotebookDocument = { cells, lineEnd: "\n", mark: false };
  const { vocabulary, limits } = view.surroundingsOf(0);
  const notebook = readCells(document);
  const checked = checkNotebook(document, notebook, view.sources, vocabulary, limits);
  return makeView(document, view.path, { notebook, sources: view.sources, checked }, { vocabulary, limits, listFolder: view.listFolder });
}

function newProblem(before: NotebookView, after: NotebookView, index: number): string | null {
  const counts = new Map<string, number>();
  for (const { code } of before.cells[index]!.checked.problems) counts.set(code, (counts.get(code) ?? 0) + 1);
  for (const found of after.cells[index]!.checked.problems) {
    const left = (counts.get(found.code) ?? 0) - 1;
    if (left < 0) return `${placeInWords(before, index, found)} would then have a problem: ${found.message}`;
    counts.set(found.code, left);
  }
  return null;
}

function placeInWords(view: NotebookView, index: number, { range }: Pick<Problem, "range">): string {
  return `${cellInWords(view, index)}, line ${range.start.line},`;
}

/** What a cell is called in a sentence. */
export function cellInWords(view: NotebookView, index: number): string {
  const cell = readCellOf(view, index);
  return cell?.isNamed === true ? `the cell ${cell.name}` : `cell ${index + 1}`;
}

function otherMeaning(before: NotebookView, after: NotebookView, { names, to }: Renaming): string | null {
  const changed = new Map(names.map((name) => [`${name.cell}:${name.from}`, to + name.ending]));
  const nowMeans = new Map<string, string>();
  const meant = new Map<string, string>();
  for (const { index, text } of before.cells) {
    const [was, is] = [namesOf(before, index).names, namesOf(after, index).names];
    for (const [i, one] of was.entries()) {
      const other = is[i];
      const word = changed.get(`${index}:${one.from}`) ?? one.name;
      const fits = other !== undefined && other.role === one.role && other.name === word && other.isDeclaration === one.isDeclaration && (one.symbol === null) === (other.symbol === null);
      const same = fits && isPaired(one.symbol, other.symbol, nowMeans, meant);
      if (!same) return `in ${cellInWords(before, index)}, line ${lineTable(text).positionAt(one.from).line}, ${shown(word)} would then stand for something else`;
    }
    if (is.length > was.length) return `${cellInWords(before, index)} would then use more names than it does`;
  }
  return null;
}

/** True as long as each symbol of the one notebook goes with one of the other. */
function isPaired(was: string | null, is: string | null, nowMeans: Map<string, string>, meant: Map<string, string>): boolean {
  if (was === null || is === null) return was === is;
  if (!nowMeans.has(was) && !meant.has(is)) {
    nowMeans.set(was, is);
    meant.set(is, was);
  }
  return nowMeans.get(was) === is && meant.get(is) === was;
}

function otherColumns(before: NotebookView, after: NotebookView, { symbol, to }: Renaming): string | null {
  for (const { index } of before.cells) {
    const [was, is] = [namesOf(before, index).result, namesOf(after, index).result];
    if (was === null || is === null) continue;
    const expected = was.schema.columns.map(({ name }) => {
      const origin = originOf(was.origins, name);
      return origin.symbol !== null && symbolOf(before, origin.symbol) === symbol ? to + origin.ending : name;
    });
    const found = is.schema.columns.map(({ name }) => name);
    const odd = expected.find((name, i) => name !== found[i]) ?? found[expected.length];
    if (odd !== undefined) return `${cellInWords(before, index)} would then give other columns than it does, ${shown(odd)} among them`;
  }
  return null;
}
