// bench_look.js - does the page or label in hand still hold? And everything that was marked, with what can be taken back.
import { ask } from "./door.js";
import { on, units } from "./desk.js";
import { act, byId, el, renew, table, unfold } from "./dom.js";
import { bench, doing, lineItem } from "./bench.js";

// ---- a mark ----------------------------------------------------------------------------------------------------------

const verdicts = {
  unknown: (one) => [el("p", {}, el("strong", {}, `No plan ${one.mark} is entered here.`), " It was only looked at, or taken back, or belongs to another folder: do not cut from it.")],
  holds: (one) => [el("p", {}, el("strong", {}, `Plan ${one.mark} holds.`), ` It is of ${one.jobs}, entered ${one.when} UTC.`)],
  outdated: (one) => [el("p", {}, el("strong", {}, `Plan ${one.mark} is OUTDATED.`), ` Work from plan ${one.last}. What has changed since:`),
    one.changes.length ? el("ul", {}, ...one.changes.map(lineItem)) : el("p", {}, "No size; but pieces were cut or marked in between.")],
};

function lookForm() {
  const form = el("form", { class: "fields", autocomplete: "off", onsubmit: async (event) => {
    event.preventDefault();
    const plan = new FormData(form).get("mark").trim().toUpperCase();
    const one = await doing(() => ask("bench/look", { plan, units: units() }));
    renew(byId("bench-verdict"), ...(one ? verdicts[one.state](one) : []));
  } }, el("label", {}, "The mark on a page or label ", el("input", { name: "mark", type: "text", required: true, autocapitalize: "characters", spellcheck: "false", dataset: { key: "look mark" } })),
  el("button", { class: "big", dataset: { key: "look" } }, "Does it still hold?"));
  return form;
}

// ---- the history -----------------------------------------------------------------------------------------------------

const takeBack = (line) => doing(() => ask("bench/back", { plan: bench.plan.mark, number: line.number }, "{}"), `Taken back: ${line.what}.`);

function showHistory() {
  const lines = bench.plan ? [...bench.plan.history].reverse() : [];
  renew(byId("bench-history"), lines.length ? unfold("bench history", `Everything that was marked (${lines.length})`, () => [
    table("History of the bench", [["what", ""], ["when (UTC)", ""], ["plan", ""], ["note", ""], ["", ""]], lines.map((line) => [line.what, line.when, line.plan, line.note,
      line.taken_back ? "taken back" : line.can ? act("Take back", () => takeBack(line), { class: "big", "aria-label": `Take back: ${line.what}`, dataset: { key: `back ${line.number}` } }) : ""]))]) : null);
}

export function startBenchLook() {
  renew(byId("bench-look"), el("h3", {}, "A page or a label in hand"), lookForm());
  on("bench", showHistory);
  on("opened", () => renew(byId("bench-verdict")));
}
