// bench.js - at the bench: the plan that is worked from, and what every part of this section shares: its state, asked for again as others may mark too, and
// how something is done and told.
import { ask, Refusal } from "./door.js";
import { attempt, desk, isSaved, on, tell, units } from "./desk.js";
import { act, byId, el, renew } from "./dom.js";
import { save } from "./files.js";
import { finished } from "./plan.js";

const OFTEN = 3000; // milliseconds between looks whether somebody else has marked something

export const bench = { tag: "", plans: [], plan: null, chosen: "" }; // chosen: mark of the plan that the maker has asked for

let asking = null; // the latest question, for only its answer counts

/** Asks where the work stands, and tells "bench" when that is news. */
export async function look() {
  const question = { id: desk.id, plan: bench.chosen, units: units(), tag: bench.tag };
  asking = question;
  const answer = await ask("bench", question);
  if (asking !== question || answer.same) return;
  Object.assign(bench, answer);
  tell("bench");
}

/** What has just come of it, beside the work; `refused` when it did not come about. */
export function say(words, refused = false) {
  const place = byId("bench-told");
  place.textContent = words;
  place.classList.toggle("refused", refused);
}

/** Does something, tells `words` or the refusal here at the bench, and looks again. Answers what was answered, or null. */
export async function doing(work, words = "") {
  try {
    const answer = await work();
    await look();
    if (words) say(typeof words === "function" ? words(answer) : words);
    return answer;
  } catch (error) {
    if (!(error instanceof Refusal)) { await attempt(() => { throw error; }); return null; }
    await attempt(look);
    say(error.message, true);
    return null;
  }
}

export const mark = (what, target, more, words) => doing(() => ask("bench/mark", { plan: bench.plan.mark, what, target, units: units(), ...more }, "{}"), words);

/** A line of changes as a list item: marks do not break at their hyphens, nor numbers before their fraction. */
export const lineItem = (line) => el("li", {}, ...line.split(/(\d+ \d+\/\d+|\S*-\S+)/).map((word, i) => (i % 2 && word !== "->" ? el("span", { class: "mark" }, word) : word)));

// ---- which plan ------------------------------------------------------------------------------------------------------

const many = (count, one) => `${count} ${one}${count === 1 ? "" : "s"}`;

/** What was pressed is gone: go on with the first sheet. */
function begin() {
  const first = byId("bench-sheets").querySelector("button");
  if (first && !document.activeElement.closest("#bench")) first.focus({ preventScroll: true });
}

/** A plan is worked from with the job saved as it is, so that file, ledger and pages agree. `lost`: what is done when the run is no longer at hand. */
export async function enter(run, of, lost = () => {}) {
  if (!isSaved()) await save();
  if (!isSaved()) { say("The job must be saved first, so that its file and the plan agree.", true); return null; }
  const options = { paper: byId("paper").value, labels: byId("labels").checked ? "yes" : "no", sticks: byId("sticks").checked ? "yes" : "no" };
  const gone = (error) => { if (error.code === "no-plan") lost(); throw error; };
  return doing(async () => {
    const answer = await ask("bench/enter", { run, of, ...options }, "{}").catch(gone);
    bench.chosen = answer.mark;
    return answer;
  }, (answer) => `Plan ${answer.mark} is worked from now.`).then((answer) => { if (answer) begin(); return answer; });
}

let wanted = ""; // mark of the plan that is worked from as soon as it is laid out once more

/** The plan that is shown above. Other pages plan with the same program, which keeps few plans at hand: then it is laid out once more first. */
async function enterShown() {
  const { run, plan_id: shown } = finished;
  wanted = "";
  await enter(run, "", () => { wanted = shown; tell("lost"); });
  if (wanted) say(`Plan ${shown} is being laid out once more; then it is worked from.`);
}

function summary(plan) {
  const count = (state) => plan.pieces.filter((piece) => piece.state === state).length;
  const again = count("to plan again");
  const earlier = plan.earlier.filter((one) => one.plan !== plan.mark).length;
  return `${count("to cut")} to cut, ${count("cut")} cut, ${count("spoiled")} spoiled${again ? `, ${again} to plan again because what they were to come from is spoiled` : ""}`
    + `${earlier ? `; ${many(earlier, "piece")} cut by the plans before` : ""}.`;
}

function chooser() {
  if (bench.plans.length < 2) return null;
  return el("label", {}, "Plan ", el("select", { class: "big", dataset: { key: "bench plan" }, onchange: (event) => { bench.chosen = event.target.value; attempt(look); } },
    ...bench.plans.map((one) => el("option", { value: one.mark, selected: bench.plan && one.mark === bench.plan.mark }, `${one.mark} of ${one.jobs}, entered ${one.when} UTC`))));
}

/** The file of a plan that was made elsewhere, such as by the command line. */
function fileField() {
  return el("label", {}, "Or enter a plan.json that was made on the command line ", el("input", { type: "file", accept: ".json,application/json", class: "big", dataset: { key: "bench file" },
    onchange: async (event) => {
      const [file] = event.target.files;
      if (!file) return;
      const answer = await doing(async () => { const one = await ask("bench/file", {}, await file.text()); bench.chosen = one.mark; return one; }, (one) => `Plan ${one.mark} is entered.`);
      if (!answer) event.target.value = "";
    } }));
}

async function packet(plan) {
  const blob = await ask("bench/packet", { plan }, null, { blob: true });
  const link = el("a", { href: URL.createObjectURL(blob), download: `${plan}.pdf` });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

function post(plan) {
  return doing(() => ask("bench/post", { plan: plan.mark }, "{}"), `Plan ${plan.mark} is entered in the rack: what it used is out, what it left is in.`).then(() => tell("racked"));
}

function planHead(plan) {
  const other = finished && finished.plan_id !== plan.mark && plan.jobs === desk.id;
  const open = plan.pieces.some((piece) => piece.state !== "cut");
  return [
    el("p", {}, el("strong", {}, `Plan ${plan.mark}`), ` of ${plan.jobs}${plan.follows ? `, which replaced plan ${plan.follows}` : ""}: ${summary(plan)}`),
    other ? el("p", { class: "hint" }, `The sheets above are plan ${finished.plan_id}: the whole job as it is drawn now, with nothing cut. At the bench ${plan.mark} holds until you plan again below.`) : null,
    plan.posted ? el("p", {}, "It is entered in the rack as all cut.") : null,
    el("div", { class: "tools" },
      plan.packet ? act(`Packet of plan ${plan.mark} (PDF)`, () => doing(() => packet(plan.mark)), { class: "big", dataset: { key: "bench packet" } }) : null,
      !open && !plan.posted && !plan.file ? el("p", {}, "All is cut. To put what is left into the rack the plan's file is needed, since it was entered on the command line. ", fileField()) : null,
      !open && !plan.posted && plan.file ? act("All is cut: put what is left into the rack", () => post(plan), { class: "big", dataset: { key: "bench post" } }) : null),
  ];
}

function noPlan() {
  return [
    el("p", {}, "No plan of this job is worked from yet. Take the one that is shown above, or plan only some of its parts below. From then on what is cut is marked here, and nothing that is cut is touched."),
    el("div", { class: "tools" },
      finished ? act(`Work from plan ${finished.plan_id}`, () => attempt(enterShown), { class: "strong big", dataset: { key: "bench enter" } }) : el("span", {}, "It can be taken as soon as the sheets are laid out."), fileField()),
  ];
}

function showPlan() {
  const { plan } = bench;
  renew(byId("bench-plan"), chooser(), ...(plan ? planHead(plan) : noPlan()));
}

// ---- the last mark ---------------------------------------------------------------------------------------------------

function undo() {
  return doing(() => ask("bench/undo", { plan: bench.plan.mark, units: units() }, "{}"), (answer) => `Taken back: ${answer.undone}.`);
}

/** Undo by key, where the focus is in this section: of the last mark, not of the drawing. There is no redo: mark again. */
export const benchKeys = (target) => (target instanceof Element && target.closest("#bench") ? { undo: bench.plan ? undo : () => {}, redo: () => {} } : null);

function showUndo() {
  const { plan } = bench;
  const last = plan && plan.history.filter((line) => line.can).pop();
  const words = last ? `Take back: ${last.what}` : plan && !plan.posted ? "Take back the plan itself" : "";
  renew(byId("bench-undo"), words ? act(words, undo, { class: "big", dataset: { key: "bench undo" } }) : null);
}

export function startBench() {
  on("opened", () => { wanted = ""; Object.assign(bench, { tag: "", plans: [], plan: null, chosen: "" }); say(""); return attempt(look); });
  on("planned", () => { showPlan(); if (wanted && finished.plan_id === wanted) attempt(enterShown); });
  on("changed", () => { wanted = ""; });
  on("bench", showPlan);
  on("bench", showUndo);
  setInterval(() => { if (desk.id && document.visibilityState === "visible") look().catch(() => {}); }, OFTEN); // a server that is gone is told at the next thing done
}
