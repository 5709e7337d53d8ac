import { isChoiceName } from "../../core/notebook/read-choices";
import { isEngineName, isRefusedKey, whyNotAName, whyNotARow } from "../../core/query/names";
import { shown } from "../../core/problem-kind";
import { isShotColumn } from "../../core/table/shot-columns";
import type { CellEdit, CellPlace, RenameAnswer } from "./answers";
import { cellInWords, whyNotRenamed } from "./check-rename";
import { symbolOfMade } from "./chart-names";
import { originOf, type Origins } from "./column-origins";
import { symbolOfChoice } from "./named-choices";
import type { NotebookView } from "./notebook-view";
import { isBroken, namesOf, readCellOf } from "./occurrences";
import { piecesFrom, textOfString, type Piece } from "./query-pieces";
import { everyName, nameAt, placeOf, sameAs, symbolOf, type PlacedName } from "./references";
import { writeName } from "./write-name";

/** The stretch of the name at an offset that can be renamed, or why it cannot, in words. */
export function renamableAt(view: NotebookView, cell: number, offset: number): CellPlace | { readonly because: string } {
  const name = nameAt(view, cell, offset);
  if (name === null) return { because: "there is no name here" };
  const because = whyFixed(view, name);
  return because === null ? placeOf(name) : { because };
}

/**
 * The edits that give the name at an offset another one wherever it stands in the notebook, in cells, in the fields
 * of charts and in front matter: all of them, or none and why not.
 *
 * Renamed are cells, constants, the rows of row functions, the choices of the front matter, and columns that a cell
 * declares or a chart makes for itself. What a name means, and what every cell gives, stay as they are.
 */
export function renameAt(view: NotebookView, cell: number, offset: number, newName: string): RenameAnswer {
  const refuse = (because: string): RenameAnswer => ({ ok: false, because });
  const name = nameAt(view, cell, offset);
  if (name === null) return refuse("there is no name here");
  const fixed = whyFixed(view, name);
  if (fixed !== null) return refuse(fixed);
  const { ending } = name;
  if (!newName.endsWith(ending)) return refuse(`a join puts ${shown(ending)} behind the column's name: it stays at the end of the new one`);
  const to = newName.slice(0, newName.length - ending.length);
  const from = name.name.slice(0, name.name.length - ending.length);
  if (to === from) return { ok: true, edits: [] };
  const names = sameAs(view, name);
  const symbol = symbolOf(view, name.symbol!);
  const because = whyNotCalled(view, name, to) ?? whyLost(view, name, from) ?? (name.role === "column" ? whyNoColumn(view, symbol, from, to) : null);
  if (because !== null) return refuse(because);
  const edits = names.map((each): CellEdit => ({ cell: each.cell, ...writeName(view.cells[each.cell]!.text, each, to + each.ending) }));
  const changed = whyNotRenamed(view, { symbol, names, to, edits });
  return changed === null ? { ok: true, edits } : refuse(changed);
}

/** Why the name is not one that is given in the notebook; `null` where it is. */
function whyFixed(view: NotebookView, name: PlacedName): string | null {
  const what = shown(name.name);
  switch (name.role) {
    case "cell":
      return whyFixedCell(view, name);
    case "constant":
    case "row":
      return isBroken(view, name.cell) ? `${cellInWords(view, name.cell)} cannot be read as it stands: mend it first` : null;
    case "column":
      return whyFixedColumn(view, name);
    case "named choice":
      return view.notebook.front.choices.some((choice) => choice.name === name.name) ? null : `there is no choice called ${what} in the front matter that can be read`;
    case "value":
      return `${what} is a value in the shots and no name of this notebook: what heads and sessions are called stands in the session file`;
    case "path":
      return `${what} is a file: give the file another name, then change it here`;
    case "verb":
    case "function":
    case "aggregate":
    case "chart kind":
    case "source":
    case "option":
    case "choice":
      return `${what} is a word of the query language`;
  }
}

function whyFixedCell(view: NotebookView, { name }: PlacedName): string | null {
  const declared = view.notebook.cells.filter(({ header }) => header?.name === name);
  if (declared.length === 1) return null;
  if (declared.length > 1) return `${declared.length} cells are called ${shown(name)}: which of them is meant cannot be told`;
  return name === "shots" ? "shots is the table of the front matter's sessions, and always called so" : `there is no cell called ${shown(name)}`;
}

function whyFixedColumn(view: NotebookView, { name, symbol: own, cell, files }: PlacedName): string | null {
  const what = shown(name);
  if (own === null) {
    const broken = isBroken(view, cell) ? `${cellInWords(view, cell)} cannot be read as it stands: mend it first` : null;
    return broken ?? `where the column ${what} is declared is not known`;
  }
  const symbol = symbolOf(view, own);
  if (symbol.startsWith("column:")) return null;
  if (!symbol.startsWith("shot column:")) return `${what} is what a verb calls its column: .rename({ … }) gives it another name`;
  const where = files.length === 0 ? "the session file" : files.join(", ");
  const column = symbol.slice("shot column:".length);
  const one = own === symbol ? "" : `, in one column with the shot column ${shown(column)}`;
  if (!isShotColumn(column)) return `${what} is a header of the export${one}: .rename({ … }) gives it another name, or columns: in ${where} makes it a shot column`;
  return `${what} is a shot column${one}, and these are always called so: which header it is read from stands under columns: in ${where}`;
}

/** Why nothing of its kind can have the new name. */
function whyNotCalled(view: NotebookView, { role, cell }: PlacedName, to: string): string | null {
  const no = (what: string, reason: string | null): string | null => (reason === null ? null : `${what} cannot be called ${shown(to)}: ${reason}`);
  if (role === "row") return no("a row", whyNotARow(to) ?? whyTaken(view, cell, to, "constant"));
  if (role === "column") return no("a column", whyNotAColumn(to));
  if (role === "named choice") return no("a choice", whyNotAChoice(view, to));
  const isTaken = view.notebook.cells.some(({ header }) => header?.name === to);
  if (isTaken) return `there is a cell called ${shown(to)} already`;
  const reason = whyNotAName(to);
  if (reason !== null || role === "constant") return no(role === "cell" ? "a cell" : "a constant", reason ?? whyTaken(view, cell, to, "constant") ?? whyTaken(view, cell, to, "row"));
  return null;
}

function whyTaken(view: NotebookView, cell: number, to: string, by: "constant" | "row"): string | null {
  const isTaken = namesOf(view, cell).names.some(({ role, name, isDeclaration }) => role === by && isDeclaration && name === to);
  return isTaken ? `the cell has a ${by} of that name` : null;
}

function whyNotAChoice(view: NotebookView, to: string): string | null {
  if (!isChoiceName(to)) return "a name is letters, digits and _, and begins with no digit";
  if (isEngineName(to) || isRefusedKey(to)) return "it belongs to JavaScript";
  return view.notebook.front.choices.some(({ name }) => name === to) ? "the front matter has a choice of that name" : null;
}

function whyNotAColumn(to: string): string | null {
  if (to.trim() === "") return "it is empty";
  if (to.trim() !== to) return "a name neither begins nor ends with a space";
  if (isEngineName(to) || isRefusedKey(to)) return "it belongs to JavaScript";
  if (/[\p{Cc}\p{Zl}\p{Zp}]/u.test(to)) return "a name stands on one line";
  return isShotColumn(to) ? "that is a shot column" : null;
}

/** Where the name is used so that it cannot be told what is meant: none of those uses may be left behind. */
function whyLost(view: NotebookView, { role, cell, symbol }: PlacedName, from: string): string | null {
  if (role === "row" || role === "constant" || symbol?.startsWith(symbolOfMade(cell)) === true) return null;
  for (const { index, text } of view.cells) {
    if (!isBroken(view, index)) continue;
    const isThere = piecesFrom(text, readCellOf(view, index)?.bodyOffset ?? 0).some((piece) => isName(piece, from));
    if (isThere) return `${cellInWords(view, index)} has ${shown(from)} in it and cannot be read as it stands: mend it first`;
  }
  if (role === "named choice") return whyLostChoice(view, from);
  if (role !== "column") return null;
  const choice = view.notebook.front.choices.find((each) => (each.kind === "word" ? each.among.includes(from) : each.column === from));
  if (choice !== undefined) return `the choice ${shown(choice.name)} of the front matter has ${shown(from)} in it: it would stay as it is`;
  for (const name of everyName(view)) {
    if (name.name !== from) continue;
    const where = cellInWords(view, name.cell);
    if (name.role === "column" && name.isUncertain === true) return `which column ${shown(from)} means in ${where} is known only when it runs`;
    if (name.role === "value" && name.symbol?.startsWith("value:made:") === true) return `${shown(from)} in ${where} is compared with values that may be names of columns: it would stay as it is`;
  }
  return null;
}

/** Where a choice may be named by the word of another, or by a text that names something else too. */
function whyLostChoice(view: NotebookView, from: string): string | null {
  const word = view.notebook.front.choices.find((each) => each.kind === "word" && each.among.includes(from));
  for (const { index } of view.cells) {
    const { shared, choosesUnwritten } = namesOf(view, index);
    const where = cellInWords(view, index);
    if (shared.includes(symbolOfChoice(from))) return `a constant of ${where} names it and something else too`;
    if (choosesUnwritten && word !== undefined) return `${where} may name it by a word of the choice ${shown(word.name)}, which would stay as it is`;
  }
  return null;
}

function isName(piece: Piece, name: string): boolean {
  return piece.kind === "name" ? piece.text === name : piece.kind === "string" && textOfString(piece) === name;
}

/** Why a column cannot change its name where it stands beside others. */
function whyNoColumn(view: NotebookView, symbol: string, from: string, to: string): string | null {
  const isIt = (origins: Origins, name: string): boolean => {
    const own = originOf(origins, name).symbol;
    return own !== null && symbolOf(view, own) === symbol;
  };
  for (const { index } of view.cells) {
    const { tables, additions, lookers, shared, fieldsMade } = namesOf(view, index);
    const where = cellInWords(view, index);
    if (shared.some((each) => symbolOf(view, each) === symbol)) return `a constant of ${where} names it and another column too`;
    if (tables.some((origins) => isIt(origins, from) && origins.columns.has(to))) return `${where} has a column called ${shown(to)} already`;
    if (tables.some((origins) => isIt(origins, from)) && fieldsMade.includes(to)) return `the chart in ${where} makes a field called ${shown(to)}`;
    for (const { before, declared } of additions) {
      const isDeclared = [...declared.values()].some((origin) => origin.symbol !== null && symbolOf(view, origin.symbol) === symbol);
      if (isDeclared && before.columns.has(to)) return `${where} has a column called ${shown(to)} already`;
      if (isDeclared && before.columns.has(from)) return `in ${where} it stands in the place of another column called ${shown(from)}, which would come back`;
      if (declared.has(from) && !isDeclared && isIt(before, from)) return `in ${where} another column called ${shown(from)} stands in its place, and both would be there`;
    }
    const looker = lookers.find(({ origins, needs }) => (isShotColumn(from) || needs.includes(from)) && isIt(origins, from));
    if (looker !== undefined) return `${looker.name} in ${where} looks for the column ${shown(from)} by that name`;
  }
  return null;
}
