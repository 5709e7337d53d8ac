import { notebookType } from "../../core/notebook/cell-languages";
import { workedOnSchemes } from "../../server/language/requests";

/** Documents that are sent to the language server. Older versions that a comparison shows beside them are not. */
export const documentSelector = [
  { notebook: notebookType, language: "*" },
  ...workedOnSchemes.map((scheme) => ({ scheme, pattern: "**/*.session.yaml" })),
  // Notebooks that are open as text. Their cells have schemes of their own, so that prose cells are none of these.
  ...workedOnSchemes.map((scheme) => ({ scheme, language: "markdown", pattern: "**/*.shots.md" })),
];
