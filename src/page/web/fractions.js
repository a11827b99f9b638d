// fractions.js - a row of fractions under the field that is being filled, so that 14 15/16 goes in on a phone without hunting for a slash.
import { el } from "./dom.js";

const USUAL = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8", "1/16", "3/16", "5/16", "7/16", "9/16", "11/16", "13/16", "15/16"];

/** Puts a fraction behind the whole number that stands in the field, in place of one that is there already. */
export function withFraction(text, fraction) {
  const whole = /^\s*(\d+)(?![\d/])/.exec(text);
  return whole ? `${whole[1]} ${fraction}` : fraction;
}

export function fractionBar(bar) {
  let field = null;
  bar.replaceChildren(...USUAL.map((fraction) => el("button", { type: "button", onpointerdown: (event) => event.preventDefault(), onclick: () => {
    if (!field) return;
    field.value = withFraction(field.value, fraction);
    field.dispatchEvent(new Event("change", { bubbles: true }));
  } }, fraction)));
  document.addEventListener("focusin", (event) => {
    const wanted = event.target.dataset && event.target.dataset.fraction === "yes";
    if (wanted) field = event.target;
    bar.hidden = !wanted && !bar.contains(event.target);
  });
}
