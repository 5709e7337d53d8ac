/** Text as a block of code within Markdown, whatever backquotes it holds. */
export function codeBlock(text: string, language = ""): string {
  const runs = text.match(/`+/gu) ?? [];
  const fence = "`".repeat(Math.max(3, runs.reduce((most, run) => Math.max(most, run.length), 0) + 1));
  return `${fence}${language}\n${text.replace(/\r\n?/gu, "\n")}\n${fence}`;
}
