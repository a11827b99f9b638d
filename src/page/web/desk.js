// desk.js - the job on the desk: every state it was in, what is chosen in it, and what the library last said of it. The other modules listen here.
import { History } from "./history.js";
import { get } from "./address.js";
import { Refusal } from "./door.js";
import { byId, el, renew, act } from "./dom.js";

export const desk = {
  id: "", // of the file
  version: "", // of the file on the disk that this job came from
  saved: "", // its text then; "" when what is on the desk came from a draft
  history: new History({}),
  chosen: "cases[0]", // an address, or "job"
  sizing: null, // the last that could be reckoned
  parts: null, // likewise
  stale: false, // the job has changed since in a way that cannot be sized
  faults: [],
  shop: {}, shopId: "", shopVersion: "", // shopId "": the shop is in the job
};

const listeners = {};
export const on = (what, run) => (listeners[what] ??= []).push(run);
export const tell = (what, ...rest) => (listeners[what] || []).forEach((run) => run(...rest));

export const textOf = (job) => JSON.stringify(job, null, 2) + "\n";
export const units = () => (desk.history.job.units === "mm" ? "mm" : "in");
export const isSaved = () => textOf(desk.history.job) === desk.saved;

/** The name of a place as people know it, "Bench/left/2"; the address itself where sizing has no name for it. */
export function nameOf(address) {
  const all = desk.sizing ? [...desk.sizing.drawers, ...desk.sizing.cases.flatMap((one) => one.banks), ...desk.sizing.cases] : [];
  const found = all.find((one) => address === one.address || address.startsWith(one.address + "."));
  return found ? `${found.path}${address.slice(found.address.length).replace(".", " ").replaceAll("_", " ")}` : address;
}

/** Changes the job: what change(job) does to it becomes a new state, which undo takes back. */
export function edit(change) {
  const job = desk.history.job;
  change(job);
  if (desk.history.push(job)) tell("changed");
  else tell("chosen"); // shows the old again, whatever was being dragged or typed
}

export function undo() { desk.history.undo(); tell("changed"); }
export function redo() { desk.history.redo(); tell("changed"); }

export function choose(address) {
  desk.chosen = address;
  tell("chosen");
}

/** What is chosen, or the first case when it is there no more. */
export function chosen() {
  const job = desk.history.job;
  if (desk.chosen !== "job" && get(job, desk.chosen.replace(/\.drawers\[\d+\]$/, "")) === undefined) desk.chosen = job.cases && job.cases.length ? "cases[0]" : "job";
  return desk.chosen;
}

// ---- what is said to the maker ---------------------------------------------------------------------------------------

/** What is wrong, told above the work until the next answer; nodes behind it are what can be done. Nothing: takes it away. */
export const say = (message, ...nodes) => show("message", message, nodes);

/** What is good to know, told until another job is opened or the job is saved. */
export const note = (message, ...nodes) => show("notice", message, nodes);

function show(id, message, nodes) {
  const place = byId(id);
  place.hidden = !message;
  renew(place, ...(message ? [el("span", {}, message), ...nodes] : []));
}

function keepAsFile() {
  el("a", { href: URL.createObjectURL(new Blob([textOf(desk.history.job)], { type: "application/json" })), download: `${desk.id || "job"}.json` }).click();
}

/** Runs what may be refused; answers its result, or null with the refusal shown. */
export async function attempt(work) {
  try { return await work(); }
  catch (error) {
    if (error.name === "AbortError") return null;
    if (error instanceof Refusal) say(error.message);
    else say("The page has lost its server: start the program again and open the new address. What is unsaved here can be kept:", act("Keep the job as a file", keepAsFile));
    return null;
  }
}
