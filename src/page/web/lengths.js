// lengths.js - a length of the library (a whole number of 1/16 micrometers) as the maker writes it. Only whole steps of the shop's rounding are written.
import { desk, units } from "./desk.js";

const INCH = 406400, MILLIMETER = 16000;

/** The step to which fronts are rounded. */
export function step() {
  const habit = String((desk.shop.habits && desk.shop.habits.front_step) ?? "");
  const fraction = /^(\d+)\/(\d+)$/.exec(habit);
  if (fraction) return (INCH * fraction[1]) / fraction[2];
  if (/^\d+(\.\d+)?$/.test(habit) && Number(habit) > 0) return Number(habit) * (units() === "mm" ? MILLIMETER : INCH);
  return units() === "mm" ? MILLIMETER : INCH / 16;
}

export const toStep = (length) => Math.round(length / step()) * step();

/** "6 1/4", or "158.5" in millimeters. */
export function written(length) {
  if (units() === "mm") return String(length / MILLIMETER);
  const whole = Math.floor(length / INCH);
  let top = Math.round((length - whole * INCH) / (INCH / 128)), bottom = 128;
  while (top && top % 2 === 0) { top /= 2; bottom /= 2; }
  return top ? `${whole ? whole + " " : ""}${top}/${bottom}` : String(whole);
}
