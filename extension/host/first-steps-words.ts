/**
 * The front matter of a new notebook.
 *
 * @param session path of its session file from where the notebook will be saved; `null` leaves the place to fill in.
 */
export function newFrontMatter(session: string | null): string {
  const shots = session === null ? "# shots: sessions/NAME.session.yaml" : `shots: ${yamlText(session)}`;
  return `fairstrike: 1\ntitle: Untitled comparison\n${shots}\nmargin: { carry: 3 yd }`;
}

/** A path as YAML; in quotes where it could be taken for something else. */
function yamlText(path: string): string {
  return /^[A-Za-z_][\w./-]*$/u.test(path) ? path : JSON.stringify(path);
}

/** What a notebook says of sessions that are not there: short below the front matter, long for whoever points there. */
export function missingInWords(paths: readonly string[]): { readonly short: string; readonly long: string } {
  const [first = ""] = paths;
  const others = paths.length === 1 ? "" : ` and ${paths.length - 1} more`;
  const are = paths.length === 1 ? "is" : "are";
  return {
    short: `${first}${others} ${are} not there. Bring in an export…`,
    long: `${paths.join(", ")} ${are} not there, so that this notebook has no shots. Bring in an export to make a session file, or mend the path after shots.`,
  };
}
