// bench_replan.js - plans only some parts, or what is left of the plan at the bench; shows what changes against it; and enters it when the maker says so.
import { ask, words } from "./door.js";
import { attempt, desk, on, textOf } from "./desk.js";
import { act, byId, el, renew, unfold } from "./dom.js";
import { bound, moneyMark } from "./money.js";
import { rungItem } from "./sheets.js";
import { bench, enter, lineItem, say } from "./bench.js";

const OFTEN = 300; // milliseconds between questions how it stands
const KINDS = [["boxes", "boxes"], ["fronts", "fronts"], ["case", "the case itself"], ["extras", "parts listed by hand"]];

const DOING = { sheets: "Looking for sheets ...", choices: "Weighing it against other choices of sheets ...", sizes: "Trying the sizes that may give ...",
  near: "Looking whether something small would save a sheet ..." };

let only = new Set(); // of KINDS
let place = ""; // and all of this case, bank or drawer
let run = 0; // that is followed; 0: none
let what = ""; // that it is about
let found = null; // what came of it: { run, told, plan: mark of the plan before, last: its last mark then, wanted }
let stale = ""; // why it cannot be entered any more

// ---- what is asked ---------------------------------------------------------------------------------------------------

/** Paths of cases, banks and drawers, as the sizes name them. */
function places() {
  const all = new Set();
  for (const drawer of (desk.sizing ? desk.sizing.drawers : [])) {
    const steps = drawer.path.split("/");
    steps.forEach((_, i) => all.add(steps.slice(0, i + 1).join("/")));
  }
  return [...all].sort((a, b) => a.localeCompare(b, "en", { numeric: true }));
}

function form() {
  const { plan } = bench;
  return [
    el("fieldset", { class: "ticks" }, el("legend", {}, "Only some parts? Nothing ticked means all that are left."),
      ...KINDS.map(([word, label]) => el("label", {}, el("input", { type: "checkbox", checked: only.has(word), dataset: { key: `only ${word}` }, onchange: (event) => { if (event.target.checked) only.add(word); else only.delete(word); } }), label)),
      el("label", {}, "and all of\u00a0", el("select", { dataset: { key: "only place" }, onchange: (event) => { place = event.target.value; } },
        el("option", { value: "", selected: !place }, "no place in particular"), ...places().map((path) => el("option", { value: path, selected: path === place }, path))))),
    el("p", { class: "hint" }, `Patience, the use of the rack and sizes that may give are as said at the sheets.${plan ? " Uncut sheets, half-cut ones and offcuts of the plan are used first; a sheet is bought only when nothing else will do." : ""}`),
    el("div", { class: "tools" },
      act(plan ? "Plan again what is left" : "Plan these parts", () => attempt(start), { class: "strong big", disabled: run !== 0, dataset: { key: "replan" } }),
      run ? act("Stop looking, take what is there", () => attempt(() => ask("stop", { run, of: "bench" }, "{}")), { class: "big", dataset: { key: "replan stop" } }) : null,
      el("span", { role: "status" }, run ? DOING[what] || DOING.sheets : "")),
  ];
}

async function start() {
  const before = { plan: bench.plan ? bench.plan.mark : "", last: bench.plan ? bench.plan.last : 0 };
  found = null;
  stale = "";
  say("");
  const wanted = before.wanted = [...only, ...(place ? [place] : [])].join(",");
  const answer = await ask("bench/plan", { id: desk.id, plan: before.plan, only: wanted, patience: byId("patience").value, rack: byId("use-rack").checked ? "yes" : "no",
    leeway: byId("use-leeway").checked ? "yes" : "no" }, textOf(desk.history.job));
  run = answer.run;
  what = "";
  show();
  await follow(answer.run, before);
}

async function follow(number, before) {
  try {
    for (;;) {
      const told = await ask("plan", { run: number, of: "bench" });
      if (number !== run) return;
      if (told.state !== "working") { settle(number, told, before); return; }
      if (told.what !== what) { what = told.what; show(); }
      await new Promise((later) => setTimeout(later, OFTEN));
    }
  } finally {
    if (number === run) { run = 0; show(); }
  }
}

function settle(number, told, before) {
  if (told.state === "done") { found = { run: number, told, ...before }; judge(); return; }
  const errors = (told.faults || []).filter((fault) => fault.grade === "error").map((fault) => `${fault.address ? fault.address + ": " : ""}${words(fault)}`);
  say(told.state === "gone" ? "That search is gone: plan again." : errors.join(" "), true);
}

// ---- what came of it -------------------------------------------------------------------------------------------------

function sheetsOf({ layouts, drawings }) {
  return layouts.materials.flatMap((material) => [
    el("h4", {}, `${material.material}, cut order`),
    el("ol", { class: "ladder" }, ...material.ladder.map(rungItem)),
    ...drawings.filter((drawing) => material.sheets.some((sheet) => sheet.name === drawing.name)).map((drawing) =>
      el("div", { class: "sheet-drawing", tabindex: "0", role: "region", "aria-label": `Drawing of sheet ${drawing.name} of the new plan` },
        el("img", { alt: `Sheet ${drawing.name} with its parts; the cut order says the same in words`, src: "data:image/svg+xml," + encodeURIComponent(drawing.svg) }))),
  ]);
}

function report() {
  if (!found) return [];
  const { purchase, changes = [], faults } = found.told; // none where the whole job is planned anew
  const cut = faults.filter((fault) => fault.code === "cut-differs" || fault.code === "cut-unwanted");
  return [el("div", { class: "report" },
    el("h4", {}, `Plan ${purchase.plan_id}${found.plan ? `: what changes against plan ${found.plan}` : ` of ${found.wanted || "all parts"}`}`),
    changes.length ? el("ul", { id: "bench-changes" }, ...changes.map(lineItem)) : found.plan ? el("p", {}, "Nothing changes.") : null,
    cut.length ? el("div", {}, el("h4", {}, "Already cut, and left as it is"), el("ul", {}, ...cut.map((fault) => el("li", {}, `${fault.address}: ${words(fault)}.`)))) : null,
    el("p", {}, `Money out for it: ${moneyMark(purchase.total)}. Sheets: ${bound(purchase.sheets_cost, purchase.lower_bound, purchase.proved)}.`),
    purchase.purchase.length ? el("ul", {}, ...purchase.purchase.map((line) => el("li", {}, `Buy ${line.count} x ${line.what}`))) : el("p", {}, "No sheet is to be bought."),
    unfold("bench new sheets", "Its sheets and cut order", () => sheetsOf(found.told)),
    stale ? el("p", { class: "fault" }, stale) : null,
    el("div", { class: "tools" },
      stale ? null : act(`Work from plan ${purchase.plan_id}`, use, { class: "strong big", dataset: { key: "replan use" } }),
      act("Leave it", () => { found = null; show(); }, { class: "big", dataset: { key: "replan leave" } })),
    el("p", { class: "hint" }, found.plan ? `Until then plan ${found.plan} holds. Its pages and labels hold no more once this one is worked from.` : "Nothing is entered until then."))];
}

async function use() {
  if (await enter(found.run, "bench")) {
    found = null;
    only = new Set();
    place = "";
    show();
  }
}

function show() {
  renew(byId("bench-next"), el("h3", {}, bench.plan ? "Plan again what is left" : "Or plan only some parts"), ...form(), ...report());
}

/** Was more marked since, here or on another page? The ledger would refuse the plan. */
function judge() {
  const { plan } = bench;
  if (!found) return show();
  if ((plan ? plan.mark : "") !== found.plan) return grow("Another plan is worked from since: plan again.");
  return plan && plan.last !== found.last ? grow("More was marked since this was planned: plan again.") : show();
}

/** What was planned is not of this any more. */
function grow(why) {
  if (found && !stale) stale = why;
  show();
}

export function startBenchReplan() {
  on("bench", judge);
  on("sized", show);
  for (const what of ["changed", "shop"]) on(what, () => grow("The job has changed since this was planned: plan again."));
  on("opened", () => { run = 0; found = null; stale = ""; only = new Set(); place = ""; show(); });
  window.addEventListener("pagehide", () => { if (run) ask("stop", { run, of: "bench" }, "{}", { last: true }).catch(() => {}); });
}
