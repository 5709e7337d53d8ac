import type * as vscode from "vscode";
import { defaultLimits } from "../../core/limits";
import { folderOf } from "../../core/path";
import { relativePath } from "../../core/report/relative-path";
import { readPageMessage, type FormMessage, type FormResult, type FormState, type FormValues, type OpenItem, type PageMessage } from "../../core/present/form-message";
import { firstAnswers, openQuestions, proposeSession, readBack, writeNewSession, type SessionProposal } from "../../core/session/new-session";
import { answersOf } from "./new-session-answers";
import { freePaths, openPaths, readExports, writeBoth, type NewFiles, type NewTexts } from "./new-session-files";
import { fieldOfQuestion, newSessionForm, pathFields, valuesOf } from "./new-session-form";
import { refusalOf, resultOf, sayFound } from "./new-session-result";
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
  // Two presses, or one that was sent anew, write once.
  let isWriting = false;
  return async (message) => {
    const files = await started;
    if (!files.ok) return send({ type: "failed", text: files.reason });
    const { value: proposal, problems } = files.proposed;
    const refusal = refusalOf(problems);
    if (refusal !== null) return send({ type: "failed", text: refusal });
    if (message.type === "ready") {
      const values = { ...valuesOf(proposal, firstAnswers(proposal)), ...(await freePaths(files)), ...kept?.values };
      return send({ type: "form", of: exports.map(String), form: newSessionForm(proposal, problems), values });
    }
    const { open, texts, result } = await look(files, proposal, message.values);
    if (message.type === "values" || open.length > 0 || texts === null) return send({ type: "looked", number: message.number, open, result });
    if (isWriting) return;
    isWriting = true;
    const unwritten = await writeBoth(files, message.values, texts).finally(() => (isWriting = false));
    if (unwritten !== null) return send({ type: "failed", text: unwritten });
    panel.dispose();
  };
}

/** What is still open with these answers, what would be written, and what that makes of the exports. */
async function look(files: NewFiles, proposal: SessionProposal, values: FormValues): Promise<{ readonly open: readonly OpenItem[]; readonly texts: NewTexts | null; readonly result: FormResult | null }> {
  const { value: answers, open: unread } = answersOf(proposal, values);
  const asked = openQuestions(proposal, answers).map((question): OpenItem => ({ text: question.words, field: fieldOfQuestion(proposal, question, values) }));
  const written = unread.length + asked.length > 0 ? { value: null, problems: [] } : writeNewSession(proposal, answers, relativePath(folderOf(values[pathFields.notebook] ?? ""), values[pathFields.session] ?? ""));
  const read = written.value === null ? null : readBack(written.value.session, files.exports);
  const wrong = read?.value ? [] : (read ?? written).problems.map((found): OpenItem => ({ text: sayFound(found), field: null }));
  const open = [...unread, ...asked, ...wrong, ...(await openPaths(files, values))];
  return { open, texts: written.value, result: written.value === null || !read?.value ? null : resultOf(written.value.session, read.value, read.problems) };
}
