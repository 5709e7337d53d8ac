import type { Form, FormCell, FormChoice, FormField, FormPart, FormValues } from "../../core/present/form-message";
import { sideTexts, type Certainty, type FoundHead, type ProposedColumn, type ProposedExport, type Question, type SessionAnswers, type SessionProposal } from "../../core/session/new-session";
import type { Problem } from "../../core/problem";
import { shotColumns, type ShotColumn } from "../../core/table/shot-columns";
import { units } from "../../core/units";

/** The fields of the form that say where the files go. */
export const pathFields = { session: "path-session", notebook: "path-notebook" } as const;

/** Rows for heads beyond those that were found: a plan sheet or a file may name others. */
const spareHeads = 4;

/** What can be said of a head, with the label of its field. */
export const headKeys = { name: "Head", kind: "Kind", design: "Design", loft: "Loft", lie: "Lie", length: "Length", set: "Set", club: "Club", shaft: "Shaft" } as const;

/** The texts of one line each that a form has, by the answer that they are. */
export const lineKeys = ["session", "date", "player", "monitorKind", "temperature", "pressure", "humidity", "altitude", "ball"] as const;

const certainty: Record<Certainty, string> = { ask: "? To be said", likely: "~ Likely", sure: "✓ Sure" };

/** Rows for heads that the form of a proposal has. */
export function headRows(proposal: SessionProposal): number {
  return Math.max(0, ...headsFound(proposal).map(([, heads]) => heads.length)) + spareHeads;
}

/** Names that may be heads, by header: those of columns of text. */
function headsFound({ columns, heads }: SessionProposal): (readonly [string, readonly FoundHead[]])[] {
  return Object.entries(heads).filter(([header]) => columns.some((column) => column.header === header && !column.isNumber));
}

/** The form in which a person settles what a proposal leaves open. */
export function newSessionForm(proposal: SessionProposal, problems: readonly Problem[]): Form {
  const words = problems.map((found): FormPart => ({ kind: "words", text: `${found.severity === "info" ? "" : "⚠ "}${found.message}` }));
  return {
    title: "New session from an export",
    sections: [
      { title: "What was read", parts: [...words, ...proposal.exports.flatMap((each) => readParts(each))] },
      { title: "Columns", parts: [{ kind: "words", text: "What is doubtful comes first. A header that is no shot column is kept under its own name." }, columnTable(proposal)] },
      { title: "Heads", parts: headParts(proposal) },
      { title: "Conditions", parts: conditionParts() },
    ],
    finish: { label: "Write session and notebook", preview: "The session file", fields: [line(pathFields.session, "Session file", "From the workspace folder, beside the export"), line(pathFields.notebook, "Notebook", "From the workspace folder")] },
  };
}

function readParts({ file, shotCount, delimiter, decimal, header, preview, summaryRows }: ProposedExport): FormPart[] {
  const left = summaryRows.length === 0 ? "" : ` Left out as summaries: line ${summaryRows.map((row) => row.line).join(", ")}.`;
  const rows = preview.map((row) => [exact(String(row.line)), ...row.fields.map((field) => exact(field))]);
  return [
    { kind: "words", text: `${file}: ${shotCount} shots, fields parted by ${delimiter}, decimal mark "${decimal}".${left}` },
    { kind: "table", title: `First rows of ${file}`, headings: ["Line", ...header], rows },
  ];
}

function columnTable({ columns }: SessionProposal): FormPart {
  const places = columns.map((column, index) => ({ column, index }));
  const ordered = [...places.filter(({ column }) => column.certainty === "ask"), ...places.filter(({ column }) => column.certainty !== "ask")];
  return {
    kind: "table",
    title: "What each header stands for",
    headings: ["Header", "How sure", "Shot column", "Unit", "Positive, or sides", "Values", "Missing"],
    rows: ordered.map(({ column, index }) => columnRow(column, index)),
  };
}

function columnRow(column: ProposedColumn, index: number): FormCell[] {
  const { header, samples, missing, evidence } = column;
  const directions = new Set([...(column.positive === null ? [] : [column.positive]), ...Object.values(shotColumns).flatMap(({ direction }) => direction ?? [])]);
  const plausible = [...new Set(Object.values(column.units).flat())];
  const others = Object.keys(units).filter((unit) => !plausible.some((each) => each === unit));
  return [
    exact(header),
    { text: `${certainty[column.certainty]}: ${evidence}`, as: "words" },
    { field: choice(`column-${index}`, `Shot column of ${header}`, [{ value: "keep", label: "its own header" }, ...columnChoices(column.columns)]) },
    { field: { ...choice(`unit-${index}`, `Unit of ${header}`, [...plausible.map((unit) => ({ value: unit, label: unit, group: "Plausible" })), ...others.map((unit) => ({ value: unit, label: unit, group: "Others" }))]), only: { field: `column-${index}`, values: measured } } },
    { field: column.sides === null ? { ...choice(`positive-${index}`, `What positive numbers of ${header} mean`, [...directions].map((word) => ({ value: word, label: word }))), only: { field: `column-${index}`, values: directed } } : choice(`sides-${index}`, `Sides that the numbers of ${header} are written with`, sideChoices()) },
    exact(samples.join("  ")),
    { text: String(missing), as: "text" },
  ];
}

/** Shot columns that have a unit, and those whose positive numbers have to be told. */
const measured = Object.entries(shotColumns).flatMap(([name, { quantity }]) => (quantity === null ? [] : [name]));
const directed = Object.entries(shotColumns).flatMap(([name, { direction }]) => (direction === null || name === "back_spin" ? [] : [name]));

/** What may stand beside numbers, by what it tells. */
function sideChoices(): FormChoice[] {
  const texts = [...new Set(sideTexts.map(({ text }) => text))];
  return texts.map((text) => ({ value: text, label: text, group: sideTexts.find((each) => each.text === text)!.direction.join(" or ") }));
}

function columnChoices(likely: readonly ShotColumn[]): FormChoice[] {
  const others = Object.entries(shotColumns).filter(([name]) => !likely.some((each) => each === name));
  return [...likely.map((name) => ({ value: name, label: name, group: "Likely" })), ...others.map(([name, { group }]) => ({ value: name, label: name, group }))];
}

function headParts(proposal: SessionProposal): FormPart[] {
  const found = headsFound(proposal).map(([header, heads]): FormPart => ({ kind: "words", text: `${header}: ${heads.map(({ name, shots }) => `${name} ${shots}`).join(", ")} shots.` }));
  const rows = Array.from({ length: headRows(proposal) }, (_, row) =>
    Object.entries(headKeys).map(([key, label]): FormCell => {
      const named = `${label}, row ${row + 1}`;
      const kinds = ["iron", "wedge", "wood"].map((kind) => ({ value: kind, label: kind }));
      return { field: key === "kind" ? choice(`head-${row}-kind`, named, kinds) : line(`head-${row}-${key}`, named) };
    }),
  );
  const from = ["column", "file", "plan"].map((value) => ({ value, label: { column: "a column of the export", file: "the file: one export a head", plan: "a plan sheet" }[value]! }));
  const files = proposal.exports.map(({ file }, index) => ({ ...line(`file-head-${index}`, `Head of ${file}`), only: { field: "heads-from", values: ["file"] } }));
  return [
    ...found,
    { kind: "fields", title: "Which head was hit when", fields: [choice("heads-from", "It is said by", from), ...files, { ...lines("plan", "Plan sheet", "A line a head: Wren: 1-6, 13 or Wren x 6; below a file's name, shots of that file"), only: { field: "heads-from", values: ["plan"] } }, lines("wrong-heads", "Wrong head in the export", "Shots and the head that was hit: 47-48: Plover")] },
    { kind: "table", title: "The heads (loft and lie as 34 deg, length as 37 in)", headings: Object.values(headKeys), rows },
  ];
}

function conditionParts(): FormPart[] {
  const plain = (...values: string[]): FormChoice[] => values.map((value) => ({ value, label: value }));
  return [
    { kind: "fields", title: "The session", fields: [line("session", "Name", "Short: tables show it"), line("date", "Date", "As 2026-03-14"), line("player", "Who hit"), choice("hand", "Hand", plain("right", "left")), line("monitorKind", "What measured", "Camera, radar"), choice("place", "Place", plain("indoor", "outdoor"))] },
    { kind: "fields", title: "The shots", fields: [choice("order", "Order of shots", plain("shot", "time", "file", "session shot")), line("warm-up", "Warm-up shots", "As 1-6; none where there were none"), choice("carry", "Carry is", plain("as played", "in standard air", "unknown")), line("calculated", "Columns that the monitor calculated", "As carry, total"), lines("shaped", "Shaped shots", "Shots and what was meant: 20-25: draw")] },
    { kind: "fields", title: "Air and ball", fields: [line("temperature", "Temperature", "As 21 degC"), line("pressure", "Pressure", "As 1009 hPa"), line("humidity", "Humidity", "As 45 %"), line("altitude", "Altitude", "As 300 m"), line("ball", "Ball")] },
  ];
}

/** What the form is first filled in with. */
export function valuesOf(proposal: SessionProposal, answers: SessionAnswers): FormValues {
  const columns = proposal.columns.flatMap(({ header }, index): [string, string][] => {
    const given = answers.columns.find((each) => each.header === header);
    return [[`column-${index}`, given?.column ?? ""], [`unit-${index}`, given?.unit ?? ""], [`positive-${index}`, given?.positive ?? ""], [`sides-${index}`, given?.sides ?? ""]];
  });
  const heads = answers.heads.flatMap((head, row) => Object.keys(headKeys).map((key): [string, string] => [`head-${row}-${key}`, head[key as keyof typeof headKeys] ?? ""]));
  const files = proposal.exports.map(({ file }, index): [string, string] => [`file-head-${index}`, answers.fileHeads[file] ?? ""]);
  const ranges = (list: SessionAnswers["shaped"]): string => list.map(({ shots, value }) => `${shots}: ${value}`).join("\n");
  return {
    ...Object.fromEntries([...columns, ...heads, ...files, ...lineKeys.map((key): [string, string] => [key, answers[key] ?? ""])]),
    hand: answers.hand ?? "",
    place: answers.monitorPlace ?? "",
    order: answers.order ?? "",
    carry: answers.carryIs ?? "",
    "warm-up": answers.warmUp === "" ? "none" : (answers.warmUp ?? ""),
    "heads-from": answers.headsFrom ?? "",
    calculated: answers.calculated.join(", "),
    plan: answers.plan,
    "wrong-heads": ranges(answers.wrongHeads),
    shaped: ranges(answers.shaped),
  };
}

/** The field that answers a question; `null` where no one field does. */
export function fieldOfQuestion(proposal: SessionProposal, { code, about }: Question, values: FormValues): string | null {
  const column = proposal.columns.findIndex(({ header }) => header === about);
  switch (code) {
    case "column":
    case "column twice":
      return column < 0 ? null : `column-${column}`;
    case "unit":
      return column < 0 ? null : `unit-${column}`;
    case "direction":
      return column < 0 ? null : `positive-${column}`;
    case "file head":
      return `file-head-${Math.max(0, proposal.exports.findIndex(({ file }) => file === about))}`;
    case "head kind": {
      const rowOf = (name: string): number | undefined => Array.from({ length: headRows(proposal) }, (_, index) => index).find((index) => (values[`head-${index}-name`] ?? "") === name);
      const row = rowOf(about ?? "");
      return row === undefined ? `head-${rowOf("") ?? 0}-name` : `head-${row}-kind`;
    }
    case "name":
      return "session";
    case "heads":
      return "heads-from";
    case "no heads":
      return column < 0 ? "heads-from" : `column-${column}`;
    case "wrong heads":
      return "wrong-heads";
    case "plan":
    case "shaped":
    case "order":
    case "hand":
    case "place":
    case "warm-up":
    case "carry":
      return code;
  }
}

function exact(text: string): FormCell {
  return { text, as: "exact" };
}

function line(id: string, label: string, help?: string): FormField {
  return { id, label, kind: "line", ...(help === undefined ? {} : { help }) };
}

function lines(id: string, label: string, help: string): FormField {
  return { id, label, kind: "lines", help };
}

function choice(id: string, label: string, choices: readonly FormChoice[], none = "choose"): FormField {
  return { id, label, kind: "choice", choices: [{ value: "", label: none }, ...choices] };
}
