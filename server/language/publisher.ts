import type { Diagnostic } from "vscode-languageserver";
import type { Problem } from "../../core/problem";
import type { ProblemsByFile } from "./diagnoser";
import { toDiagnostic } from "./to-protocol";

/** Sends the problems of documents, several of which may find problems in one file. */
export interface Publisher {
  /** Puts what checking the document `owner` found in the place of what it found before, by document. */
  readonly replace: (owner: string, problems: ProblemsByFile) => void;
  /** The same for one of the documents of `owner`, all others as they were. */
  readonly replaceIn: (owner: string, uri: string, problems: readonly Problem[]) => void;
  /** Everything that is said of a document now, each once. */
  readonly problemsOf: (uri: string) => readonly Problem[];
}

/**
 * Returns a publisher that sends through `send`, and only what is not there already.
 *
 * What two owners say of one file in the same words is said once; what no owner says any more is taken back.
 */
export function createPublisher(send: (uri: string, diagnostics: Diagnostic[]) => void): Publisher {
  const byOwner = new Map<string, ProblemsByFile>();
  /** What was sent last, as text; a document without problems is not in it. */
  const sent = new Map<string, string>();

  function publish(uri: string): void {
    const diagnostics = problemsOf(uri).map(toDiagnostic);
    const text = diagnostics.length === 0 ? undefined : JSON.stringify(diagnostics);
    if (sent.get(uri) === text) return;
    if (text === undefined) sent.delete(uri);
    else sent.set(uri, text);
    send(uri, diagnostics);
  }

  function problemsOf(uri: string): readonly Problem[] {
    const each = new Map<string, Problem>();
    for (const owned of byOwner.values()) for (const found of owned.get(uri) ?? []) each.set(JSON.stringify([found.code, found.range, found.message]), found);
    return [...each.values()];
  }

  return {
    problemsOf,
    replace: (owner, problems) => {
      const touched = new Set([...(byOwner.get(owner)?.keys() ?? []), ...problems.keys()]);
      if (problems.size === 0) byOwner.delete(owner);
      else byOwner.set(owner, problems);
      for (const uri of touched) publish(uri);
    },
    replaceIn: (owner, uri, problems) => {
      byOwner.set(owner, new Map([...(byOwner.get(owner) ?? []), [uri, problems]]));
      publish(uri);
    },
  };
}
