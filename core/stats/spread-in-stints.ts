import { fitBlockModel } from "./block-model";
import { medianDistances } from "./brown-forsythe";
import type { JointTest } from "./kenward-roger";
import { meanModel } from "./mean-model";
import type { ShotData } from "./shot-data";

/**
 * Whether all groups scatter alike, with stints counted: Brown and Forsythe's distances from the group's median as the
 * response of the block model of level, session and trend.
 *
 * @param data `value` holds residuals, one a shot, the stints known.
 * @returns the F test of all groups' mean distances being equal (Kenward and Roger); `null` where the shots do not
 *   determine it, as with heads hit in one go, or one group alone.
 * Source of the response: M. B. Brown, A. B. Forsythe, JASA 69 (1974) 364; the model with stints is our own use of it.
 */
export function brownForsytheInStints(data: ShotData): JointTest | null {
  const present = [...new Set(data.group)].sort((a, b) => a - b);
  const group = data.group.map((number) => present.indexOf(number));
  const distances = { ...data, group, groupCount: present.length, value: medianDistances(group, data.value) };
  const model = meanModel(distances);
  const fit = present.length < 2 ? null : fitBlockModel(model);
  if (fit === null) return null;
  const weights = present.slice(1).map((_, i) => Float64Array.from(model.columns, (__, place) => (place === i + 1 ? 1 : place === 0 ? -1 : 0)));
  const test = fit.jointTest(weights);
  return Number.isNaN(test.p) ? null : test;
}
