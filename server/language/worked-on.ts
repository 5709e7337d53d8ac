import { workedOnSchemes } from "./requests";

/** True for a document that somebody works on. */
export function isWorkedOn(uri: string): boolean {
  return workedOnSchemes.some((scheme) => uri.startsWith(`${scheme}:`));
}

/** True for a session file that somebody works on. */
export function isSession(uri: string): boolean {
  return isWorkedOn(uri) && uri.endsWith(".session.yaml");
}

/** True for a notebook that somebody works on as text. */
export function isNotebookText(uri: string): boolean {
  return isWorkedOn(uri) && uri.endsWith(".shots.md");
}
