import * as vscode from "vscode";
import type { Problem } from "../../core/problem";
import type { ResultPayload } from "../../core/present/payload";
import { plainText } from "../../core/present/plain-text";
import { vegaLiteOutput } from "../../core/present/vega-lite-output";
import type { PresentedCell } from "../../core/present/present-outcome";

/** The mime type of a chart: a Vega-Lite specification with its data, description and table. */
export const chartMime = "application/vnd.vegalite.v6+json";
/** The mime type of a table. */
export const tableMime = "application/vnd.fairstrike.table+json";

/** What is shown below a cell: its results, then what is worth noting; or why there is no result. */
export function outputsOf(cell: PresentedCell): vscode.NotebookCellOutput[] {
  const errors = cell.problems.filter((found) => found.severity === "error");
  const notes = cell.problems.filter((found) => found.severity !== "error");
  return [
    ...errors.map(errorOutput),
    ...cell.results.map(resultOutput),
    ...(notes.length === 0 ? [] : [new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.text(notes.map(noteLine).join("\n"))])]),
  ];
}

/** An output that says why a run came to nothing. */
export function faultOutput(name: string, message: string): vscode.NotebookCellOutput {
  return new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.error({ name, message, stack: "" })]);
}

function resultOutput(result: ResultPayload): vscode.NotebookCellOutput {
  const plain = vscode.NotebookCellOutputItem.text(plainText(result));
  switch (result.type) {
    case "table":
      return new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.json(result, tableMime), plain]);
    case "chart":
      return new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.json(vegaLiteOutput(result), chartMime), plain]);
    case "text":
      return new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.text(result.markdown, "text/markdown"), plain]);
  }
}

function errorOutput(found: Problem): vscode.NotebookCellOutput {
  const { line, column } = found.range.start;
  const place = found.file === undefined ? `line ${line}, column ${column}` : `${found.file}, line ${line}`;
  return faultOutput(found.code, `${found.message} (${place})\n${found.hint}`);
}

function noteLine(found: Problem): string {
  return `${found.severity === "warning" ? "Warning" : "Note"}: ${found.message}; ${found.hint}`;
}
