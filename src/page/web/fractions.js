// fractions.js - a row of fractions while a length is being filled in, so that 14 15/16 goes in on a phone without hunting for a slash.
import { byId, el } from "./dom.js";

const USUAL = ["1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"];

/** Puts a fraction behind the whole number that stands in the field, in place of one that is there already. */
export function withFraction(text, fraction) {
  const whole = /^\s*(\d+)(?![\d/])/.exec(text);
  return whole ? `${whole[1]} ${fraction}` : fraction;
}

export function startFractions() {
  const bar = byId("fractions");
  let field = null;
  const put = (fraction) => {
    if (!field || !field.isConnected) return;
    field.value = withFraction(field.value, fraction);
    field.dispatchEvent(new Event("said"));
  };
  bar.append(...USUAL.map((fraction) => el("button", { type: "button", tabindex: "-1", onpointerdown: (event) => event.preventDefault(), onclick: () => put(fraction) }, fraction)));
  document.addEventListener("focusin", (event) => {
    const wanted = event.target.dataset && event.target.dataset.fraction === "yes";
    if (wanted) field = event.target;
    if (wanted) (field.closest("dialog") || document.body).append(bar); // what is outside an open dialog cannot be touched
    bar.hidden = !wanted;
  });
  document.addEventListener("focusout", (event) => { if (!event.relatedTarget) bar.hidden = true; });
  keepInView(bar);
}

/** A screen's keyboard covers what is fixed to the bottom of the page: the bar stands on top of it. */
function keepInView(bar) {
  const view = window.visualViewport;
  if (!view) return;
  const lift = () => { bar.style.bottom = `${Math.max(0, window.innerHeight - view.height - view.offsetTop)}px`; };
  view.addEventListener("resize", lift);
  view.addEventListener("scroll", lift);
}
