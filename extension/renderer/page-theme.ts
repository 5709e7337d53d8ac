import type { ChartTheme } from "../../core/chart/themes";
import { lightTheme } from "../../core/chart/themes";

/** The theme of the editor that the page is in, from its body's class and its variables. */
export function pageTheme(): ChartTheme {
  const { classList } = document.body;
  const isContrast = classList.contains("vscode-high-contrast") || classList.contains("vscode-high-contrast-light");
  const style = getComputedStyle(document.body);
  const variable = (name: string, otherwise: string): string => style.getPropertyValue(name).trim() || otherwise;
  return {
    kind: isContrast ? "contrast" : classList.contains("vscode-dark") ? "dark" : "light",
    foreground: variable("--vscode-editor-foreground", style.color || lightTheme.foreground),
    background: variable("--vscode-editor-background", lightTheme.background),
    font: variable("--vscode-font-family", lightTheme.font),
  };
}

const watchers = new Set<() => void>();
let observer: MutationObserver | null = null;

/** Calls `changed` after each change of the editor's theme until the returned function is called. */
export function watchTheme(changed: () => void): () => void {
  watchers.add(changed);
  if (observer === null) {
    let last = themeKey();
    observer = new MutationObserver(() => {
      const now = themeKey();
      if (now === last) return;
      last = now;
      for (const watcher of watchers) watcher();
    });
    observer.observe(document.body, { attributes: true, attributeFilter: ["class", "data-vscode-theme-id"] });
    observer.observe(document.documentElement, { attributes: true, attributeFilter: ["style"] });
  }
  return () => {
    watchers.delete(changed);
    if (watchers.size > 0) return;
    observer?.disconnect();
    observer = null;
  };
}

function themeKey(): string {
  return JSON.stringify(pageTheme());
}
