import { expect, test } from "vitest";
import { documentSelector } from "../../extension/host/document-selector";
import { isNotebookText, isSession } from "../../server/language/worked-on";

test("cells, session files and texts of notebooks are sent, and no older versions of them", () => {
  expect(documentSelector).toEqual([
    { notebook: "fairstrike-notebook", language: "*" },
    { scheme: "file", pattern: "**/*.session.yaml" },
    { scheme: "untitled", pattern: "**/*.session.yaml" },
    { scheme: "vscode-vfs", pattern: "**/*.session.yaml" },
    { scheme: "vscode-remote", pattern: "**/*.session.yaml" },
    { scheme: "file", language: "markdown", pattern: "**/*.shots.md" },
    { scheme: "untitled", language: "markdown", pattern: "**/*.shots.md" },
    { scheme: "vscode-vfs", language: "markdown", pattern: "**/*.shots.md" },
    { scheme: "vscode-remote", language: "markdown", pattern: "**/*.shots.md" },
  ]);
});

test("what is sent is worked on by the server, and nothing else", () => {
  for (const scheme of ["file", "untitled", "vscode-vfs"]) expect([isSession(`${scheme}:///w/a.session.yaml`), isNotebookText(`${scheme}:///w/a.shots.md`)]).toEqual([true, true]);
  expect([isSession("git:///w/a.session.yaml"), isNotebookText("git:///w/a.shots.md"), isNotebookText("filed:///w/a.shots.md")]).toEqual([false, false, false]);
});
