import type { Aggregate, RowFunction } from "../query/vocabulary";
import { angleFunctions } from "./angle-functions";
import { countAggregates } from "./count-aggregates";
import { missingFunctions } from "./missing-functions";
import { numberAggregates } from "./number-aggregates";
import { numberFunctions } from "./number-functions";
import { textFunctions } from "./text-functions";

/** Every function of one row, in the order in which lists show them. */
export const rowFunctions: readonly RowFunction[] = [...numberFunctions, ...angleFunctions, ...textFunctions, ...missingFunctions];

/** Every function of many rows, in the order in which lists show them. */
export const aggregates: readonly Aggregate[] = [...countAggregates, ...numberAggregates];
