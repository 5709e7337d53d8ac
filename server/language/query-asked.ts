import type { QuerySurroundings } from "../../core/query/query-surroundings";
import type { NotebookView } from "./notebook-view";
import type { QueryPlace } from "./query-place";

/** What the suggestions at one cursor in a query's body are made from. */
export interface QueryAsked {
  readonly view: NotebookView;
  readonly cell: number;
  /** The whole text of the cell. */
  readonly text: string;
  readonly place: QueryPlace;
  readonly surroundings: QuerySurroundings;
}
