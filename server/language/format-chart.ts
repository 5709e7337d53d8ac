import { readJson, type JsonNode } from "../../core/chart/json-tree";
import { defaultLimits } from "../../core/limits";

/**
 * A chart cell's text with its body laid out anew; `null` when the body is no JSON, or would be another value afterwards.
 *
 * @param start where the body begins.
 * @param width columns that a line is held to.
 */
export function formatChart(text: string, start: number, width: number): string | null {
  const before = readJson(text, start, defaultLimits.depth);
  if ("fault" in before) return null;
  const formatted = text.slice(0, start) + jsonText(text, before.value, width);
  const after = readJson(formatted, start, defaultLimits.depth);
  return "value" in after && valuesOf(after.value) === valuesOf(before.value) ? formatted : null;
}

/**
 * The text of a JSON value laid out with two spaces a level.
 *
 * What was written in one line stays in one line where it fits into `width` columns; all else has one entry a line. Keys
 * and values are copied as they are written, `1.50` and `"\u00b0"` too.
 *
 * @param text the text that `node` was read from.
 */
function jsonText(text: string, node: JsonNode, width: number): string {
  const written = (span: { readonly from: number; readonly to: number }): string => text.slice(span.from, span.to);

  function inOneLine(value: JsonNode): string {
    switch (value.kind) {
      case "object": {
        const entries = value.entries.map((entry) => `${written(entry.keySpan)}: ${inOneLine(entry.value)}`);
        return entries.length === 0 ? "{}" : `{ ${entries.join(", ")} }`;
      }
      case "list":
        return `[${value.items.map(inOneLine).join(", ")}]`;
      default:
        return written(value);
    }
  }

  /** @param taken columns of its line that stand before the value, and after it. */
  function laidOut(value: JsonNode, indent: string, taken: number): string {
    if (value.kind !== "object" && value.kind !== "list") return written(value);
    if (!written(value).includes("\n")) {
      const line = inOneLine(value);
      if (taken + line.length <= width) return line;
    }
    const inner = `${indent}  `;
    const members =
      value.kind === "list"
        ? value.items.map((item) => inner + laidOut(item, inner, inner.length + 1))
        : value.entries.map((entry) => {
            const key = `${inner}${written(entry.keySpan)}: `;
            return key + laidOut(entry.value, inner, key.length + 1);
          });
    const [open, close] = value.kind === "list" ? "[]" : "{}";
    return members.length === 0 ? `${open}${close}` : `${open}\n${members.join(",\n")}\n${indent}${close}`;
  }

  return laidOut(node, "", 0);
}

/** A JSON value without its places; keys that repeat are kept, in their order. */
function valuesOf(node: JsonNode): string {
  return JSON.stringify(node, (key, value: unknown) => (key === "keySpan" || key === "from" || key === "to" ? undefined : value));
}
