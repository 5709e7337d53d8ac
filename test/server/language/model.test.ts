import { LSPErrorCodes, ResponseError, type Diagnostic } from "vscode-languageserver/node";
import { expect, onTestFinished, test } from "vitest";
import { notebookType } from "../../../core/notebook/cell-languages";
import { seededRandom } from "../../../core/stats/random";
import { startStdioClient, type StdioClient } from "../../../scripts/editor/stdio-client";
import { bundle } from "../../support/bundle";
import { createEditorModel, type EditorModel, type ModelState } from "../../support/editor-model";
import { tempFolder } from "../../support/temp-folder";

const script = await bundle("server/node-main.ts", "cjs");

/** Opens what an editor has open in a server that never saw it. */
async function openAll({ connection }: StdioClient, { notebook, texts }: ModelState): Promise<void> {
  for (const { uri, language, version, text } of texts.values()) await connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: language, version, text } });
  if (!notebook.isOpen) return;
  await connection.sendNotification("notebookDocument/didOpen", {
    notebookDocument: { uri: notebook.uri, notebookType, version: notebook.version, cells: notebook.cells.map(({ uri }) => ({ kind: 2, document: uri })) },
    cellTextDocuments: notebook.cells.map(({ uri, language, version, text }) => ({ uri, languageId: language, version, text })),
  });
}

/** Questions whose answers hang on the whole text of a document. */
const questions = ["documentSymbol", "semanticTokens/full", "foldingRange", "documentLink"];

function opened({ notebook, texts }: ModelState): readonly { readonly uri: string }[] {
  return [...(notebook.isOpen ? notebook.cells : []), ...texts.values()];
}

/** Asks until the answer is about the text as it is: a document that was asked for whole may change once more meanwhile. */
async function answerOf({ connection }: StdioClient, method: string, params: object): Promise<unknown> {
  for (;;) {
    try {
      return await connection.sendRequest<unknown>(method, params);
    } catch (error) {
      if (!(error instanceof ResponseError) || error.code !== LSPErrorCodes.ContentModified) throw error;
    }
  }
}

/** Waits until a server has checked the documents of a state, with all files: before, it answers from what it knows. */
async function checkedAll(client: StdioClient, state: ModelState): Promise<void> {
  const start = { line: 0, character: 0 };
  const asked = opened(state).map(({ uri }) => answerOf(client, "textDocument/codeAction", { textDocument: { uri }, range: { start, end: start }, context: { diagnostics: [] } }));
  await Promise.all(asked);
}

/** What a server says of the documents of a state, and of the files beside them. */
async function saidOf(client: StdioClient, state: ModelState): Promise<unknown> {
  const { notebook } = state;
  const ask = async (uri: string, question: string): Promise<unknown> => {
    const answer = await answerOf(client, `textDocument/${question}`, { textDocument: { uri } });
    // Answers about tokens are numbered by time.
    return [uri, question, JSON.stringify(answer, (key, value: unknown) => (key === "resultId" ? undefined : value))];
  };
  const answers = await Promise.all(opened(state).flatMap(({ uri }) => questions.map((question) => ask(uri, question))));
  const folder = notebook.uri.slice("file:".length, notebook.uri.lastIndexOf("/") + 1);
  const problems = client.withDiagnostics().filter((uri) => uri.includes(folder)).sort();
  return { answers, problems: problems.map((uri) => [uri, client.diagnosticsOf(uri).map(inWords).sort()]) };
}

function inWords({ range: { start, end }, code, message }: Diagnostic): string {
  return `${start.line}:${start.character}-${end.line}:${end.character} ${code} ${JSON.stringify(message)}`;
}

/** Waits until neither server has published anything for a while. */
async function quiet(clients: readonly StdioClient[]): Promise<void> {
  const count = (): number => clients.reduce((sum, client) => sum + client.published.length, 0);
  for (let seen = -1; seen !== count(); ) {
    seen = count();
    await new Promise((resolve) => setTimeout(resolve, 350));
  }
}

/** Lets models of these seeds do so many steps in turn in one server, and expects of each what a new server says of its end. */
async function checkModels(seeds: readonly number[], steps: number): Promise<void> {
  const folder = tempFolder({ ".git/HEAD": "" });
  const models: EditorModel[] = [];
  const client = await startStdioClient(script, {
    folder,
    whole: (params) => models.map((model) => model.whole(params)).find((answer) => answer !== null) ?? null,
  });
  for (const seed of seeds) models.push(createEditorModel(client, folder, `run-${seed}`, seededRandom(seed)));
  for (let step = 0; step < steps; step++) {
    for (const model of models) model.step();
    // Once in a while the server gets the time to finish something before it is overtaken.
    if (step % 5 === 4) await new Promise((resolve) => setTimeout(resolve, 10));
  }
  const fresh = await startStdioClient(script, { folder });
  onTestFinished(async () => void (await Promise.all([client.stop(), fresh.stop()])));
  for (const model of models) await openAll(fresh, model.state);
  for (const { state } of models) await Promise.all([checkedAll(client, state), checkedAll(fresh, state)]);
  await quiet([client, fresh]);
  for (const [index, { state, log, wrongAnswers }] of models.entries()) {
    expect(await wrongAnswers(), `seed ${seeds[index]}`).toEqual([]);
    expect(await saidOf(client, state), `seed ${seeds[index]}\n${log.join("\n")}`).toEqual(await saidOf(fresh, state));
  }
  expect([client.faults, fresh.faults]).toEqual([[], []]);
}

const seeds = Array.from({ length: 100 }, (_, index) => index + 1);

test.each([0, 1, 2, 3, 4])("L-02 L-03 L-05 whatever is done to documents, files and questions, the end is that of a new server (part %i)", async (part) => {
  await checkModels(
    seeds.filter((seed) => seed % 5 === part),
    30,
  );
}, 60_000);
