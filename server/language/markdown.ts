/**
 * Text of the person's, for use within Markdown: shown as it is, never read as Markdown, HTML or a link. Line ends become spaces.
 */
export function escaped(text: string): string {
  return text.replace(/[\r\n]+/gu, " ").replace(/[!-/:-@[-`{-~]/gu, (c) => `\\${c}`);
}

/** Text of the person's as code within Markdown, whatever backquotes it holds. */
export function asCode(text: string): string {
  const line = text.replace(/[\r\n]+/gu, " ");
  const runs = line.match(/`+/gu) ?? [];
  const fence = "`".repeat(runs.reduce((most, run) => Math.max(most, run.length), 0) + 1);
  const pad = line.startsWith("`") || line.endsWith("`") || line.trim() === "" ? " " : "";
  return `${fence}${pad}${line}${pad}${fence}`;
}
