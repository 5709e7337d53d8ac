import type { ResultPayload, TablePayload } from "../present/payload";
import { hiddenInWords, rowsInWords } from "../present/plain-text";
import { inert } from "../present/show-value";
import { proseText } from "../present/prose";
import { markdownText, tableMarkdown } from "../present/table-markdown";
import type { Problem } from "../problem";
import { repeatsTitle } from "./html-prose";
import { escapeHtml, visible } from "./html-text";
import type { Provenance, ProvenanceTable } from "./provenance";
import { cellsWithoutResult, type Report, type ReportCell } from "./report";
import { problemInWords, withoutResultInWords } from "./report-words";

/** By what a report is known for one. */
export const markdownMark = "<!-- Fairstrike report -->";

/**
 * A report as one file of GitHub Flavored Markdown: prose as it stands, sentences and tables of each cell, charts by their
 * description and their numbers, where the numbers come from at the end. The same report gives the same bytes.
 */
export function markdownReport(report: Report): string {
  const lost = cellsWithoutResult(report);
  const total = report.parts.filter(({ kind }) => kind === "cell").length;
  const first = report.parts.find((part) => part.kind === "prose");
  const begins = first !== undefined && report.parts[0] === first && repeatsTitle(first.text, report.title);
  const blocks = [
    markdownMark,
    ...(begins ? [] : [`# ${words(report.title)}`]),
    ...report.notes.map((note) => `> **${words(note)}**`),
    ...(lost.length === 0 ? [] : [`> **${withoutResultInWords(lost.length, total)}** ${lost.map(({ name }) => words(name)).join(", ")}`]),
    ...report.problems.filter(({ severity }) => severity !== "info").map(problemMarkdown),
    ...report.parts.flatMap((part) => (part.kind === "prose" ? [part.text.trim()] : part.kind === "conflict" ? [fenced(part.text, "")] : cellMarkdown(part.cell))),
    ...provenanceMarkdown(report.provenance),
    ...notesMarkdown(report.problems.filter(({ severity }) => severity === "info")),
  ];
  return `${blocks.filter((block) => block !== "").map((block) => block.trimEnd()).join("\n\n")}\n`;
}

function words(text: string): string {
  return proseText(inert(text));
}

function cellMarkdown(cell: ReportCell): readonly string[] {
  const status = cell.status === "ok" ? "" : cell.status === "blocked" ? " – blocked, no result" : " – failed, no result";
  const what = cell.kind === "query" ? "Query" : "Specification";
  const [errors, others] = [cell.problems.filter(({ severity }) => severity === "error"), cell.problems.filter(({ severity }) => severity !== "error")];
  return [
    `**${words(cell.name)}**${status}`,
    ...cell.chosen.map(words),
    ...errors.map(problemMarkdown),
    ...cell.results.flatMap((result) => resultMarkdown(result, cell.results.length > 1)),
    ...others.map(problemMarkdown),
    `<details><summary>${what} of ${escapeHtml(cell.name)}</summary>\n\n${fenced(cell.body, cell.kind === "query" ? "js" : "json")}\n\n</details>`,
  ];
}

function resultMarkdown(result: ResultPayload, hasTable: boolean): readonly string[] {
  switch (result.type) {
    case "text":
      return [visible(result.markdown)];
    case "chart":
      return [`Chart: ${words(result.description)}`, ...(hasTable ? [] : tableBlocks(result.table))];
    case "table":
      return tableBlocks(result);
  }
}

/** The answer, the rows and their count, then details, notes and method. */
function tableBlocks(table: TablePayload): readonly string[] {
  const { sentences, answer = sentences.length, notes, method } = table;
  return [
    ...sentences.slice(0, answer).map((sentence) => `**${words(sentence)}**`),
    tableMarkdown(table),
    markdownText(rowsInWords(table) + hiddenInWords(table)),
    sentences.slice(answer).map((sentence) => `- ${words(sentence)}`).join("\n"),
    ...notes.map((note) => `**${words(note)}**`),
    method === null ? "" : `Method: ${words(method)}`,
  ];
}

function problemMarkdown(found: Problem): string {
  const said = problemInWords(found);
  return `> **${said.kind}** ${words(said.words)}${said.hint === "" ? "" : `\\\n> ${words(said.hint)}`}`;
}

/** Text in a fence that is longer than any in it. */
function fenced(text: string, word: string): string {
  const longest = Math.max(2, ...[...text.matchAll(/`+/gu)].map(([run]) => run.length));
  const fence = "`".repeat(longest + 1);
  return `${fence}${word}\n${visible(text)}\n${fence}`;
}

function provenanceMarkdown({ facts, tables }: Provenance): readonly string[] {
  return ["## Where the numbers come from", facts.map(({ name, value }) => `- ${words(name)}: ${words(value)}`).join("\n"), ...tables.flatMap(listMarkdown)];
}

function notesMarkdown(notes: readonly Problem[]): readonly string[] {
  return notes.length === 0 ? [] : ["### Notes on the files", ...notes.map(problemMarkdown)];
}

function listMarkdown({ title, columns, rows }: ProvenanceTable): readonly string[] {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [
    `### ${words(title)}`,
    [line(columns.map(({ name }) => markdownText(name))), line(columns.map(({ isNumber }) => (isNumber ? "---:" : "---"))), ...rows.map((row) => line(row.map((text) => markdownText(inert(text)))))].join("\n"),
  ];
}
