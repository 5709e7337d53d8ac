import type { CancellationToken, Connection } from "vscode-languageserver";
import { overviewOf } from "../../core/present/table-overview";
import type { Schema } from "../../core/table/schema";
import type { PlacedNotebook } from "./placed-notebook";
import { cancelled, type Documents } from "./request-places";
import { tablesRequest, type TableListed, type TablesAnswer, type TablesParams } from "./requests";

/** Answers which tables a notebook has, as far as that is known without running it. */
export function answerTables(connection: Connection, { checked }: Pick<Documents, "checked">): void {
  connection.onRequest<TablesAnswer, void>(tablesRequest, async ({ uri }: TablesParams, token: CancellationToken) => {
    const found = await checked.notebook(uri);
    if (token.isCancellationRequested) return cancelled();
    return { tables: found === null ? [] : tablesOf(found.placed) };
  });
}

/** The tables of a notebook: `shots`, the sessions that cells open by path, and each named cell that gives a table. */
export function tablesOf({ view }: Pick<PlacedNotebook, "view">): readonly TableListed[] {
  const { sources, checked, notebook } = view;
  const listed = (name: string, kind: TableListed["kind"], cell: number, schema: Schema | null): TableListed => ({ name, kind, cell, overview: schema === null ? null : overviewOf(schema) });
  const own = checked.cells.filter(({ index, kind }) => kind === "query" && notebook.cells.some((cell) => cell.index === index && cell.isNamed && cell.uses.gives === "table"));
  const paths = [...sources.byPath].map(([path, { schema }]) => {
    const cell = notebook.cells.find(({ uses }) => uses.paths.some((named) => named.path === path));
    return listed(path, "sessions", cell?.index ?? 0, schema);
  });
  return [
    ...(sources.shots === null ? [] : [listed("shots", "shots", notebook.frontIndex, sources.shots.schema)]),
    ...paths,
    ...own.map(({ index, name, schema }) => listed(name, "cell", index, schema)),
  ];
}
