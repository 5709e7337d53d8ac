import type { ChartKind } from "../../query/vocabulary";
import { nextPointEllipse } from "../ellipse";
import { drawGround, groundNumbers } from "../ground";
import { groupOption, tooMany, whatGroups } from "../kind-options";

/** Where shots landed, as the player sees it: the target line goes up the page, and both axes have one scale. */
export const landing: ChartKind = {
  name: "landing",
  help: {
    summary: "Where shots landed, as the player sees it, with each group's mean and the ellipse that holds its next shot with 95 %.",
    example: 'chart.landing(shots, { by: "head" })',
  },
  needs: groundNumbers,
  options: { by: groupOption },
  build: (table, options, context) =>
    tooMany(table, context) ??
    drawGround(table, whatGroups(table, options), {
      title: "Where the shots landed",
      edgeOf: nextPointEllipse,
      ellipses: "Ellipses hold the next shot with 95 %.",
      notes: () => [],
    }),
};
