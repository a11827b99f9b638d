// plan.js - has the sheets laid out after every change, shows how the search stands, and hands out the packet. A first plan comes quickly; then the
// search goes on for as long as the maker's patience allows, and what is shown is drawn anew.
import { ask, words } from "./door.js";
import { attempt, desk, nameOf, on, say, tell, textOf } from "./desk.js";
import { act, byId, el, renew } from "./dom.js";
import { showBuy, showCautions, showParts, showSizes } from "./answers.js";
import { showLeeway } from "./leeway.js";
import { bound, money } from "./money.js";
import { clearSheets, many, showFound, showSheets } from "./sheets.js";

const QUIET = 400; // milliseconds without a change before sheets are laid out
const OFTEN = 200; // milliseconds between questions how it stands

let waiting = 0;
let current = { run: 0, job: null }; // the run that is followed
export let finished = null; // { run, plan_id } of the plan that is shown

function planSoon() {
  clearTimeout(waiting);
  waiting = setTimeout(() => attempt(() => plan("short")), QUIET);
}

/** Plans what is on the desk; `after` is the run of a quicker plan of the same, which this one is to better. */
async function plan(patience, after = 0) {
  const job = textOf(desk.history.job);
  const yes = (tick) => (tick ? "yes" : "no");
  const { run } = await ask("plan", { id: desk.id, patience, after, rack: yes(byId("use-rack").checked), leeway: yes(byId("use-leeway").checked),
    whole: yes(patience === byId("patience").value) }, job);
  current = { run, job };
  byId("look-on").hidden = true;
  await follow(run, patience);
}

async function follow(run, patience) {
  let seen = 0;
  for (;;) {
    const told = await ask("plan", { run, seen });
    if (run !== current.run) return;
    byId("keep").hidden = told.state !== "working";
    if (told.state !== "working") { await settle(run, told, patience); return; }
    const found = told.materials || [];
    showFound(found);
    if (found.length) byId("sheets").classList.remove("old");
    seen = Math.max(seen, ...found.map((one) => one.serial));
    stands(standing(told));
    await new Promise((later) => setTimeout(later, OFTEN));
    if (run !== current.run) return;
  }
}

/** Where the search stands, in words. */
function standing({ what, sheets, best, lower_bound: least, bound_holds: holds }) {
  const found = sheets === undefined ? "" : `${many(sheets, "sheet")}, ${money(best)}; ${holds ? bound(best, least, best <= least) : "at first prices"}. `;
  return found + ({ choices: "Weighing it against other choices of sheets ...", sizes: "Trying the sizes that may give ...",
    near: "Looking whether something small would save a sheet ..." }[what] || (found ? "Looking on ..." : "Looking for sheets ..."));
}

function stands(words) {
  if (byId("standing").textContent !== words) byId("standing").textContent = words; // only what is new is read out
}

const ended = ({ layouts, purchase, stopped: early }) => {
  const count = layouts.materials.reduce((sum, material) => sum + material.sheets.length, 0);
  return `${many(count, "sheet")}, ${money(purchase.sheets_cost)}; ${bound(purchase.sheets_cost, purchase.lower_bound, purchase.proved)}.${early || stopped ? " The search was stopped." : ""}`;
};

async function settle(run, told, patience) {
  const errors = (told.faults || []).filter((fault) => fault.grade === "error");
  stands(told.state === "done" ? ended(told) : "These sheets are of an earlier state of the job: it cannot be laid out as it stands.");
  byId("sheets").classList.toggle("old", told.state !== "done");
  if (told.state === "gone") return;
  showCautions(told.faults);
  if (errors.length) say("The sheets cannot be laid out.", el("ul", {}, ...errors.map((fault) => el("li", {}, `${nameOf(fault.address)}: ${words(fault)}`))));
  if (told.state !== "done") return;
  showPlan(told);
  showPacket(run);
  finished = { run, plan_id: told.purchase.plan_id };
  tell("planned");
  const patient = byId("patience").value;
  const better = patience === "short" && patient !== "short"; // also where the cost is proved: fewer settings may be found
  const same = textOf(desk.history.job) === current.job;
  byId("look-on").hidden = !stopped || !same;
  if (better && !stopped && same) await plan(patient, run);
}

function showPlan({ layouts, purchase, drawings, sizing, parts }) {
  byId("gave").hidden = !sizing;
  if (sizing) showSizes(sizing, desk.sizing);
  if (parts) showParts(parts, desk.parts);
  showLeeway(purchase.leeway);
  showSheets({ layouts, drawings });
  showBuy(purchase);
}

let stopped = false; // the maker is content with what is there

async function stop() {
  stopped = true;
  await ask("stop", { run: current.run }, "{}");
}

/** The search that was stopped is taken up again, from what it had found. */
async function lookOn() {
  stopped = false;
  await plan(byId("patience").value, current.run);
}

/** The job has changed: a search for the sheets of its last state only keeps the machine from answering. */
function leave() {
  clearTimeout(waiting);
  const { run } = current;
  current = { run: 0, job: null };
  byId("keep").hidden = byId("look-on").hidden = byId("gave").hidden = true;
  if (run) ask("stop", { run }, "{}").catch(() => {}); // a server that is gone has stopped too
}

/** Another job is on the desk: nothing that is shown is of it. */
function forget() {
  finished = null;
  clearSheets();
  showLeeway(null);
  stands("");
  for (const place of ["buy", "packet"]) renew(byId(place));
  byId("packet-options").hidden = true;
}

// ---- the packet --------------------------------------------------------------------------------------------------------

function give(name, blob) {
  const link = el("a", { href: URL.createObjectURL(blob), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

function showPacket(run) {
  const ticked = (id) => (byId(id).checked ? "yes" : "no");
  byId("packet-options").hidden = false;
  renew(byId("packet"),
    act("Download the packet (PDF)", () => attempt(async () => give(`${desk.id}.pdf`,
      await ask("packet", { run, paper: byId("paper").value, labels: ticked("labels"), sticks: ticked("sticks") }, null, { blob: true }))), { class: "strong", dataset: { key: "packet" } }),
    act("Print this page", () => window.print(), { dataset: { key: "print" } }),
    act("Download plan.json", () => attempt(async () => give(`${desk.id} plan.json`, await ask("plan/file", { run }, null, { blob: true }))), { dataset: { key: "plan file" } }));
}

export function startPlan() {
  const again = () => { stopped = false; planSoon(); };
  on("sized", (answer) => { if (answer.parts && textOf(desk.history.job) !== current.job) again(); });
  on("changed", leave);
  on("shop", again);
  on("lost", again); // what is shown is no longer at hand
  on("opened", () => { leave(); forget(); });
  byId("keep").addEventListener("click", () => attempt(stop));
  byId("patience").addEventListener("change", again);
  byId("use-rack").addEventListener("change", again);
  byId("use-leeway").addEventListener("change", again);
  byId("look-on").addEventListener("click", () => attempt(lookOn));
  window.addEventListener("pagehide", () => { if (current.run) ask("stop", { run: current.run }, "{}", { last: true }).catch(() => {}); });
}
