import type { Verb } from "../query/vocabulary";
import { antijoin } from "./antijoin";
import { choose } from "./choose";
import { compare } from "./compare";
import { concat } from "./concat";
import { count } from "./count";
import { dedupe } from "./dedupe";
import { derive } from "./derive";
import { describe } from "./describe";
import { drift } from "./drift";
import { enough } from "./enough";
import { filter } from "./filter";
import { flight } from "./flight";
import { fold } from "./fold";
import { forgiveness } from "./forgiveness";
import { groupby } from "./groupby";
import { join } from "./join";
import { joinLeft } from "./join-left";
import { loftOnly } from "./loft-only";
import { orderby } from "./orderby";
import { pivot } from "./pivot";
import { putBack } from "./put-back";
import { rename } from "./rename";
import { rollup } from "./rollup";
import { sample } from "./sample";
import { scorecard } from "./scorecard";
import { select } from "./select";
import { semijoin } from "./semijoin";
import { slice } from "./slice";
import { spread } from "./spread";
import { standardAir } from "./standard-air";
import { suspects } from "./suspects";
import { ungroup } from "./ungroup";
import { workability } from "./workability";

/** Every verb, in the order in which lists show them. The one place where verbs are listed. */
export const verbs: readonly Verb[] = [
  filter,
  choose,
  derive,
  select,
  rename,
  orderby,
  groupby,
  ungroup,
  rollup,
  count,
  slice,
  sample,
  dedupe,
  join,
  joinLeft,
  semijoin,
  antijoin,
  concat,
  fold,
  pivot,
  describe,
  scorecard,
  compare,
  forgiveness,
  drift,
  enough,
  workability,
  spread,
  loftOnly,
  standardAir,
  putBack,
  flight,
  suspects,
];
