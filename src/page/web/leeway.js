// leeway.js - sizes that gave to save a sheet, each to be taken for good or refused; and what a small change would still save. The library says what
// to write into the job for either.
import { bankOf, drawersOf, set } from "./address.js";
import { edit } from "./desk.js";
import { act, byId, el, renew, table } from "./dom.js";
import { money } from "./money.js";
import { many } from "./sheets.js";

/** Writes what the library says into the job, as one step for undo. */
function apply(edits) {
  edit((job) => {
    for (const { address, value } of edits) {
      if (/\.drawers\[/.test(address)) drawersOf(job, bankOf(address));
      set(job, address, value);
    }
  });
}

function changeLine(change, i) {
  return el("li", {}, el("span", {}, `${change.show}. `), el("span", { class: "acts" },
    act("Take it for good", () => apply(change.take), { dataset: { key: `take ${i}` }, "aria-label": `Take it for good: ${change.show}` }),
    act("Leave it as it was", () => apply(change.refuse), { dataset: { key: `refuse ${i}` }, "aria-label": `Leave it as it was: ${change.show}` })));
}

/** The plan with the changes beside the plan without. */
function beside(leeway) {
  const counted = leeway.slides ? "sheets, delivery and what slides cost more" : "sheets and delivery";
  return table("With and without leeway", [["plan", ""], ["sheets", "n"], [counted, "n"]], [
    ["as preferred", String(leeway.sheets_before), money(leeway.before)],
    ["with these sizes", String(leeway.sheets_after), money(leeway.before - leeway.saved)],
    ["saved", String(leeway.sheets_before - leeway.sheets_after), money(leeway.saved)]]);
}

function certainty({ certain, lower_bound: least }) {
  if (certain) return "No choice of sizes within the rules costs less.";
  return least > 0 ? `No choice of sizes within the rules comes below ${money(least)}.` : "";
}

/** What sizes gave; nothing where none were to. */
export function showLeeway(leeway) {
  if (!leeway) { renew(byId("leeway")); return; }
  if (!leeway.changes.length) { renew(byId("leeway"), el("p", {}, `Leeway: ${leeway.show}.`)); return; }
  renew(byId("leeway"), el("h3", {}, `Sizes that gave: ${many(leeway.changes.length, "change")}, ${money(leeway.saved)} saved`),
    el("ul", { class: "changes" }, ...leeway.changes.map(changeLine)), beside(leeway), el("p", {}, certainty(leeway)),
    el("p", { class: "hint" }, "Everything below, the fronts, boxes and parts above, and the packet have these sizes; the preferred ones stand beside them."));
}

/** What a small change, told or not, would save; nodes for the shopping list. */
export function nearMisses(near) {
  if (!near || (!near.changes.length && !near.alone.length)) return [];
  return [el("h3", {}, "Almost a sheet less"), el("ul", { class: "changes" },
    near.changes.length ? el("li", {}, el("span", {}, `${near.show}. `),
      act("Make this change", () => apply(near.changes.flatMap((change) => change.take)), { dataset: { key: "near" } })) : null,
    ...near.alone.map((one) => el("li", {}, `${one.show}.`)))];
}
