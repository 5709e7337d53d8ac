import type { HeadKind } from "../session/session-facts";

const degree = Math.PI / 180;

/** Share of the way from path to face at which balls launch. Wood, Henrikson & Broadie 2018, Proceedings 2(6):249, rounded. */
export const launchRatio: Readonly<Record<HeadKind, number>> = { iron: 0.8, wedge: 0.72, wood: 0.83 };

/** Angles of attack of a usual strike off the ground, and off a tee for woods, in radians. Common practice, no source. */
export const usualAttack: Readonly<Record<HeadKind, number>> = { iron: -4 * degree, wedge: -5 * degree, wood: 0 };
