import * as vscode from "vscode";

/** The name of the controller within this extension. */
export const controllerId = "fairstrike-kernel";
/** This extension, as `package.json` names it. */
const extensionId = "fairstrike.fairstrike";

/**
 * The notebooks for which the controller is chosen: with their first run at the latest. Only in these it may change what a
 * cell shows.
 */
export interface ChosenNotebooks extends vscode.Disposable {
  readonly has: (notebook: vscode.NotebookDocument) => boolean;
  /** Notes a notebook that the controller runs. */
  readonly add: (notebook: vscode.NotebookDocument) => void;
  /** Chooses the controller for the notebook of an editor. */
  readonly choose: (editor: vscode.NotebookEditor) => Promise<void>;
  /** Told when the controller was chosen for a notebook that had not chosen it. */
  readonly onDidAdd: vscode.Event<vscode.NotebookDocument>;
  /** Changes what a cell of such a notebook shows, without running it. */
  readonly showIn: (cell: vscode.NotebookCell, change: (execution: vscode.NotebookCellExecution) => Thenable<void>) => Promise<void>;
}

/** Keeps track of the notebooks for which a controller is chosen. */
export function trackChosen(controller: vscode.NotebookController): ChosenNotebooks {
  const chosen = new Set<string>();
  const added = new vscode.EventEmitter<vscode.NotebookDocument>();
  const add = (notebook: vscode.NotebookDocument): void => {
    const key = notebook.uri.toString();
    if (chosen.has(key)) return;
    chosen.add(key);
    added.fire(notebook);
  };
  const owned = vscode.Disposable.from(
    added,
    controller.onDidChangeSelectedNotebooks(({ notebook, selected }) => {
      if (selected) add(notebook);
      else chosen.delete(notebook.uri.toString());
    }),
    vscode.workspace.onDidCloseNotebookDocument((notebook) => chosen.delete(notebook.uri.toString())),
  );
  return {
    has: (notebook) => chosen.has(notebook.uri.toString()),
    add,
    choose: async (editor) => {
      await vscode.commands.executeCommand("notebook.selectKernel", { notebookEditor: editor, id: controllerId, extension: extensionId });
      add(editor.notebook);
    },
    onDidAdd: added.event,
    showIn: async (cell, change) => {
      const execution = controller.createNotebookCellExecution(cell);
      execution.start();
      try {
        await change(execution);
      } finally {
        execution.end(undefined);
      }
    },
    dispose: () => void owned.dispose(),
  };
}
