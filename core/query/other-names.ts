/**
 * What a function is called here that is called `name` elsewhere, where it does the same; `undefined` for a name that is
 * no such one. From memory: names of spreadsheets, statistics packages and JavaScript.
 *
 * Angles are in degrees here, so that `op.tan` is `op.tan_deg`, and JavaScript's own `Math.tan` is not.
 */
export function nameHere(name: string): string | undefined {
  return otherNames.get(name.toLowerCase().replaceAll("_", ""));
}

/** The name here by that elsewhere, in small letters, without `_`. */
export const otherNames: ReadonlyMap<string, string> = new Map(
  Object.entries({
    any_of: ["anyof", "isin", "oneof"],
    ceil: ["ceiling"],
    count: ["n", "nrow", "size"],
    count_missing: ["countblank", "countna"],
    distinct: ["countdistinct", "countunique", "ndistinct", "nunique", "unique"],
    if_missing: ["coalesce", "fillna", "ifna", "ifnull"],
    includes: ["contains"],
    is_missing: ["isblank", "isempty", "isna", "isnan", "isnull"],
    length: ["len"],
    log: ["ln"],
    lower: ["tolower", "tolowercase"],
    max: ["maximum"],
    mean: ["average", "avg"],
    median: ["med"],
    min: ["minimum"],
    pow: ["power"],
    sd: ["std", "stddev", "stdev"],
    sum: ["total"],
    upper: ["toupper", "touppercase"],
    cos_deg: ["cos"],
    sin_deg: ["sin"],
    tan_deg: ["tan"],
    atan2_deg: ["atan2"],
    starts_with: ["startswith"],
    ends_with: ["endswith"],
  }).flatMap(([here, others]) => others.map((other) => [other, here] as const)),
);
