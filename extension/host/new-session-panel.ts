import type * as vscode from "vscode";
import { defaultLimits } from "../../core/limits";
import { readPageMessage, type FormMessage, type FormState, type FormValues, type OpenItem, type PageMessage } from "../../core/present/form-message";
import { firstAnswers, openQuestions, proposeSession, writeNewSession, type SessionProposal } from "../../core/session/new-session";
import { answersOf } from "./new-session-answers";
import { freePaths, openPaths, readExports, writeBoth, type NewFiles, type NewTexts } from "./new-session-files";
import { fieldOfQuestion, newSessionForm, valuesOf } from "./new-session-form";
import { newSessionPage } from "./new-session-page";

/** The kind of page, as the editor knows it when a window is loaded anew. */
export const viewType = "fairstrike.newSession";

/**
 * Shows the page on which exports are brought in, and answers it for as long as it is open: what is still open, what the
 * files would be, and, when a person asks for it, writes them.
 *
 * @param kept what a person had answered before the window was loaded anew; `null` for a new page.
 */
export function showNewSession(panel: vscode.WebviewPanel, dist: vscode.Uri, exports: readonly vscode.Uri[], kept: FormState | null): void {
  const { webview } = panel;
  webview.options = { enableScripts: true, localResourceRoots: [dist] };
  const send = async (message: FormMessage): Promise<void> => void (await webview.postMessage(message));
  const answer = startConversation(panel, exports, kept, send);
  const listening = webview.onDidReceiveMessage(async (value: unknown) => {
    const message = readPageMessage(value);
    if (message === null) return;
    await answer(message).catch((error: unknown) => {
      console.error(error);
      return send({ type: "failed", text: "This went wrong inside. Close the page, and start again from the export." });
    });
  });
  panel.onDidDispose(() => listening.dispose());
  webview.html = newSessionPage(webview, dist);
}

function startConversation(panel: vscode.WebviewPanel, exports: readonly vscode.Uri[], kept: FormState | null, send: (message: FormMessage) => Promise<void>): (message: PageMessage) => Promise<void> {
  // Read once: the page, the check and what is written speak of the same bytes.
  const started = readExports(exports).then((files) => (files.ok ? { ...files, proposed: proposeSession(files.exports, defaultLimits) } : files));
  return async (message) => {
    const files = await started;
    if (!files.ok) return send({ type: "failed", text: files.reason });
    const { value: proposal, problems } = files.proposed;
    if (message.type === "ready") {
      const values = { ...valuesOf(proposal, firstAnswers(proposal)), ...(await freePaths(files)), ...kept?.values };
      return send({ type: "form", of: exports.map(String), form: newSessionForm(proposal, problems), values });
    }
    const { open, texts } = await look(files, proposal, message.values);
    if (message.type === "values" || open.length > 0 || texts === null) return send({ type: "looked", number: message.number, open, preview: texts?.session ?? null });
    const refusal = await writeBoth(files, message.values, texts);
    if (refusal !== null) return send({ type: "failed", text: refusal });
    panel.dispose();
  };
}

/** What is still open with these answers, and what would be written. */
async function look(files: NewFiles, proposal: SessionProposal, values: FormValues): Promise<{ readonly open: readonly OpenItem[]; readonly texts: NewTexts | null }> {
  const { value: answers, open: unread } = answersOf(proposal, values);
  const asked = openQuestions(proposal, answers).map((question): OpenItem => ({ text: question.words, field: fieldOfQuestion(proposal, question, values) }));
  const written = unread.length + asked.length > 0 ? { value: null, problems: [] } : writeNewSession(proposal, answers);
  const wrong = written.value === null ? written.problems.map(({ message }): OpenItem => ({ text: message, field: null })) : [];
  return { open: [...unread, ...asked, ...wrong, ...(await openPaths(files, values))], texts: written.value };
}
