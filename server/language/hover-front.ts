import { frontMatterKeyHelp } from "../../core/notebook/front-matter-keys";
import { shotColumnFacts } from "../../core/table/shot-columns";
import { unitSystems } from "../../core/units";
import type { HoverAnswer } from "./answers";
import { nameInCode, sentence } from "./column-hover";
import { defaultMargin, inWords, sessionsBehind, systemInWords } from "./complete-front";
import { choicePlaceMarkdown } from "./hover-choice";
import { asCode, escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";
import { sessionsMarkdown, sessionsOf } from "./session-markdown";
import { placeIn, type SessionPlace } from "./session-place";
import { readLoosely } from "./session-text";

/** What is known of the key, path, unit system, margin or choice at `offset` in front matter; `null` where there is nothing to say. */
export function hoverFront(view: NotebookView, cell: number, offset: number): HoverAnswer | null {
  const place = placeIn(readLoosely(view.cells[cell]!.text), offset);
  if (place === null || place.scalar.from === place.scalar.to) return null;
  const markdown = aboutPlace(view, place);
  return markdown === null ? null : { from: place.scalar.from, to: place.scalar.to, markdown };
}

function aboutPlace(view: NotebookView, place: SessionPlace): string | null {
  const { path, role, scalar } = place;
  const [key, column] = path;
  const { text } = scalar;
  if (key === undefined) return role === "key" ? keyMarkdown(text) : null;
  if (key === "choose") return choicePlaceMarkdown(view, place);
  if (key === "margin") return marginMarkdown(view, typeof column === "string" ? column : text);
  if (key === "shots") return sessionsMarkdown(sessionsBehind(view, text, sessionsOf(view))) || keyMarkdown(key);
  const system = key === "units" ? unitSystems.find((each) => each === text) : undefined;
  return system === undefined ? keyMarkdown(key ?? "") : `**${asCode(system)}**: ${escaped(systemInWords(system))}.`;
}

function keyMarkdown(key: string): string | null {
  const help: Readonly<Record<string, string>> = frontMatterKeyHelp;
  return Object.hasOwn(help, key) ? `**${asCode(key)}**: ${escaped(sentence(help[key]!))}` : null;
}

function marginMarkdown(view: NotebookView, column: string): string | null {
  const facts = shotColumnFacts(column);
  if (facts === undefined || facts.quantity === null) return null;
  const usual = defaultMargin(view, column);
  const without = usual === null ? "Without a margin of its own it has none." : `Without one here: ${inWords(usual.measure)} (${usual.source}).`;
  return `Margin of **${nameInCode(column)}**, the smallest difference that matters to a player.\n\n${escaped(sentence(facts.description))} ${escaped(without)}`;
}
