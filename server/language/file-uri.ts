import { uriOf } from "./diagnoser";

/**
 * The URI of the file `path`, told by a document whose own path below the same root is `known`; `null` when the document
 * has another path.
 *
 * @example fileUri("file:///r/data/a.csv", "data/a.csv", "b.session.yaml") // "file:///r/b.session.yaml"
 */
export function fileUri(document: string, known: string | undefined, path: string): string | null {
  const own = known === undefined ? "" : uriOf("", known);
  return own !== "" && document.endsWith(own) ? uriOf(document.slice(0, -own.length), path) : null;
}
