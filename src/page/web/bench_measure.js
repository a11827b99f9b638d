// bench_measure.js - what was measured after building or with a caliper: openings, thickness of material. What would change is listed before anything is saved.
import { get, set } from "./address.js";
import { ask, Refusal } from "./door.js";
import { attempt, desk, edit, on, textOf } from "./desk.js";
import { act, byId, el, renew, whenSaid } from "./dom.js";
import { withFaults } from "./fields.js";
import { save } from "./files.js";
import { written } from "./lengths.js";
import { editShop } from "./shop.js";
import { bench, lineItem, say } from "./bench.js";

let said = new Map(); // address -> text as typed
let told = null; // what would change: { changes, cut }, or { faults }

const shown = (value) => (Array.isArray(value) ? value.join("; ") : value === undefined || value === null ? "" : String(value));

/** Several readings are written with ; between: the least counts. */
function readings(text) {
  const all = text.split(";").map((one) => one.trim()).filter((one) => one !== "");
  return all.length > 1 ? all : all[0];
}

// ---- what can be measured --------------------------------------------------------------------------------------------

const WAYS = [["width", "wide"], ["height", "high"], ["depth", "deep"]];

/** [address, label, as reckoned]: the opening of each case, or of each bank where a case drawn by its outside has several. */
function openings(job) {
  return (job.cases || []).flatMap((one, i) => {
    const name = one.name || `Case ${i + 1}`, banks = one.banks || [];
    if (one.outside === undefined || banks.length < 2) return WAYS.map(([key, word]) => [`cases[${i}].opening.${key}`, `${name}: opening ${word}`, banks.length === 1 ? reckoned(i, 0, key) : ""]);
    return banks.flatMap((bank, k) => WAYS.map(([key, word]) => [`cases[${i}].banks[${k}].${key}`, `${name}, bank ${bank.name || k + 1}: opening ${word}`, reckoned(i, k, key)]));
  });
}

/** The opening of a bank as the library has it now. */
function reckoned(i, k, key) {
  const bank = desk.sizing && desk.sizing.cases[i] && desk.sizing.cases[i].banks[k];
  return bank && bank.opening && bank.opening[key] ? written(bank.opening[key]) : "";
}

/** The materials of the job, of the whole shop when nothing is known of it. */
function thicknesses() {
  const used = new Set([...(bench.plan ? bench.plan.pieces : []).map((piece) => piece.material), ...(desk.parts ? desk.parts.parts : []).map((part) => part.material)]);
  const all = (desk.shop.materials || []).map((one, i) => [one.id, [`shop.materials[${i}].thickness`, `${one.name || one.id}: thickness`]]);
  const own = all.filter(([id]) => used.has(id));
  return (own.length ? own : all).map(([, row]) => row);
}

const present = (address) => (address.startsWith("shop.") ? get(desk.shop, address.slice(5)) : get(desk.history.job, address));

// ---- what would change -----------------------------------------------------------------------------------------------

const settings = () => [...said].map(([address, text]) => `${address}=${JSON.stringify(readings(text))}`).join("\n");

async function preview() {
  if (!said.size) { told = null; show(); return; }
  try {
    told = await ask("bench/measure", { plan: bench.plan ? bench.plan.mark : "", set: settings() }, textOf(desk.history.job));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    told = { faults: error.faults };
  }
  show();
}

function hear(address, text) {
  if (text.trim()) said.set(address, text.trim());
  else said.delete(address);
  attempt(preview);
}

async function keep() {
  const measured = [...said];
  const ofShop = measured.filter(([address]) => address.startsWith("shop."));
  const ofJob = measured.filter(([address]) => !address.startsWith("shop."));
  said = new Map();
  told = null;
  if (ofJob.length) edit((job) => { for (const [address, text] of ofJob) set(job, address, readings(text)); });
  if (ofShop.length) await editShop((shop) => { for (const [address, text] of ofShop) set(shop, address.slice(5), readings(text)); });
  await save();
  say(bench.plan ? "Saved. Plan again what is left, so that what is not cut yet follows." : "Saved.");
  show();
}

// ---- the section -----------------------------------------------------------------------------------------------------

function field([address, label, usual = ""]) {
  const input = el("input", { type: "text", inputmode: "decimal", autocomplete: "off", value: said.get(address) || "", placeholder: shown(present(address)) || usual, dataset: { fraction: "yes" } });
  whenSaid(input, (text) => hear(address, text));
  const node = withFaults(label, input, told && told.faults ? told.faults : [], address);
  input.dataset.key = `measure ${address}`;
  return node;
}

function outcome() {
  if (!told) return null;
  if (told.faults) {
    const here = told.faults.filter((fault) => ![...said.keys()].some((address) => fault.address === address));
    return here.length ? el("ul", {}, ...here.map((fault) => el("li", { class: "fault" }, `${fault.address}: ${fault.wrong}`))) : null;
  }
  return el("div", { class: "report" }, el("h4", {}, "What changes, when this is saved"),
    told.changes.length ? el("ul", { id: "measure-changes" }, ...told.changes.map(lineItem)) : el("p", {}, "No size changes."),
    told.cut.length ? el("div", {}, el("h4", {}, "Already cut, and left as it is"), el("ul", { id: "measure-cut" }, ...told.cut.map(lineItem))) : null,
    el("div", { class: "tools" }, act("Save these measures", () => attempt(keep), { class: "strong big", dataset: { key: "measure keep" } }),
      act("Forget them", () => { said = new Map(); told = null; show(); }, { class: "big", dataset: { key: "measure drop" } })));
}

function show() {
  const { job } = desk.history;
  renew(byId("bench-measure"), el("h3", {}, "Measured, not drawn"),
    el("p", { class: "hint" }, "The case as built, the plywood as calipered where all sheets are alike (one that differs is measured at its sheet). Measured more than once? Write the readings with ; between: the least counts for an opening. What is cut stays as it is."),
    el("div", { class: "fields" }, ...openings(job).map(field), ...thicknesses().map(field)), outcome());
}

export function startBenchMeasure() {
  on("sized", show);
  on("bench", show);
  on("opened", () => { said = new Map(); told = null; });
}
