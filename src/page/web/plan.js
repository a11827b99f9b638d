// plan.js - has the sheets laid out after every change, shows how the search stands, and hands out the packet. A first plan comes quickly; then the
// search goes on for as long as the maker's patience allows, and what is shown is drawn anew.
import { ask, words } from "./door.js";
import { attempt, desk, on, say, tell, textOf } from "./desk.js";
import { act, byId, el, renew } from "./dom.js";
import { showCautions, showPlan } from "./answers.js";

const QUIET = 400; // milliseconds without a change before sheets are laid out
const OFTEN = 300; // milliseconds between questions how it stands

let waiting = 0;
let current = { run: 0, job: null }; // the run that is followed
export let finished = null; // { run, plan_id } of the plan that is shown

function planSoon() {
  clearTimeout(waiting);
  waiting = setTimeout(() => attempt(() => plan("short")), QUIET);
}

async function plan(patience) {
  const job = textOf(desk.history.job);
  const { run } = await ask("plan", { id: desk.id, patience, rack: byId("use-rack").checked ? "yes" : "no" }, job);
  current = { run, job };
  await follow(run, patience);
}

async function follow(run, patience) {
  for (;;) {
    const told = await ask("plan", { run });
    if (run !== current.run) return;
    byId("keep").hidden = told.state !== "working";
    if (told.state !== "working") { await settle(run, told, patience); return; }
    byId("standing").textContent = patience === "short" ? "Looking ..." : "Looking for better sheets than these ...";
    await new Promise((later) => setTimeout(later, OFTEN));
    if (run !== current.run) return;
  }
}

async function settle(run, told, patience) {
  const errors = (told.faults || []).filter((fault) => fault.grade === "error");
  byId("standing").textContent = told.state === "done" ? "" : "These sheets are of an earlier state of the job: it cannot be laid out as it stands.";
  byId("sheets").classList.toggle("old", told.state !== "done");
  if (told.state === "gone") return;
  showCautions(told.faults);
  if (errors.length) say("The sheets cannot be laid out.", el("ul", {}, ...errors.map((fault) => el("li", {}, `${fault.address}: ${words(fault)}`))));
  if (told.state !== "done") return;
  showPlan(told);
  showPacket(run);
  finished = { run, plan_id: told.purchase.plan_id };
  tell("planned");
  const patient = byId("patience").value;
  const better = patience === "short" && patient !== "short"; // also where the cost is proved: fewer settings may be found
  if (better && !stopped && textOf(desk.history.job) === current.job) await plan(patient);
}

let stopped = false; // the maker is content with what is there

async function stop() {
  stopped = true;
  await ask("stop", { run: current.run }, "{}");
}

/** The job has changed: a search for the sheets of its last state only keeps the machine from answering. */
function leave() {
  clearTimeout(waiting);
  const { run } = current;
  current = { run: 0, job: null };
  byId("keep").hidden = true;
  if (run) ask("stop", { run }, "{}").catch(() => {}); // a server that is gone has stopped too
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
  byId("keep").addEventListener("click", () => attempt(stop));
  byId("patience").addEventListener("change", again);
  byId("use-rack").addEventListener("change", again);
  window.addEventListener("pagehide", () => { if (current.run) ask("stop", { run: current.run }, "{}", { last: true }).catch(() => {}); });
}
