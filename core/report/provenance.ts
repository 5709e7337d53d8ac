import type { CheckedNotebook } from "../check-notebook";
import { sha256 } from "../content-key";
import { chosenInWords, type NotebookChoice } from "../notebook/choice";
import type { FrontMatter, NotebookDocument } from "../notebook/document";
import { printNotebook } from "../notebook/print-notebook";
import { chosenIn } from "../present/chosen-lines";
import { digitsAsStated, formatMeasure, formatNumber, missingMark } from "../present/format-number";
import type { PresentedCell } from "../present/present-outcome";
import type { RunOutcome } from "../run-notebook";
import type { HeadBuild, SessionFacts } from "../session/session-facts";
import { encodeUtf8 } from "../table/utf8";
import type { Measure } from "../units";
import { relativePath } from "./relative-path";

/** A list of the provenance, such as the inputs: texts, one a column. */
export interface ProvenanceTable {
  readonly title: string;
  readonly columns: readonly { readonly name: string; readonly isNumber?: true }[];
  readonly rows: readonly (readonly string[])[];
}

/** Where a report's numbers come from. */
export interface Provenance {
  readonly facts: readonly { readonly name: string; readonly value: string }[];
  /** Lists that have a row at least. */
  readonly tables: readonly ProvenanceTable[];
}

/** What the provenance is told from. */
export interface ProvenanceSource {
  readonly document: NotebookDocument;
  /** The notebook's folder, relative to the root; paths are told from there. */
  readonly folder: string;
  readonly fileName: string;
  readonly outcome: RunOutcome;
  readonly version: string;
  readonly cells: readonly Pick<PresentedCell, "name" | "results">[];
}

/** Program, notebook, settings, choices, inputs with their SHA-256, sessions, heads, what was set aside or corrected, and methods. */
export function provenanceOf(source: ProvenanceSource): Provenance {
  const { document, fileName, folder, outcome, version, cells } = source;
  const { front } = outcome.checked;
  const sessions = outcome.sessions;
  const facts = [
    { name: "Program", value: `Fairstrike ${version}` },
    { name: "Notebook", value: fileName },
    { name: "SHA-256 of the notebook", value: sha256(encodeUtf8(printNotebook(document))) },
    { name: "Units", value: front.units },
    { name: "Seed of chance", value: String(front.seed) },
    { name: "Margins", value: marginsInWords(front, sessions) },
  ];
  const tables: ProvenanceTable[] = [
    { title: "Choices", columns: [{ name: "Choice" }, { name: "Column" }, { name: "Chosen" }, { name: "Used in" }], rows: front.choices.map((choice) => choiceRow(choice, outcome.checked)) },
    {
      title: "Inputs",
      columns: [{ name: "File" }, { name: "Bytes", isNumber: true }, { name: "SHA-256" }],
      rows: outcome.inputs.map(({ path, digest, size }) => [relativePath(folder, path), size === undefined ? missingMark : formatNumber(size, 0), digest ?? "could not be read"]),
    },
    {
      title: "Sessions",
      columns: [{ name: "Session" }, { name: "Date" }, { name: "Data" }, { name: "Shots", isNumber: true }, { name: "Hand" }, { name: "Monitor" }, { name: "Carry is" }, { name: "Air" }, { name: "Ball" }, { name: "Calculated by the monitor" }],
      rows: sessions.map(sessionRow),
    },
    {
      title: "Heads, as stated",
      columns: [{ name: "Session" }, { name: "Head" }, { name: "Kind" }, { name: "Design" }, { name: "Loft" }, { name: "Lie" }, { name: "Length" }, { name: "Shaft" }],
      rows: sessions.flatMap((session) => session.heads.map((head) => headRow(session.name, head))),
    },
    {
      title: "Values set aside",
      columns: [{ name: "Session" }, { name: "Shot", isNumber: true }, { name: "Head" }, { name: "Column" }, { name: "Recorded", isNumber: true }, { name: "Because" }],
      rows: sessions.flatMap(({ name, setAsideValues = [] }) =>
        setAsideValues.map(({ shot, head, column, recorded, unit, because }) => [
          name, String(shot), head ?? missingMark, column, recorded === null ? missingMark : formatMeasure(recorded, digitsAsStated(recorded), unit), because,
        ]),
      ),
    },
    {
      title: "Values corrected",
      columns: [{ name: "Session" }, { name: "Shots" }, { name: "Column" }, { name: "Value" }, { name: "Because" }],
      rows: sessions.flatMap(({ name, corrections = [] }) =>
        corrections.map(({ shots, column, value, because }) => [name, shots.map(({ from, to }) => (from === to ? String(from) : `${from}–${to}`)).join(", "), column, value, because]),
      ),
    },
    { title: "Methods and models", columns: [{ name: "Cell" }, { name: "Method" }], rows: methodRows(cells) },
  ];
  return { facts, tables: tables.filter(({ rows }) => rows.length > 0) };
}

function choiceRow(choice: NotebookChoice, checked: CheckedNotebook): readonly string[] {
  const isWord = choice.kind === "word";
  const users = checked.cells.filter(({ index }) => chosenIn(checked, index).includes(choice)).map(({ name }) => name);
  return [choice.name, isWord ? missingMark : choice.column, `${chosenInWords(choice)}${isWord ? ` (one of ${choice.among.join(", ")})` : ""}`, users.length === 0 ? "no cell" : users.join(", ")];
}

function marginsInWords(front: FrontMatter, sessions: readonly SessionFacts[]): string {
  const of = (margins: Readonly<Record<string, Measure>>): string => Object.entries(margins).map(([column, margin]) => `${column} ${measureText(margin)}`).join(", ");
  const stated = [
    ...(Object.keys(front.margins).length === 0 ? [] : [`${of(front.margins)} (this notebook)`]),
    ...sessions.filter(({ margins }) => Object.keys(margins).length > 0).map(({ name, margins }) => `${of(margins)} (session ${name})`),
  ];
  return stated.length === 0 ? "none stated" : stated.join("; ");
}

function measureText({ value, unit }: Measure): string {
  return formatMeasure(value, digitsAsStated(value), unit);
}

function sessionRow({ name, date, synthetic, shotCount, hand, monitor, carryIs, air, ball, calculated }: SessionFacts): readonly string[] {
  const where = [monitor?.kind, monitor?.place].filter((word) => word !== null && word !== undefined);
  const stated = Object.entries(air).map(([what, measure]) => `${what} ${measureText(measure)}`);
  const said = (parts: readonly string[]): string => (parts.length === 0 ? "not stated" : parts.join(", "));
  return [
    name, date ?? "not stated", synthetic ? "synthetic" : "not called synthetic", formatNumber(shotCount, 0), hand, said(where), carryIs, said(stated), ball ?? "not stated",
    calculated.length === 0 ? "nothing, as stated" : calculated.join(", "),
  ];
}

function headRow(session: string, head: HeadBuild): readonly string[] {
  const measure = (given: Measure | undefined): string => (given === undefined ? missingMark : measureText(given));
  return [session, head.name, head.kind, head.design ?? missingMark, measure(head.loft), measure(head.lie), measure(head.length), head.shaft ?? missingMark];
}

function methodRows(cells: ProvenanceSource["cells"]): readonly (readonly string[])[] {
  return cells.flatMap(({ name, results }) => {
    const methods = results.flatMap((result) => (result.type === "table" && result.method !== null ? [result.method] : []));
    return methods.map((method) => [name, method]);
  });
}
