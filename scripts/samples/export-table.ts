import type { Reading } from "./monitor";

/** One column of an export: text, or a number in a unit. */
export type ExportColumn = TextColumn | NumberColumn;

interface TextColumn {
  readonly name: string;
  readonly unit: string;
  readonly text: (reading: Reading) => string;
}

interface NumberColumn {
  readonly name: string;
  readonly unit: string;
  /** In SI; `null` where the monitor saw nothing. */
  readonly value: (reading: Reading) => number | null;
  /** What one unit is in SI. */
  readonly size: number;
  readonly write: (value: number) => string;
}

/** The field of a reading; `missing` where the monitor saw nothing. */
export function fieldOf(column: ExportColumn, reading: Reading, missing: string): string {
  if ("text" in column) return column.text(reading);
  const value = column.value(reading);
  return value === null ? missing : column.write(value / column.size);
}

/** The average of a column's numbers over readings, as a field; nothing for a column of text. */
export function averageField(column: ExportColumn, readings: readonly Reading[]): string {
  if ("text" in column) return "";
  const values = readings.map(column.value).filter((value) => value !== null);
  return column.write(values.reduce((sum, value) => sum + value, 0) / values.length / column.size);
}

/** One line of delimited text; a field is in quotes where it has to be. */
export function delimitedLine(fields: readonly string[], delimiter: string): string {
  const quoted = fields.map((field) => {
    const plain = !/["\r\n]/.test(field) && !field.includes(delimiter);
    return plain ? field : `"${field.replaceAll('"', '""')}"`;
  });
  return quoted.join(delimiter);
}
