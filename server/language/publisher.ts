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
  /** Whoever found something in a document. */
  readonly ownersOf: (uri: string) => readonly string[];
}

/** The owner of what is found by checking the text of a document that is open as text. */
export function textOwner(uri: string): string {
  return `text ${uri}`;
}

/**
 * Returns a publisher that sends through `send`, and only what is not there already: each version of a document that is
 * open once at least, so that whoever waits for its problems knows that there are none.
 *
 * What two owners say of one file in the same words, and by the same session, is said once; what no owner says any more is taken back.
 * An owner that is the text of a document, `text` and its URI, is the only one to speak of that text: others may have read an older one.
 *
 * @param versionOf the version of a document that is open; none of a file.
 */
export function createPublisher(send: (uri: string, diagnostics: Diagnostic[], version: number | undefined) => void, versionOf: (uri: string) => number | undefined): Publisher {
  const byOwner = new Map<string, ProblemsByFile>();
  /** What was sent last, as text; a document that is neither open nor has problems is not in it. */
  const sent = new Map<string, { readonly version: number | undefined; readonly text: string }>();

  function publish(uri: string): void {
    const diagnostics = problemsOf(uri).map(toDiagnostic);
    const version = versionOf(uri);
    const text = JSON.stringify(diagnostics);
    const before = sent.get(uri);
    if (version === undefined && diagnostics.length === 0) sent.delete(uri);
    else sent.set(uri, { version, text });
    if (text === (before?.text ?? "[]") && (version === undefined || version === before?.version)) return;
    send(uri, diagnostics, version);
  }

  function problemsOf(uri: string): readonly Problem[] {
    const each = new Map<string, Problem>();
    const own = byOwner.get(textOwner(uri));
    for (const owned of own?.has(uri) === true ? [own] : byOwner.values()) for (const found of owned.get(uri) ?? []) each.set(JSON.stringify([found.code, found.range, found.message, found.session]), found);
    return [...each.values()];
  }

  return {
    ownersOf: (uri) => [...byOwner].filter(([, problems]) => problems.has(uri)).map(([owner]) => owner),
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
