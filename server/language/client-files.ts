import type { Connection } from "vscode-languageserver";
import type { FilesAround } from "./diagnoser";
import type { DocumentStore } from "./document-store";
import {
  currentRequest,
  listRequest,
  placeRequest,
  readOf,
  readRequest,
  type CurrentAnswer,
  type CurrentParams,
  type FileParams,
  type ListAnswer,
  type PlaceAnswer,
  type PlaceParams,
  type ReadAnswer,
  type ReadParams,
} from "./requests";

/** Files as the client reads them, and texts as they are open here. */
export function clientFiles(connection: Connection, store: DocumentStore): FilesAround {
  return {
    place: (document) => connection.sendRequest<PlaceAnswer>(placeRequest, { document } satisfies PlaceParams),
    read: async (document, path, most) => {
      const params: ReadParams = most === undefined ? { document, path } : { document, path, most };
      return readOf(await connection.sendRequest<ReadAnswer>(readRequest, params));
    },
    list: async (document, folder) =>
      (await connection.sendRequest<ListAnswer>(listRequest, { document, path: folder } satisfies FileParams)).names,
    isCurrent: async (document, path, digest) =>
      (await connection.sendRequest<CurrentAnswer>(currentRequest, { document, path, digest } satisfies CurrentParams)).isCurrent,
    openText: (uri) => store.text(uri)?.getText() ?? null,
  };
}
