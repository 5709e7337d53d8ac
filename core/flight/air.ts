/** Air as flight sees it. */
export interface Air {
  /** kg/m³ */
  readonly density: number;
  /** Dynamic viscosity, Pa·s */
  readonly viscosity: number;
}

/** What a weather station or a person states about the air, in SI: K, Pa, share of 1, m. */
export interface AirConditions {
  /** K */
  readonly temperature: number;
  /** Pressure at the place itself, Pa; wins over `altitude`. */
  readonly pressure?: number;
  /** Altitude, m, from which the pressure follows when it isn't stated. */
  readonly altitude?: number;
  /** Relative humidity, 0..1; one half when not stated (dry to saturated moves a 7-iron's carry by 1 %). */
  readonly humidity?: number;
}

/** The standard atmosphere at one altitude. */
export interface StandardAtmosphere {
  /** K */
  readonly temperature: number;
  /** Pa */
  readonly pressure: number;
  /** kg/m³, dry air */
  readonly density: number;
  /** m/s */
  readonly soundSpeed: number;
}

const zeroCelsius = 273.15; // K, by definition
const seaLevelPressure = 101_325; // Pa, ISO 2533
const seaLevelTemperature = 288.15; // K, ISO 2533
const lapseRate = 0.0065; // K/m up to 11 km, ISO 2533
const pressureExponent = 5.25588; // g/(R·lapse rate), ISO 2533
const dryAirConstant = 287.05287; // J/(kg·K), ISO 2533
const heatCapacityRatio = 1.4; // ISO 2533
const gasConstant = 8.314472; // J/(mol·K), CIPM-2007
const dryMolarMass = 28.96546e-3; // kg/mol at 400 µmol/mol carbon dioxide, CIPM-2007
const vapourMolarMass = 18.01528e-3; // kg/mol, CIPM-2007

/**
 * Density and viscosity of the air under the given conditions.
 *
 * A stated pressure is that of the place and is used as it is; otherwise it is the standard atmosphere's at the
 * stated altitude, or at sea level. The two are never applied together.
 *
 * @throws {RangeError} when a condition is not finite or not physical.
 * @example airOf({ temperature: 288.15, humidity: 0 }).density // 1.2255
 */
export function airOf(conditions: AirConditions): Air {
  const pressure = conditions.pressure ?? standardAtmosphere(conditions.altitude ?? 0).pressure;
  const humidity = conditions.humidity ?? 0.5;
  return {
    density: moistAirDensity(conditions.temperature, pressure, humidity),
    viscosity: airViscosity(conditions.temperature),
  };
}

/**
 * Density of moist air in kg/m³, by the formula CIPM-2007.
 *
 * Stated for 15 to 27 °C and 600 to 1100 hPa with a relative uncertainty of 2.2e-5; outside, between −10 and 45 °C,
 * the error stays far below what a flight can show (the ideal gas law is within 0.1 %).
 *
 * @param temperature K.
 * @param pressure Pa, of the place itself, not reduced to sea level.
 * @param humidity relative, 0..1.
 * @throws {RangeError} when an argument is not finite, or not physical.
 * Source: Picard, Davis, Gläser & Fujii 2008, Metrologia 45:149–155.
 * @example moistAirDensity(293.15, 101325, 0.5) // 1.19931
 */
export function moistAirDensity(temperature: number, pressure: number, humidity: number): number {
  requireBetween("temperature", temperature, 150, 400);
  requireBetween("pressure", pressure, 1_000, 200_000);
  requireBetween("humidity", humidity, 0, 1);
  const vapour = vapourShare(temperature, pressure, humidity);
  const molarMass = dryMolarMass * (1 - vapour * (1 - vapourMolarMass / dryMolarMass));
  return (pressure * molarMass) / (compressibility(temperature, pressure, vapour) * gasConstant * temperature);
}

/** Saturation pressure of water vapour in Pa at a temperature in K. Source: CIPM-2007, equation A1.1. */
export function saturationPressure(temperature: number): number {
  const T = temperature;
  return Math.exp(1.237_884_7e-5 * T * T - 1.912_131_6e-2 * T + 33.937_110_47 - 6.343_164_5e3 / T);
}

/** Mole fraction of water vapour, 0..1; temperature in K, pressure in Pa. Source: CIPM-2007, appendix A.1. */
export function vapourShare(temperature: number, pressure: number, humidity: number): number {
  const t = temperature - zeroCelsius;
  const enhancement = 1.000_62 + 3.14e-8 * pressure + 5.6e-7 * t * t;
  return (humidity * enhancement * saturationPressure(temperature)) / pressure;
}

/** Compressibility factor of moist air, a pure number; K, Pa, mole fraction. Source: CIPM-2007, appendix A.1.4. */
export function compressibility(temperature: number, pressure: number, vapour: number): number {
  const t = temperature - zeroCelsius;
  const x = vapour;
  const ratio = pressure / temperature;
  const first =
    1.581_23e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t + (5.707e-6 - 2.051e-8 * t) * x + (1.9898e-4 - 2.376e-6 * t) * x * x;
  return 1 - ratio * first + ratio * ratio * (1.83e-11 - 0.765e-8 * x * x);
}

/**
 * Dynamic viscosity of air in Pa·s at a temperature in K, by Sutherland's formula.
 *
 * Good within 1 % from −50 to 60 °C; pressure and humidity do not matter there.
 * Source: U.S. Standard Atmosphere 1976, equation 51.
 */
export function airViscosity(temperature: number): number {
  return (1.458e-6 * temperature ** 1.5) / (temperature + 110.4);
}

/**
 * The standard atmosphere at a geopotential altitude in m, −1000 to 11 000.
 *
 * @throws {RangeError} when the altitude is outside that range.
 * Source: ISO 2533:1975 (the same as ICAO Doc 7488/3).
 */
export function standardAtmosphere(altitude: number): StandardAtmosphere {
  requireBetween("altitude", altitude, -1_000, 11_000);
  const temperature = seaLevelTemperature - lapseRate * altitude;
  const pressure = seaLevelPressure * pressureShare(altitude);
  return {
    temperature,
    pressure,
    density: pressure / (dryAirConstant * temperature),
    soundSpeed: Math.sqrt(heatCapacityRatio * dryAirConstant * temperature),
  };
}

/**
 * Pressure at a place in Pa, from the pressure a weather report gives reduced to sea level, and the altitude in m.
 *
 * The result goes into `AirConditions.pressure`; the altitude must then be left out.
 */
export function stationPressure(reducedPressure: number, altitude: number): number {
  requireBetween("altitude", altitude, -1_000, 11_000);
  return reducedPressure * pressureShare(altitude);
}

/** Pressure at an altitude as a share of the pressure at sea level. Source: ISO 2533. */
function pressureShare(altitude: number): number {
  return ((seaLevelTemperature - lapseRate * altitude) / seaLevelTemperature) ** pressureExponent;
}

function requireBetween(name: string, value: number, least: number, most: number): void {
  if (!(value >= least && value <= most)) throw new RangeError(`${name} ${value} is not between ${least} and ${most}`);
}

/**
 * Named air to which flights can be referred.
 *
 * `sea level` is the standard atmosphere's: 15 °C, 1013.25 hPa, dry, 1.225 kg/m³. `ball test` is the condition for
 * which the overall distance of balls is stated: 75 °F, 30.0 inHg, 50 % humidity.
 */
export const standardAirs = {
  "sea level": { density: 1.225, viscosity: airViscosity(seaLevelTemperature) },
  "ball test": airOf({ temperature: (75 - 32) / 1.8 + zeroCelsius, pressure: 30 * 3386.389, humidity: 0.5 }),
} as const satisfies Record<string, Air>;
