// rack.js - the rack of offcuts: see it, put in, take out, enter the plan that is shown, undo an entry.
import { ask } from "./door.js";
import { attempt, desk, on, say, units } from "./desk.js";
import { act, byId, el, renew, table, unfold } from "./dom.js";
import { bench } from "./bench.js";
import { finished } from "./plan.js";

const change = (path, params, after = "") => attempt(async () => {
  await ask(`rack/${path}`, params, "{}");
  await showRack();
  if (after) byId("rack-told").textContent = after;
});

async function showRack() {
  const { offcuts, history } = await ask("rack", { units: units() });
  renew(byId("rack"),
    offcuts.length ? table("Offcuts in the rack", [["offcut", ""], ["material", ""], ["length", "n"], ["width", "n"], ["grain along", ""], ["worth", "n"], ["from", ""], ["", ""]], offcuts.map(row))
      : el("p", {}, "The rack is empty."),
    entry(history), addForm(),
    history.length ? unfold("rack history", "What has gone in and out", () => [table("History of the rack", [["when (UTC)", ""], ["offcut", ""], ["what", ""], ["plan", ""], ["note", ""]],
      history.map((one) => [one.when, one.offcut, one.what, one.plan, one.note]))]) : null);
}

const row = (one) => [one.id, one.material, one.length, one.width, one.grain_across ? "width" : "length", one.worth, one.origin,
  act("Take", () => change("take", { id: one.id }, `${one.id} is out of the rack.`), { "aria-label": `Take ${one.id}`, dataset: { key: `take ${one.id}` } })];

/** Plans that stand in the rack: entered, and not undone since. */
function entered(history) {
  const plans = new Map();
  for (const one of history) if (one.plan) plans.set(one.plan, one.what !== "undone");
  return [...plans].filter(([, stands]) => stands).map(([plan]) => plan);
}

/** Another plan of this job is worked from: that one is put into the rack when all is cut. */
const isLeft = (mark) => Boolean(bench.plan && bench.plan.jobs === desk.id && bench.plan.mark !== mark);

function entry(history) {
  const plans = entered(history);
  return el("div", { class: "tools" },
    finished && !plans.includes(finished.plan_id) && !isLeft(finished.plan_id) ? act(`Enter plan ${finished.plan_id}`, () => change("post", { run: finished.run },
      `Plan ${finished.plan_id} is entered: what it uses is out, what it keeps is in.`), { dataset: { key: "post" } }) : null,
    ...plans.map((plan) => act(`Undo plan ${plan}`, () => change("undo", { plan }, `Plan ${plan} is undone.`), { dataset: { key: `undo ${plan}` } })));
}

function addForm() {
  const form = el("form", { class: "tools", autocomplete: "off", onsubmit: (event) => {
    event.preventDefault();
    const said = Object.fromEntries(new FormData(form));
    attempt(async () => {
      await ask("rack/add", { ...said, units: units() }, "{}");
      form.reset();
      say("");
      await showRack();
      byId("rack-told").textContent = "It is in the rack: write its number on it.";
    });
  } },
    el("label", {}, "Material ", el("select", { name: "material" }, ...(desk.shop.materials || []).map((one) => el("option", { value: one.id }, one.name || one.id)))),
    ...[["length", "Length"], ["width", "Width"]].map(([name, label]) => el("label", {}, `${label} `, el("input", { name, type: "text", size: "8", inputmode: "decimal", dataset: { fraction: "yes", key: `rack ${name}` } }))),
    el("label", {}, "Worth ", el("input", { name: "worth", type: "text", size: "7", dataset: { key: "rack worth" } })),
    el("label", {}, "Note ", el("input", { name: "note", type: "text", size: "14", dataset: { key: "rack note" } })), el("button", { dataset: { key: "rack add" } }, "Put in"));
  return form;
}

export function startRack() {
  let worked = "";
  on("bench", () => {
    const mark = bench.plan ? bench.plan.mark : "";
    if (mark !== worked) attempt(showRack);
    worked = mark;
  });
  for (const what of ["opened", "planned", "racked"]) on(what, () => attempt(showRack));
}
