import * as vscode from "vscode";
import { readFormState } from "../../core/present/form-message";
import { showNewSession, viewType } from "./new-session-panel";

/** Endings of the files that an export may be; the explorer's menu in `package.json` names them too. */
const endings = ["csv", "tsv", "txt"];

/**
 * Registers the command that brings in exports: it asks for them unless the explorer names them, and opens a page on which a
 * person settles what the file alone does not tell. Nothing is written before the person presses the button there.
 *
 * @param extension the folder of the extension, which the page's script is in.
 */
export function offerNewSession(extension: vscode.Uri): vscode.Disposable {
  const dist = vscode.Uri.joinPath(extension, "dist");
  return vscode.Disposable.from(
    vscode.commands.registerCommand("fairstrike.newSession", async (first?: unknown, all?: unknown) => {
      const exports = givenExports(first, all) ?? (await askExports());
      if (exports.length > 0) await openPage(dist, exports);
    }),
    vscode.window.registerWebviewPanelSerializer(viewType, {
      deserializeWebviewPanel: (panel, state: unknown) => {
        const kept = readFormState(state);
        const exports = kept?.of.map((each) => vscode.Uri.parse(each)) ?? [];
        if (exports.length > 0 && rootOf(exports) !== null) showNewSession(panel, dist, exports, kept);
        else panel.dispose();
        return Promise.resolve();
      },
    }),
  );
}

/** The files that the explorer hands over: the one that was clicked, and all that are selected. */
function givenExports(first: unknown, all: unknown): readonly vscode.Uri[] | null {
  const selected = Array.isArray(all) ? all.filter((each): each is vscode.Uri => each instanceof vscode.Uri && isExport(each)) : [];
  if (selected.length > 0) return selected;
  return first instanceof vscode.Uri && isExport(first) ? [first] : null;
}

function isExport({ path }: vscode.Uri): boolean {
  return endings.some((ending) => path.toLowerCase().endsWith(`.${ending}`));
}

async function askExports(): Promise<readonly vscode.Uri[]> {
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
  const chosen = await vscode.window.showOpenDialog({
    canSelectMany: true,
    ...(folder === undefined ? {} : { defaultUri: folder }),
    filters: { Exports: endings, "All files": ["*"] },
    openLabel: "Bring in",
    title: "Exports of One Session",
  });
  return chosen ?? [];
}

async function openPage(dist: vscode.Uri, exports: readonly vscode.Uri[]): Promise<void> {
  const root = rootOf(exports);
  if (root === null) {
    await vscode.window.showErrorMessage("All exports of a session have to be in one folder of the workspace. Copy them there, and choose them again.");
    return;
  }
  const panel = vscode.window.createWebviewPanel(viewType, "New Session", vscode.ViewColumn.Active);
  showNewSession(panel, dist, exports, null);
}

/** The workspace folder that every file is in; a file's own folder where no folder is open, and `null` where they have none in common. */
function rootOf(files: readonly vscode.Uri[]): vscode.Uri | null {
  const roots = files.map((file) => vscode.workspace.getWorkspaceFolder(file)?.uri ?? (vscode.workspace.workspaceFolders === undefined ? vscode.Uri.joinPath(file, "..") : null));
  const [first] = roots;
  return first !== null && first !== undefined && roots.every((root) => root?.toString() === first.toString()) ? first : null;
}
