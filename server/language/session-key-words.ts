import { unitsOf } from "../../core/session/node-reader";
import type { Shape } from "../../core/session/session-shapes";
import { shotColumns, type ShotColumn, type ShotColumnFacts } from "../../core/table/shot-columns";
import { oneOf } from "../../core/problem-kind";
import { unitFor } from "../../core/units";

/** A shot column in one line of plain words: its unit and what it means. */
export function columnInWords(column: ShotColumn): string {
  const { kind, quantity, description }: ShotColumnFacts = shotColumns[column];
  const unit = quantity === null ? kind : unitFor(quantity, "yd-mph");
  return `${unit}: ${description}`;
}

/** What a shape accepts, in plain words without a full stop; "" where the key's own help says it all. */
export function acceptedBy(shape: Shape): string {
  switch (shape.kind) {
    case "choice":
      return oneOf(shape.choices, 60);
    case "truth":
      return "true or false";
    case "date":
      return "a day: 2026-03-14";
    case "whole":
      return `a whole number from ${shape.least} to ${shape.most}`;
    case "measure":
      return `a number and its unit, as ${shape.typical}; units: ${oneOf(unitsOf(shape.quantity))}`;
    case "shots":
      return "numbers of shots: 41, 1-6, [1-6, 41]";
    case "list": {
      const item = acceptedBy(shape.item);
      return item === "" ? "one, or a list" : `one or a list of: ${item}`;
    }
    default:
      return "";
  }
}
