import type { ChartPayload, ResultPayload, TablePayload } from "../present/payload";
import type { Problem } from "../problem";
import { createProse, renderText, type PageHeading } from "./html-prose";
import { htmlProvenanceTable, htmlTable } from "./html-table";
import { createIds, element, escapeHtml, type Html } from "./html-text";
import { problemInWords, withoutResultInWords } from "./report-words";
import { cellsWithoutResult, type Report, type ReportCell } from "./report";
import { reportStyles } from "./report-styles";
import { reportSvg } from "./report-svg";

/** By what a report is known for one. */
export const htmlMark = '<meta name="generator" content="Fairstrike report" />';

const policy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/** One cell while the page is written. */
interface Place {
  readonly cell: ReportCell;
  readonly id: string;
}

/**
 * A report as one HTML file: no script, nothing fetched, the same bytes for the same report. It is well-formed XML too.
 *
 * @param isCancelled asked before each chart is drawn.
 * @returns `null` when it was cancelled.
 */
export async function htmlReport(report: Report, isCancelled: () => boolean = () => false): Promise<string | null> {
  const makeId = createIds();
  const all = report.parts.flatMap((part) => (part.kind === "prose" ? [part.text] : []));
  const prose = createProse({ title: report.title, all, makeId });
  const ids = new Map<ReportCell, string>();
  for (const part of report.parts) if (part.kind === "cell") ids.set(part.cell, makeId("cell", part.cell.name));
  const body: Html[] = [];
  for (const part of report.parts) {
    if (isCancelled()) return null;
    if (part.kind === "prose") body.push(prose.render(part.text));
    else if (part.kind === "conflict") body.push(element("pre", {}, element("code", {}, escapeHtml(part.text))));
    else body.push(await cellHtml({ cell: part.cell, id: ids.get(part.cell)! }));
  }
  const lost = cellsWithoutResult(report).map((cell) => ({ cell, id: ids.get(cell)! }));
  return `${[
    "<!DOCTYPE html>",
    '<html xmlns="http://www.w3.org/1999/xhtml" lang="en">',
    "<head>",
    '<meta charset="utf-8" />',
    `<meta http-equiv="Content-Security-Policy" content="${policy}" />`,
    htmlMark,
    '<meta name="viewport" content="width=device-width, initial-scale=1" />',
    '<meta name="referrer" content="no-referrer" />',
    element("title", {}, escapeHtml(report.title)),
    `<style>${reportStyles}</style>`,
    "</head>",
    "<body>",
    '<a class="skip" href="#results">Skip to the report</a>',
    "<header>",
    element("h1", {}, escapeHtml(report.title)),
    element("p", { class: "file" }, `Report of ${escapeHtml(report.fileName)}`),
    banner(report.notes),
    lostBanner(lost, ids.size),
    ...report.problems.filter(({ severity }) => severity !== "info").map(problemHtml),
    "</header>",
    contents([...prose.headings, { id: "provenance", level: 2, text: "Where the numbers come from" }]),
    '<main id="results" tabindex="-1">',
    ...body,
    "</main>",
    provenanceHtml(report),
    "</body>",
    "</html>",
  ]
    .filter((line) => line !== "")
    .join("\n")}\n`;
}

function banner(notes: readonly string[]): Html {
  return notes.length === 0 ? "" : element("div", { class: "banner" }, ...notes.map((note) => element("p", {}, element("strong", {}, escapeHtml(note)))));
}

function lostBanner(lost: readonly Place[], total: number): Html {
  if (lost.length === 0) return "";
  const links = lost.map(({ cell, id }) => element("a", { href: `#${id}` }, escapeHtml(cell.name)));
  return element("div", { class: "problem error" }, element("p", {}, element("strong", {}, withoutResultInWords(lost.length, total)), ` ${links.join(", ")}`));
}

function contents(headings: readonly PageHeading[]): Html {
  const shown = headings.filter(({ level }) => level <= 3);
  if (shown.length < 4) return "";
  const link = ({ id, text }: PageHeading): Html => element("a", { href: `#${id}` }, escapeHtml(text === "" ? "(no words)" : text));
  const items: Html[] = [];
  for (let i = 0; i < shown.length; ) {
    const first = shown[i++]!;
    const below: Html[] = [];
    while (i < shown.length && shown[i]!.level > 2) below.push(element("li", {}, link(shown[i++]!)));
    items.push(element("li", {}, link(first), below.length === 0 ? "" : element("ul", {}, ...below)));
  }
  return element("nav", { "aria-label": "Contents" }, element("ul", {}, ...items));
}

async function cellHtml({ cell, id }: Place): Promise<Html> {
  const errors = cell.problems.filter(({ severity }) => severity === "error");
  const others = cell.problems.filter(({ severity }) => severity !== "error");
  const status = cell.status === "ok" ? "" : element("strong", {}, cell.status === "blocked" ? " – blocked, no result" : " – failed, no result");
  const parts = [
    element("p", { class: "name" }, element("code", {}, escapeHtml(cell.name)), status),
    ...cell.chosen.map((line) => element("p", { class: "chosen" }, escapeHtml(line))),
    ...errors.map(problemHtml),
    ...(await resultsHtml(cell, id)),
    ...others.map(problemHtml),
    folded(cell),
  ];
  return element("section", { class: "cell", id, "aria-label": `Result ${cell.name}` }, "\n", parts.filter((part) => part !== "").join("\n"), "\n");
}

/** Sentences of an answer beyond which none stands out any more, and none is set in bold. */
const mostBold = 9;

/** What a cell gave: the answer, the picture, the rows, and then what the answer rests on. */
async function resultsHtml(cell: ReportCell, id: string): Promise<readonly Html[]> {
  const parts: Html[] = [];
  const table = cell.results.find((result): result is TablePayload => result.type === "table");
  if (table !== undefined) parts.push(sentencesHtml("answer", table.sentences.slice(0, table.answer ?? table.sentences.length)));
  for (const [index, result] of cell.results.entries()) parts.push(await resultHtml(result, cell.name, `${id}-${index + 1}`, table !== undefined));
  if (table === undefined) return parts;
  const details = table.answer === undefined ? [] : table.sentences.slice(table.answer);
  if (details.length > 0) parts.push(element("details", {}, element("summary", {}, `Details of ${escapeHtml(cell.name)}`), sentencesHtml("details", details)));
  parts.push(sentencesHtml("notes", table.notes));
  if (table.method !== null) parts.push(element("p", { class: "method" }, `Method: ${escapeHtml(table.method)}`));
  return parts;
}

function resultHtml(result: ResultPayload, name: string, id: string, hasTable: boolean): Promise<Html> | Html {
  switch (result.type) {
    case "text":
      return element("div", { class: "text" }, renderText(result.markdown));
    case "table":
      return htmlTable(result, name);
    case "chart":
      return chartHtml(result, name, id, hasTable);
  }
}

/** A chart with its words; the numbers that it draws are folded below it, unless the cell's own table shows them. */
async function chartHtml(chart: ChartPayload, name: string, id: string, hasTable: boolean): Promise<Html> {
  const svg = await reportSvg(chart, name, id);
  const drawing = svg === null ? element("p", {}, "This chart could not be drawn; its numbers are below.") : element("div", { class: isHigh(svg) ? "drawing high" : "drawing", tabindex: "0", role: "group", "aria-label": `Chart ${name}` }, svg);
  const figure = element("figure", {}, drawing, element("figcaption", {}, escapeHtml(chart.description)));
  if (hasTable) return figure;
  const numbers = element("details", { class: "data" }, element("summary", {}, `Numbers that ${escapeHtml(name)} draws`), htmlTable(chart.table, name));
  return `${figure}\n${numbers}\n${sentencesHtml("notes", chart.table.notes)}`;
}

/** True for a drawing that would be too small to read if it were set on one page of paper. */
function isHigh(svg: Html): boolean {
  const [, width, height] = /\bviewBox="0 0 ([\d.]+) ([\d.]+)"/u.exec(svg) ?? [];
  return Number(height) > 2 * Number(width);
}

function sentencesHtml(kind: "answer" | "details" | "notes", sentences: readonly string[]): Html {
  return sentences.length === 0 ? "" : element("div", { class: kind === "answer" && sentences.length > mostBold ? "answer many" : kind }, ...sentences.map((sentence) => element("p", {}, escapeHtml(sentence))));
}

function folded({ kind, name, table, body }: ReportCell): Html {
  const words = kind === "query" ? `Query of ${name}` : `Specification of ${name}${table === null ? "" : `, drawn from ${table}`}`;
  return element("details", { class: "source" }, element("summary", {}, escapeHtml(words)), element("pre", {}, element("code", {}, escapeHtml(body))));
}

function problemHtml(found: Problem): Html {
  const { kind, words, hint } = problemInWords(found);
  return element("div", { class: `problem ${found.severity}` }, element("p", {}, element("strong", {}, kind), ` ${escapeHtml(words)}`), hint === "" ? "" : element("p", {}, escapeHtml(hint)));
}

function provenanceHtml({ provenance: { facts, tables }, problems }: Report): Html {
  const notes = problems.filter(({ severity }) => severity === "info").map(problemHtml);
  const list = element("dl", {}, ...facts.flatMap(({ name, value }) => [element("dt", {}, escapeHtml(name)), element("dd", {}, escapeHtml(value))]));
  return element("section", { class: "provenance", "aria-labelledby": "provenance" }, "\n", element("h2", { id: "provenance" }, "Where the numbers come from"), "\n", list, "\n", ...tables.map((table) => `${htmlProvenanceTable(table)}\n`), ...(notes.length === 0 ? [] : [element("h3", {}, "Notes on the files"), ...notes]));
}
