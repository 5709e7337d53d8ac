/**
 * Every key of a session file with what it says, map by map: what reading accepts, and what completion and hover show.
 * What may stand behind each key is in `session-shapes.ts`.
 */
export const sessionKeyHelp = {
  session: {
    session: "name of the session; a short one, since tables show it",
    date: "day of the session, as 2026-03-14",
    data: "recorded, or synthetic for invented shots",
    sources: "the exports: a path, or a list of paths or maps with file, head, order",
    player: "who hit: a name, or a map with name, hand, mirror",
    monitor: "what measured, and where: kind, place",
    calculated: "shot columns that the monitor calculates rather than measures",
    carry_is: "as played, in standard air, or unknown",
    columns: "shot column and the header it is read from, with unit, sides, positive, missing",
    missing: "texts in the exports that say that a value is missing",
    air: "temperature, pressure, humidity, altitude",
    turf: "what balls landed on, or what the monitor reckoned with, in words: total depends on it",
    ball: "the ball: a model, or a map with model, count, wear",
    heads: "each head by name, with what is known of its build",
    shots: "intent and note by shot",
    breaks: "shots before which there was a break, so that a stint ends there",
    corrections: "values that were recorded wrongly: shots, column, value, because",
    set_aside: "values that are not believed: shots, column, because",
    reading_error: "one standard deviation of a column's readings, in its unit or in %",
    zones: "width and height of the centre zone, for all kinds of head or by kind",
    misses: "how far a standard miss is from the strike reference: x, y",
    margin: "the smallest difference of a column that matters to a player",
    plausible: "lower and upper limit of a column: [50 yd, 250 yd]",
    note: "whatever else is worth knowing",
  },
  source: {
    file: "path of the export, beside the session file",
    head: "the head that was hit, for a file of one head",
    order: "what tells the hitting order: shot, time, file, or session shot",
    delimiter: "comma, semicolon, tab or bar",
    decimal: "the decimal mark: . or ,",
    skip_lines: "lines before the header",
    short_rows: "missing: what a short row lacks is missing",
    duplicate_headers: "number: a name that is there twice is read as NAME (2)",
    units_row: "true when the row under the header holds units, false when it is a shot",
  },
  player: {
    name: "who hit",
    hand: "right or left",
    mirror: "true to turn a left-hander's directions to the other side",
  },
  monitor: {
    kind: "how it measures: camera, radar",
    place: "indoor or outdoor",
  },
  column: {
    from: "header in the export, exactly as it stands there",
    unit: "unit of the numbers",
    sides: "letters behind numbers that tell the side: L/R, T/H, U/D",
    positive: "the direction that positive numbers mean in the export",
    missing: "texts that say that a value of this column is missing",
  },
  air: {
    temperature: "as 21 degC",
    pressure: "at the place itself, not reduced to sea level, as 1009 hPa",
    humidity: "relative humidity, as 45 %",
    altitude: "above sea level, as 300 m",
  },
  ball: {
    model: "what it is called",
    count: "how many were used",
    wear: "new, used",
  },
  head: {
    kind: "iron, wedge or wood",
    design: "blade, cavity, hollow",
    set: "the set it belongs to",
    club: "its number or letter in the set",
    loft: "measured or stated, as 34 deg",
    lie: "as 62 deg",
    length: "of the club, as 37 in",
    shaft: "what it is called",
    strike_reference: "a centred strike from the monitor's origin: x, y",
    called: "other names under which the exports know it",
  },
  strike_reference: {
    x: "across the face, towards the toe, as 0 mm",
    y: "up the face, as -9 mm",
  },
  zones: {
    width: "of the centre zone, as 14 mm",
    height: "of the centre zone, as 5 mm",
    iron: "width and height for irons alone",
    wedge: "width and height for wedges alone",
    wood: "width and height for woods alone",
  },
  misses: {
    x: "to toe or heel, as 12 mm",
    y: "high or low, as 8 mm",
    iron: "x and y for irons alone",
    wedge: "x and y for wedges alone",
    wood: "x and y for woods alone",
  },
  shots: {
    shots: "shots by number, the export's where it counts them: 41, 1-6, [1-6, 41]",
    shot: "the same as shots",
    intent: "what the player meant to hit",
    note: "what is worth knowing of them",
  },
  correction: {
    shots: "shots by number, the export's where it counts them: 41, 1-6, [1-6, 41]",
    shot: "the same as shots",
    column: "a shot column, or a header of the export",
    value: "what it ought to be, in the column's unit or with another; a side as in 5 L, or positive to the right, the toe and up",
    because: "the reason, in words",
  },
  "set-aside entry": {
    shots: "shots by number, the export's where it counts them: 41, 1-6, [1-6, 41]",
    shot: "the same as shots",
    column: "the shot column whose value is not believed, or all",
    because: "what speaks against it, in words",
  },
} as const satisfies Record<string, Record<string, string>>;

/** A map of a session file. */
export type SessionMap = keyof typeof sessionKeyHelp;

/** A key of a map of a session file. */
export type SessionKey<M extends SessionMap> = keyof (typeof sessionKeyHelp)[M] & string;

/** The keys of a map of a session file, in the order in which they are usually written. */
export function keysOf<M extends SessionMap>(map: M): readonly SessionKey<M>[] {
  return Object.keys(sessionKeyHelp[map]) as SessionKey<M>[];
}
