/** A file name from the names of a notebook and of a cell: small letters, digits and hyphens. */
export function figureName(notebook: string, cell: string): string {
  const slug = (text: string): string => Array.from(text.toLowerCase().match(/[\p{L}\p{N}]+/gu)?.join("-") ?? "").slice(0, 60).join("");
  return [slug(notebook.replace(/\.shots\.md$/iu, "")), slug(cell)].filter((part) => part !== "").join("-") || "figure";
}
