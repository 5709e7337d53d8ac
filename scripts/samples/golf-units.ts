/** One of each in SI. */
export const mph = 0.44704;
export const yard = 0.9144;
export const foot = 0.3048;
export const kilometreAnHour = 1 / 3.6;
export const degree = Math.PI / 180;
export const rpm = (2 * Math.PI) / 60;
export const millimetre = 0.001;
export const celsius = 273.15;
