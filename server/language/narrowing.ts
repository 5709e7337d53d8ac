import { LSPErrorCodes, ResponseError, type CancellationToken, type Connection, type TextEdit } from "vscode-languageserver";
import { checkQuery, type CheckedQuery } from "../../core/query/check-query";
import { narrowEdits, whyNotWanted } from "../../core/query/narrow-edits";
import { facetsOf } from "../../core/query/narrow-facets";
import { narrowPlace, type NarrowPlace } from "../../core/query/narrow-place";
import type { Table } from "../../core/table/table";
import { bodyOffset } from "../../core/notebook/read-header";
import { defaultLimits } from "../../core/limits";
import { replaceSpans } from "../../core/replace-spans";
import { lineTable } from "../../core/text-position";
import type { FilesAround } from "./diagnoser";
import { createNarrowRows } from "./narrow-rows";
import type { PlacedNotebook } from "./placed-notebook";
import { cancelled, createRequestPlaces, type Documents } from "./request-places";
import { narrowedRequest, narrowingRequest, type NarrowedAnswer, type NarrowedParams, type NarrowingAnswer, type NarrowingParams } from "./requests";
import { changedMeanwhile } from "./workspace-edits";

/** The cell that is narrowed for a cell that was asked about. */
interface Target {
  /** Its number; that of a chart cell where a query cell is put before it. */
  readonly cell: number;
  readonly name: string;
  readonly checked: CheckedQuery;
  readonly bodyOffset: number;
  /** The text of the cell that is put before a chart, and where in the chart's own the name of the new table goes. */
  readonly newCell: { readonly text: string; readonly table: { readonly from: number; readonly to: number } } | null;
}

/** Answers what the table of a cell can be narrowed to, and with the edits that do so. */
export function answerNarrowing(connection: Connection, { store, checked }: Documents, files: FilesAround): void {
  // What is found in exports that were not read yet could not be offered.
  const { at } = createRequestPlaces(store, checked, { waits: true });
  const rows = createNarrowRows(files);

  /** The table that a cell of a notebook would give if this were its text. */
  const tableOf = (placed: PlacedNotebook, cell: number, text: string): Promise<Table | null> => {
    const { uri } = placed.placeOf(cell, { from: 0, to: 0 });
    return rows.tableOf(placed, cell, text, store.notebookOf(uri)?.notebook.uri ?? uri);
  };

  /** The table before the filters of a place and that after them; `null` where rows are not to be had here. */
  async function rowsAround(placed: PlacedNotebook, { cell }: Target, place: NarrowPlace): Promise<readonly [Table | null, Table | null]> {
    const all = await tableOf(placed, cell, place.tableText);
    return [all, all === null || place.filters.length === 0 ? all : await tableOf(placed, cell, place.narrowedText)];
  }

  connection.onRequest<NarrowingAnswer, void>(narrowingRequest, (params: NarrowingParams, token: CancellationToken) => {
    const versions = store.versions();
    return at<NarrowingAnswer | ResponseError>(
      params,
      token,
      { ok: false, because: "no query or chart stands here" },
      async ({ placed, cell }) => {
        const target = targetOf(placed, cell);
        if ("because" in target) return { ok: false, because: target.because };
        const place = placeIn(target);
        if ("because" in place) return { ok: false, because: place.because };
        const [all, kept] = await rowsAround(placed, target, place);
        if (token.isCancellationRequested) return cancelled();
        const { uri } = placed.placeOf(target.cell, { from: 0, to: 0 });
        return {
          ok: true,
          uri,
          version: versions.get(uri) ?? 0,
          name: target.name,
          isNewCell: target.newCell !== null,
          facets: facetsOf(place, all),
          rows: all === null || kept === null ? null : { all: all.rowCount, kept: kept.rowCount },
        };
      },
      () => ({ ok: false, because: "a session file has no table: narrow a cell of a notebook" }),
    );
  });

  connection.onRequest<NarrowedAnswer, void>(narrowedRequest, (params: NarrowedParams, token: CancellationToken) => {
    const versions = store.versions();
    const gone = new ResponseError(LSPErrorCodes.ContentModified, "the cell has changed since");
    return at<NarrowedAnswer | ResponseError>(
      params,
      token,
      gone,
      async ({ placed, cell }) => {
        const target = targetOf(placed, cell);
        const place = "because" in target ? target : placeIn(target);
        if ("because" in target || "because" in place) return gone;
        const { uri } = placed.placeOf(target.cell, { from: 0, to: 0 });
        if (versions.get(uri) !== params.version) return gone;
        const [all] = await rowsAround(placed, target, place);
        const facets = facetsOf(place, all);
        const because = whyNotWanted(facets, params.wanted);
        if (because !== null) return { ok: false, because };
        const edits = narrowEdits(place, facets, params.wanted);
        const text = replaceSpans(place.text, edits);
        const after = placeIn(target, text, placed);
        const kept = "because" in after ? null : await tableOf(placed, target.cell, after.narrowedText);
        if (token.isCancellationRequested) return cancelled();
        const { newCell } = target;
        const isSame = edits.length === 0;
        const answer: NarrowedAnswer = {
          ok: true,
          kept: kept?.rowCount ?? null,
          text: text.slice(target.bodyOffset),
          edits: isSame || newCell !== null ? [] : edits.map((edit): TextEdit => ({ range: placed.placeOf(target.cell, edit).range, newText: edit.text })),
          newCell: isSame || newCell === null ? null : { text, chart: replaceSpans(placed.view.cells[target.cell]!.text, [{ ...newCell.table, text: target.name }]) },
        };
        return changedMeanwhile([uri], versions, store.versions()) ?? answer;
      },
      () => gone,
    );
  });
}

/** The place in a target's text, or in another text that it may have. */
function placeIn(target: Target, text?: string, placed?: PlacedNotebook): NarrowPlace | { readonly because: string } {
  const checked = text === undefined || placed === undefined ? target.checked : checkQuery(text, target.bodyOffset, placed.view.surroundingsOf(target.cell)).value;
  return checked === null ? { because: "the cell cannot be read" } : narrowPlace(checked, target.bodyOffset, defaultLimits);
}

/** The query cell behind a cell: its own, or that of the table that a chart draws. */
function targetOf({ view }: PlacedNotebook, cell: number): Target | { readonly because: string } {
  const { kind, text, checked } = view.cells[cell]!;
  if (kind === "query") {
    if (checked.query === null) return { because: "the cell has an error: put it right first" };
    return { cell, name: checked.name, checked: checked.query, bodyOffset: bodyOffset(text), newCell: null };
  }
  if (kind !== "chart") return { because: "no query or chart stands here" };
  const { header } = checked;
  const table = header?.table ?? null;
  if (table === null || header === null || header.tableRange === null) return { because: "the chart names no table" };
  if (table !== "shots") {
    const named = view.cells.find((each) => each.kind === "query" && each.checked.name === table);
    return named === undefined ? { because: `there is no query cell ${table}` } : targetOf({ view } as PlacedNotebook, named.index);
  }
  const name = freeName(view.notebook.cells.map((each) => each.name));
  const newText = `query=${name}\nshots`;
  const offset = bodyOffset(newText);
  const query = checkQuery(newText, offset, view.surroundingsOf(cell)).value;
  if (query === null) return { because: "the notebook has no shots" };
  const lines = lineTable(text);
  return { cell, name, checked: query, bodyOffset: offset, newCell: { text: newText, table: { from: lines.offsetAt(header.tableRange.start), to: lines.offsetAt(header.tableRange.end) } } };
}

/** A name for a cell of narrowed shots that no other cell has. */
function freeName(names: readonly string[]): string {
  const taken = new Set(names);
  for (let n = 1; ; n++) {
    const name = n === 1 ? "narrowed" : `narrowed_${n}`;
    if (!taken.has(name)) return name;
  }
}
