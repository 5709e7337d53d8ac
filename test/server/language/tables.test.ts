import { expect, test } from "vitest";
import type { CellKind } from "../../../core/notebook/document";
import { tablesOf } from "../../../server/language/tables";
import { notebookView, smallFront } from "../../support/notebook-view";

/** Checks the tables that a notebook is told to have: kind, name, cell, rows, and how many columns are known. */
async function checkTables(cells: readonly (readonly [CellKind, string])[], expected: readonly string[]): Promise<void> {
  const tables = tablesOf({ view: await notebookView(cells) });
  expect(tables.map(({ kind, name, cell, overview }) => `${kind} ${name} in ${cell}: ${overview === null ? "unknown" : `${overview.rowCount ?? "?"} x ${overview.columns.length}${overview.isOpen ? "+" : ""}`}`)).toEqual(expected);
}

test("shots and every named cell that gives a table are listed without running anything", () =>
  checkTables(
    [smallFront, ["prose", "words"], ["query", "query=a\nshots.select(\"shot\", \"carry\")"], ["query", "shots"], ["query", "query=said\ntext`${op.count()}`"]],
    ["shots shots in 0: 12 x 10", "cell a in 2: 12 x 2"],
  ));

test("sessions that a cell names by their path are listed with the cell", () =>
  checkTables([["query", 'query=a\nsession("s/one.session.yaml").count()']], ["sessions s/one.session.yaml in 0: 12 x 10", "cell a in 0: ? x 1"]));

test("a cell that cannot be read is listed, and nothing is told of it", () => checkTables([["query", "query=a\nnowhere.count()"]], ["cell a in 0: unknown"]));

test("a column has its unit, its kind and how many of its values are missing", async () => {
  const tables = tablesOf({ view: await notebookView([smallFront]) });
  expect(tables[0]?.overview?.columns.find(({ name }) => name === "carry")).toEqual({ name: "carry", kind: "number", unit: "yd", missing: 0 });
});
