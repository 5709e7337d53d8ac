import type { Launch } from "../../../core/flight/launch";

/** One unit in SI; exact by definition. */
export const mph = 0.44704;
export const yard = 0.9144;
export const degree = Math.PI / 180;
export const rpm = (2 * Math.PI) / 60;
export const celsius = 273.15;

/** A launch from mph, degrees and rpm. */
export function launchOf(speed: number, launchAngle: number, spinRate: number, spinAxis = 0, startDirection = 0): Launch {
  return {
    speed: speed * mph,
    launchAngle: launchAngle * degree,
    startDirection: startDirection * degree,
    spinRate: spinRate * rpm,
    spinAxis: spinAxis * degree,
  };
}
