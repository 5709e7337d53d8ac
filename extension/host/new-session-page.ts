import * as vscode from "vscode";

/** The text of the page in which an export is brought in: one script of ours, and nothing from elsewhere. */
export function newSessionPage(webview: vscode.Webview, dist: vscode.Uri): string {
  const nonce = newNonce();
  const script = webview.asWebviewUri(vscode.Uri.joinPath(dist, "panel.js")).toString();
  // Styles are a sheet that the script makes, which needs no permission.
  const policy = `default-src 'none'; script-src 'nonce-${nonce}'; form-action 'none'; base-uri 'none'`;
  return [
    "<!DOCTYPE html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    "<title>New session</title>",
    "</head>",
    "<body>",
    `<script type="module" nonce="${nonce}" src="${script}"></script>`,
    "</body>",
    "</html>",
  ].join("\n");
}

function newNonce(): string {
  return [...crypto.getRandomValues(new Uint8Array(24))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
