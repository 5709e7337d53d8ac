/**
 * Where a column's values come from: read by the monitor, calculated by the monitor from other readings,
 * derived here from other columns, stated by a person, or computed by a query.
 */
export type ColumnOrigin = "measured" | "calculated" | "derived" | "stated" | "computed";
