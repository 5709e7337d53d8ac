import { frontMatterKeyHelp } from "../../core/notebook/front-matter-keys";
import { shotColumnFacts } from "../../core/table/shot-columns";
import type { HoverAnswer } from "./answers";
import { frontPlace, usualMargin } from "./complete-front";
import { asCode, escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";

/** What is known of the key, path or margin at `offset` in front matter. */
export function hoverFront(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const { text } = view.cells[cell]!;
  const place = frontPlace(text, offset);
  if (place === null || place.replace.from === place.replace.to) return null;
  const { from, to } = place.replace;
  const word = text.slice(from, to).trim();
  if (place.parent === null) return Object.hasOwn(frontMatterKeyHelp, word) ? { from, to, markdown: `**${escaped(word)}**: ${escaped(frontMatterKeyHelp[word as keyof typeof frontMatterKeyHelp])}` } : null;
  if (place.parent === "margin") {
    const column = place.column ?? word;
    const usual = usualMargin(column);
    const facts = shotColumnFacts(column);
    if (usual === null || facts === undefined) return null;
    return { from, to, markdown: `The smallest difference of ${asCode(column)} (${escaped(facts.description)}) that matters to a player. Usual: ${usual.value} ${usual.unit} (common practice, no source). Choose it before looking.` };
  }
  if (place.parent === "shots") {
    const sessions = view.sources.shots?.table?.sessions ?? [];
    const [first] = sessions;
    if (first === undefined) return { from, to, markdown: "The shots of this session could not be read." };
    const lines = sessions.map((session) => `${asCode(session.name)}${session.date === null ? "" : `, ${escaped(session.date)}`}: ${session.shotCount} shots; heads ${session.heads.map((head) => escaped(head.name)).join(", ")}`);
    return { from, to, markdown: `The table ${asCode("shots")} holds\n\n${lines.map((line) => `- ${line}`).join("\n")}` };
  }
  return Object.hasOwn(frontMatterKeyHelp, place.parent) ? { from, to, markdown: escaped(frontMatterKeyHelp[place.parent as keyof typeof frontMatterKeyHelp]) } : null;
}
