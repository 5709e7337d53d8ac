import * as vscode from "vscode";
import type { Problem } from "../../core/problem";
import { notesMime, notesOf, notesText, placeInWords } from "../../core/present/notes";
import { placeOfOutput, type OutputPlace } from "../../core/present/output-place";
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
  const notes = notesOf(cell.problems);
  return [
    ...errors.map(errorOutput),
    ...cell.results.map((result) => resultOutput(result, cell.name)),
    ...(notes.notes.length === 0 ? [] : [new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.json(notes, notesMime), vscode.NotebookCellOutputItem.text(notesText(notes))])]),
  ];
}

/** Outputs with charts are numbered, so that page and extension mean the same one. */
let nextOutput = 1;

/** The mark of an output with a chart; `null` for any other. */
export function outputMark(output: vscode.NotebookCellOutput): string | null {
  const { output: mark } = placeOfOutput(output.metadata);
  return mark === "" ? null : mark;
}

/** An output that says why a run came to nothing. */
export function faultOutput(name: string, message: string): vscode.NotebookCellOutput {
  return new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.error({ name, message, stack: "" })]);
}

function resultOutput(result: ResultPayload, cell: string): vscode.NotebookCellOutput {
  const plain = vscode.NotebookCellOutputItem.text(plainText(result));
  switch (result.type) {
    case "table":
      return new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.json(result, tableMime), plain]);
    case "chart":
      return new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.json(vegaLiteOutput(result), chartMime), plain], { fairstrike: { output: `output ${nextOutput++}`, cell } satisfies OutputPlace });
    case "text":
      return new vscode.NotebookCellOutput([vscode.NotebookCellOutputItem.text(result.markdown, "text/markdown"), plain]);
  }
}

function errorOutput(found: Problem): vscode.NotebookCellOutput {
  return faultOutput(found.code, `${found.message} (${placeInWords(found)})\n${found.hint}`);
}
