// files.js - jobs of the folder: opened, saved, begun, copied; and the draft that keeps an unsaved change through a closed tab and a killed server.
import { ask, sample, Refusal } from "./door.js";
import { History } from "./history.js";
import { attempt, desk, isSaved, on, note, redo, say, tell, textOf, undo } from "./desk.js";
import { askIn, nameField } from "./dialog.js";
import { act, byId, el, renew } from "./dom.js";
import { firstCase, firstOpening } from "./fields.js";
import { openShop } from "./shop.js";

let files = []; // [{ id, draft, job }]
let samples = []; // ids

// ---- the list --------------------------------------------------------------------------------------------------------

export async function listFiles() {
  ({ files, samples } = await ask("files"));
  const jobs = files.filter((file) => file.job);
  const other = samples.filter((id) => id !== "shop" && !files.some((file) => file.id === id));
  const option = (value, words) => el("option", { value, selected: value === desk.id }, words);
  renew(byId("open"), desk.id ? null : el("option", { value: "", selected: true }, "choose ..."),
    el("optgroup", { label: "In this folder" }, ...jobs.map((file) => option(file.id, file.draft ? `${file.id} (unsaved changes)` : file.id))),
    other.length ? el("optgroup", { label: "Samples (copied here)" }, ...other.map((id) => option(`sample:${id}`, id))) : null);
  return jobs;
}

// ---- on and off the desk ---------------------------------------------------------------------------------------------

async function putOnDesk(id, job, version, saved) {
  Object.assign(desk, { id, version, saved, history: new History(job), chosen: "cases[0]", sizing: null, parts: null, faults: [] });
  await openShop(job);
  await listFiles();
  byId("work").hidden = false;
  renew(byId("begin"));
  note("");
  tell("opened");
}

function parsed(text, id) {
  try { return JSON.parse(text); } catch { throw new Refusal(0, [{ wrong: `${id} is no JSON`, cure: "mend it in an editor, then open it again" }]); }
}

/** Opens a job of the folder: as its draft where there is one, which is saved over the version that it came from and no other. */
export async function openFile(id) {
  await draftsKept();
  const file = await ask("file", id ? { id } : {});
  const draft = file.draft === undefined ? null : parsed(file.draft, "the draft of " + file.id);
  if (!draft) { const job = parsed(file.text, file.id); await putOnDesk(file.id, job, file.version, textOf(job)); return; }
  await putOnDesk(file.id, draft.job, draft.version, "");
  note("Unsaved changes from before are back.", act("Drop them and open the file as saved", () => attempt(async () => { await ask("draft", { id: file.id }, ""); await openFile(file.id); })));
}

async function openSample(id) {
  const text = await sample(id);
  const shop = parsed(text, id).shop;
  const shopId = typeof shop === "string" ? shop.replace(/\.json$/, "") : "";
  if (shopId && samples.includes(shopId) && !files.some((file) => file.id === shopId)) await ask("save", { id: shopId, version: "" }, await sample(shopId));
  await ask("save", { id, version: "" }, text);
  await openFile(id);
}

// ---- saving ----------------------------------------------------------------------------------------------------------

export async function save() {
  await draftsKept();
  const job = desk.history.job;
  try {
    await write(desk.id, desk.version, job);
  } catch (error) {
    if (error.code !== "changed-on-disk") throw error;
    await settle(job);
  }
}

async function write(id, version, job) {
  const answer = await ask("save", { id, version }, textOf(job));
  Object.assign(desk, { id, version: answer.version, saved: textOf(job) });
  say("");
  note("");
  await listFiles();
  tell("saved");
}

/** The file has been changed by another program or tab since it was opened here: the maker decides. */
async function settle(job) {
  const told = await askIn(`${desk.id} has changed on the disk`, [el("p", {}, "Another program or another tab has saved this job since it was opened here. What shall be done?")],
    [["as", "Save mine under another name"], ["theirs", "Open theirs (undo brings mine back)"], ["mine", "Write mine over it"]]);
  if (!told) return;
  if (told.answer === "as") { await saveAs(`${desk.id} mine`, job, "Save under another name"); return; }
  const file = await ask("file", { id: desk.id });
  if (told.answer === "mine") { await write(desk.id, file.version, job); return; }
  const theirs = parsed(file.text, desk.id);
  Object.assign(desk, { version: file.version, saved: textOf(theirs) });
  desk.history.push(theirs);
  await openShop(theirs);
  tell("changed");
}

/** Saves a job under a name that is asked for, and puts it on the desk. */
async function saveAs(suggested, job, title) {
  const told = await askIn(title, [nameField(suggested)], [["save", "Save"]]);
  if (told) await saveNew(told.said.get("name").trim(), job);
}

async function saveNew(id, job) {
  if (files.some((file) => file.id === id)) { say(`A file ${id}.json is there already: choose another name.`); return; }
  const answer = await ask("save", { id, version: "" }, textOf(job));
  await putOnDesk(id, job, answer.version, textOf(job));
}

// ---- a new job -------------------------------------------------------------------------------------------------------

/** A field of the dialog for a length. */
const lengthOf = (name, label) => el("p", {}, el("label", {}, `${label} `, el("input", { name, type: "text", inputmode: "decimal", autocomplete: "off", required: true, dataset: { fraction: "yes" } })));

/** The fields of what is measured; what was not touched follows the units. */
function measured() {
  const units = el("select", { name: "units" }, el("option", { value: "in" }, "inches"), el("option", { value: "mm" }, "millimeters"));
  const lengths = [lengthOf("width", "Opening, width"), lengthOf("height", "Opening, height"), lengthOf("depth", "Depth inside")];
  const suggest = () => {
    const usual = firstOpening(units.value);
    for (const input of lengths.map((one) => one.querySelector("input"))) if (input.value === input.defaultValue) input.value = input.defaultValue = usual[input.name];
  };
  units.addEventListener("change", suggest);
  suggest();
  return [el("p", {}, el("label", {}, "Bare numbers are ", units)), ...lengths,
    el("p", {}, el("label", {}, "Drawers, one above the other ", el("input", { name: "drawers", type: "number", min: "1", max: "40", value: "4", required: true })))];
}

/** Asks for a name, what is measured, and the shop to work from: a shop file of the folder, or a copy of the built-in one where there is none. */
async function newJob() {
  const shops = files.filter((file) => !file.job).map((file) => [file.id, `${file.id}.json`]);
  const choices = shops.length ? shops : [["", "a starter shop, copied here as shop.json"]];
  const told = await askIn("A new job", [nameField("new job"), ...measured(),
    el("p", {}, el("label", {}, "Start from the shop ", el("select", { name: "shop" }, ...choices.map(([value, words]) => el("option", { value }, words)))))], [["begin", "Begin"]]);
  if (!told) return;
  const said = Object.fromEntries(told.said);
  const id = said.name.trim();
  if (!said.shop) { said.shop = "shop"; await ask("save", { id: said.shop, version: "" }, await sample("shop")); }
  const shop = parsed((await ask("file", { id: said.shop })).text, said.shop);
  const opening = { width: said.width.trim(), height: said.height.trim(), depth: said.depth.trim() };
  await saveNew(id, { format: 1, name: id, units: said.units, shop: `${said.shop}.json`, cases: [{ ...firstCase(said.units), opening, banks: [{ drawers: Number(said.drawers) }], ...usualOf(shop) }] });
}

/** The shop's first slide and materials of usual thickness, so that a new job can be planned at once. */
function usualOf(shop) {
  const materials = shop.materials || [];
  if (!materials.length) return {};
  const pick = (i) => materials[Math.min(i, materials.length - 1)].id;
  return { front: { material: pick(2) }, box: { sides: pick(0), bottom: pick(1) }, ...(shop.slides && shop.slides.length ? { slide: shop.slides[0].id } : {}) };
}

/** What is offered in a folder without jobs. */
function offerBeginning() {
  byId("work").hidden = true;
  renew(byId("begin"), el("h2", {}, "No job here yet"), el("p", {}, "Begin with one of your own, or look at a sample: it is copied into this folder, and is yours to change."),
    el("p", { class: "tools" }, act("New job", () => attempt(newJob), { class: "strong" }),
      ...samples.filter((id) => id !== "shop").map((id) => act(`Sample: ${id.replaceAll("-", " ")}`, () => attempt(() => openSample(id))))));
}

// ---- drafts ----------------------------------------------------------------------------------------------------------

const SOON = 100; // milliseconds after a change
let timer = 0;
let sending = Promise.resolve(); // one after the other, so that the last is the last
let lost = false; // the latest draft could not be kept

function sendDraft(last = false) {
  clearTimeout(timer);
  timer = 0;
  const { id, version } = desk;
  const draft = isSaved() ? "" : JSON.stringify({ version, job: desk.history.job });
  const send = () => ask("draft", { id }, draft, { last }).then(() => { lost = false; }, (error) => { lost = true; throw error; });
  sending = last ? send() : sending.then(send);
  sending = sending.catch((error) => { if (!last) attempt(() => { throw error; }); });
}

function keepDraft() {
  clearTimeout(timer);
  timer = setTimeout(sendDraft, SOON);
}

function draftsKept() {
  if (timer) sendDraft();
  return sending;
}

// ---- the head of the page ----------------------------------------------------------------------------------------------

function showHead() {
  const { history } = desk;
  byId("job-name").textContent = history.job.name || desk.id;
  document.title = `${isSaved() ? "" : "* "}${history.job.name || desk.id} - drawerwright`;
  byId("undo").disabled = !history.canUndo;
  byId("redo").disabled = !history.canRedo;
  byId("saved").textContent = isSaved() ? "saved" : "not saved yet";
}

export function startFiles() {
  for (const what of ["opened", "changed", "saved"]) on(what, showHead);
  on("changed", keepDraft);
  byId("open").addEventListener("change", (event) => attempt(() => {
    const [, kind, id] = /^(sample:)?(.*)$/.exec(event.target.value);
    return kind ? openSample(id) : openFile(id);
  }));
  byId("new-job").addEventListener("click", () => attempt(newJob));
  byId("duplicate").addEventListener("click", () => attempt(() => saveAs(`${desk.id} copy`, desk.history.job, "Duplicate under the name")));
  byId("save").addEventListener("click", () => attempt(save));
  byId("undo").addEventListener("click", undo);
  byId("redo").addEventListener("click", redo);
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden" && timer) sendDraft(true); });
  window.addEventListener("beforeunload", (event) => { if (lost && !isSaved()) event.preventDefault(); });
}

/** Opens the job that the program was started with; else the first of the folder; else offers to begin. */
export async function openFirst() {
  const jobs = await listFiles();
  try { await openFile(""); }
  catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const wanted = error.code !== "bad-id"; // the program was started with a job, which cannot be opened
    if (jobs.length) await openFile(jobs[0].id);
    else offerBeginning();
    const [{ address, wrong }] = error.faults;
    if (wanted) note(`${address.replace(/.*\//, "")}: ${wrong}.`);
  }
}
