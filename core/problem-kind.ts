/** How grave a problem is: an error stops the result it concerns, a warning and an info do not. */
export type Severity = "error" | "warning" | "info";

/** The particulars of one problem, from which its message is built and which quick fixes read. */
export type Facts = Readonly<Record<string, string | number | boolean | readonly string[] | undefined>>;

/**
 * One kind of problem: its severity, the sentence it says and the hint it gives.
 *
 * `says` states what is wrong and shows the offending text; `hint` names what would be accepted.
 */
export interface ProblemKind<F extends Facts> {
  readonly severity: Severity;
  readonly says: (facts: F) => string;
  readonly hint: (facts: F) => string;
}

/** Returns a problem kind; it exists so that each entry of a catalogue infers its own facts. */
export function problemKind<F extends Facts>(
  severity: Severity,
  says: (facts: F) => string,
  hint: (facts: F) => string,
): ProblemKind<F> {
  return { severity, says, hint };
}

/** A list for a sentence: `a, b or c`, cut after `most` entries with the true total, and each entry at 60 characters. */
export function oneOf(all: readonly string[], most = 12): string {
  const names = all.slice(0, most + 1).map((name) => (name.length > longestShown ? cut(name) : name));
  if (names.length === 0) return "nothing";
  if (names.length > most) return `${names.slice(0, most).join(", ")} … (${all.length} in all)`;
  if (names.length === 1) return names[0]!;
  return `${names.slice(0, -1).join(", ")} or ${names[names.length - 1]!}`;
}

/** The text as it is shown inside a message: in quotes, control and invisible characters escaped, cut at 60. */
export function shown(text: string): string {
  const visible = text.replace(
    // oxlint-disable-next-line no-control-regex -- showing control characters is the purpose
    /[\u0000-\u001f\u007f-\u009f\u00ad\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]/g,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
  return `"${cut(visible)}"`;
}

/** Text as a YAML or JSON text for a hint that somebody may copy; `null` when it is too long for that. */
export function quoted(text: string): string | null {
  return text.length > longestShown ? null : JSON.stringify(text);
}

const longestShown = 60;

function cut(text: string): string {
  // By code point, so that no character beyond the first plane is cut in half; two units make one at most.
  const characters = Array.from(text.slice(0, 2 * (longestShown + 1)));
  return characters.length > longestShown ? `${characters.slice(0, longestShown - 1).join("")}…` : text;
}
