/** A time of a shot: seconds from an origin of its own sort, and the sort, since only times of one sort can be compared. */
export interface ShotTime {
  readonly seconds: number;
  /** `clock` for a time of day, `local` for date and time, `zoned` for date and time with a stated offset from UTC. */
  readonly sort: "clock" | "local" | "zoned";
  /** True for an hour from 1 to 12 without AM or PM: the clock may be one of 12 hours. */
  readonly maybeHalfDay: boolean;
}

const daysBefore = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/**
 * The days from 1970-01-01 to a date of the Gregorian calendar, or `null` when there is no such day.
 *
 * @param month 1 to 12.
 */
export function dayNumber(year: number, month: number, day: number): number | null {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const before = daysBefore[month - 1];
  if (before === undefined || year < 1) return null;
  const length = month === 2 ? (leap ? 29 : 28) : (daysBefore[month] ?? 365) - before;
  if (day < 1 || day > length) return null;
  const past = year - 1;
  const days = 365 * past + Math.floor(past / 4) - Math.floor(past / 100) + Math.floor(past / 400) + before + (leap && month > 2 ? 1 : 0) + day - 1;
  // 719 162 days lie between 0001-01-01 and 1970-01-01 in this calendar.
  return days - 719_162;
}

/** True for a day of the calendar written as in ISO 8601: `2026-03-14`. */
export function isDate(text: string): boolean {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  return match !== null && dayNumber(Number(match[1]), Number(match[2]), Number(match[3])) !== null;
}

const timeText =
  /^(?:(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:[T ]\s*|$))?(?:(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?\s*([AaPp][Mm])?\s*(Z|[-+]\d{2}:?\d{2})?)?$/u;

/**
 * The time that a text says, or `null` when it can be read in more than one way or in none.
 *
 * The year comes first (`2026-03-14 09:05:00`), because 01/02/2026 is two days; or there is no date (`9:05:00 AM`).
 * A local time is not moved to any time zone, so it is the same on every machine. A second 60 is refused.
 */
export function readTime(text: string): ShotTime | null {
  const match = timeText.exec(text.trim());
  if (match === null) return null;
  const [, year, , month, day, hour, minute, second, fraction, half, zone] = match;
  if (hour === undefined && year === undefined) return null;
  const date = year === undefined ? 0 : dayNumber(Number(year), Number(month), Number(day));
  const hours = hourOfDay(Number(hour ?? 0), half);
  if (date === null || hours === null || Number(minute ?? 0) > 59 || Number(second ?? 0) > 59) return null;
  if (zone !== undefined && year === undefined) return null;
  const offset = zone === undefined || zone === "Z" ? 0 : offsetSeconds(zone);
  if (offset === null) return null;
  const seconds = ((date * 24 + hours) * 60 + Number(minute ?? 0)) * 60 + Number(second ?? 0) + Number(`0.${fraction ?? 0}`);
  return {
    seconds: seconds - offset,
    sort: year === undefined ? "clock" : zone === undefined ? "local" : "zoned",
    maybeHalfDay: half === undefined && hours >= 1 && hours <= 12,
  };
}

function hourOfDay(hour: number, half: string | undefined): number | null {
  if (half === undefined) return hour <= 23 ? hour : null;
  if (hour < 1 || hour > 12) return null;
  return (hour % 12) + (half.toLowerCase() === "pm" ? 12 : 0);
}

function offsetSeconds(zone: string): number | null {
  const hours = Number(zone.slice(1, 3));
  const minutes = Number(zone.slice(-2));
  if (hours > 14 || minutes > 59) return null;
  return (zone.startsWith("-") ? -1 : 1) * (hours * 60 + minutes) * 60;
}
