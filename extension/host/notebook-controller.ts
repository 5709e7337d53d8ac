import * as vscode from "vscode";
import { createKernelProcess, type KernelProcess } from "./kernel-process";
import { faultOutput, outputsOf } from "./outputs";
import { documentOf, notebookType } from "./serializer";
import { placeOf } from "./workspace-files";

/** Languages of the cells that run. */
const languages = ["fairstrike-query", "fairstrike-chart"];

/**
 * Returns what runs cells: one kernel a notebook, started with its first run and ended when the notebook closes.
 *
 * A run takes in every cell that the ones asked for need and that is out of date. In a workspace that is not trusted
 * nothing runs, whoever asks.
 */
export function createController(kernelScript: string): vscode.Disposable & { endKernel(notebook: vscode.NotebookDocument): Promise<void> } {
  const kernels = new Map<string, KernelProcess>();
  const controller = vscode.notebooks.createNotebookController("fairstrike-kernel", notebookType, "Fairstrike");
  controller.supportedLanguages = languages;
  controller.supportsExecutionOrder = true;
  controller.description = "runs on this machine, offline";
  let order = 0;

  function kernelOf(notebook: vscode.NotebookDocument): KernelProcess {
    const key = notebook.uri.toString();
    let kernel = kernels.get(key);
    if (kernel === undefined) kernels.set(key, (kernel = createKernelProcess(kernelScript, placeOf(notebook.uri).files)));
    return kernel;
  }

  async function refuse(cells: readonly vscode.NotebookCell[]): Promise<void> {
    for (const cell of cells) {
      const execution = controller.createNotebookCellExecution(cell);
      execution.start();
      await execution.replaceOutput(faultOutput("Restricted Mode", "Cells run only in a trusted workspace. Trust it to run them; looking needs no trust."));
      execution.end(false);
    }
  }

  async function execute(asked: readonly vscode.NotebookCell[], notebook: vscode.NotebookDocument): Promise<void> {
    const wanted = asked.filter((cell) => languages.includes(cell.document.languageId));
    if (!vscode.workspace.isTrusted) return refuse(wanted);
    const cells = notebook.getCells();
    const versions = cells.map((cell) => cell.document.version);
    const executions = new Map<number, vscode.NotebookCellExecution>();
    const waiting: Thenable<void>[] = [];
    const executionOf = (index: number): vscode.NotebookCellExecution | undefined => {
      const cell = cells[index];
      if (cell === undefined || cell.index < 0) return undefined;
      let execution = executions.get(index);
      if (execution === undefined) executions.set(index, (execution = controller.createNotebookCellExecution(cell)));
      return execution;
    };
    for (const cell of wanted) executionOf(cell.index);
    const started = new Set<number>();
    const begin = (index: number): void => {
      const execution = executionOf(index);
      if (execution === undefined || started.has(index)) return;
      started.add(index);
      execution.executionOrder = ++order;
      execution.start(Date.now());
    };
    const finish = (index: number, success: boolean | undefined, outputs: vscode.NotebookCellOutput[] | null): void => {
      const execution = executionOf(index);
      if (execution === undefined) return;
      begin(index);
      executions.delete(index);
      // Taken now: showing the output is not part of the time that the cell took.
      const ended = Date.now();
      const shown = outputs === null ? Promise.resolve() : execution.replaceOutput(outputs);
      waiting.push(Promise.resolve(shown).then(() => execution.end(success, ended)));
    };
    const end = await kernelOf(notebook).run(
      placeOf(notebook.uri).path,
      documentOf(notebook),
      wanted.map((cell) => cell.index),
      {
        onStart: begin,
        onCell: (message) => {
          const cell = cells[message.index];
          // A cell that nobody asked for and whose result still holds keeps what it shows.
          if (message.kept && !executions.has(message.index)) return;
          // The text has moved on while the cell ran: its result would be shown below text that did not give it.
          if (cell?.document.version !== versions[message.index]) return finish(message.index, undefined, []);
          finish(message.index, message.status === "ok", outputsOf(message));
        },
      },
    );
    for (const index of executions.keys()) {
      if (end.fault !== null) finish(index, false, [faultOutput("Kernel", end.fault)]);
      else if (end.cancelled) finish(index, undefined, started.has(index) ? [faultOutput("Stopped", "The cell was stopped before it gave a result.")] : null);
      else finish(index, undefined, null);
    }
    await Promise.all(waiting);
  }

  controller.executeHandler = (cells, notebook) => execute(cells, notebook);
  controller.interruptHandler = (notebook) => kernels.get(notebook.uri.toString())?.cancel();

  const closed = vscode.workspace.onDidCloseNotebookDocument((notebook) => {
    void kernels.get(notebook.uri.toString())?.end();
    kernels.delete(notebook.uri.toString());
  });

  return {
    endKernel: async (notebook) => kernels.get(notebook.uri.toString())?.end(),
    dispose: () => {
      closed.dispose();
      controller.dispose();
      for (const kernel of kernels.values()) void kernel.end();
      kernels.clear();
    },
  };
}
