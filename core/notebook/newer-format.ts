import { problem, type Problem } from "../problem";
import { readYaml } from "../yaml-text";

/** The format of notebooks that is known here. */
const notebookFormat = 1;

/** The problem of a front matter that says it is of a newer format than is known here, placed in its text. */
export function formatProblems(front: string): readonly Problem[] {
  const { value } = readYaml(front);
  const entry = value?.kind === "map" ? value.entries.find(({ key }) => key === "fairstrike") : undefined;
  if (entry?.value.kind !== "scalar" || !/^\d{1,9}$/.test(entry.value.text) || Number(entry.value.text) <= notebookFormat) return [];
  return [problem("nb.newer-format", { format: entry.value.text }, entry.value.range)];
}
