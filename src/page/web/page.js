// page.js - holds the job, lets it be sketched and said, and shows what the library answers. It reckons nothing of the trade itself.
import { ask, Refusal } from "./door.js";
import { History } from "./history.js";
import { get, set, drawersOf, bankOf, indexOf } from "./address.js";
import { drawCase } from "./sketch.js";
import { fieldsFor } from "./fields.js";
import { fractionBar } from "./fractions.js";
import { treeFields } from "./tree.js";
import { showSizes, showParts, showCautions, showPlan, setDecimals } from "./answers.js";
import { el, table, replace } from "./dom.js";

const byId = (id) => document.getElementById(id);
const state = { id: "", version: "", history: new History({}), saved: "", chosen: "cases[0]", sizing: null, faults: [], shop: {}, shopId: "", shopVersion: "", run: 0, drag: null };

function say(words) {
  byId("message").hidden = !words;
  byId("message").textContent = words || "";
}

async function attempt(work) {
  try { say(""); return await work(); }
  catch (error) {
    if (error.name !== "AbortError") say(error instanceof Refusal ? error.message : `The page lost its server: ${error.message}. Unsaved changes are kept here.`);
    return null;
  }
}

const textOf = (job) => JSON.stringify(job, null, 2) + "\n";

// ---- the sketch and what is chosen ----------------------------------------------------------------------------

function stepUnits() {
  const habit = state.shop.habits && state.shop.habits.front_step;
  const fraction = typeof habit === "string" && /^(\d+)\/(\d+)$/.exec(habit);
  if (fraction) return 406400 * fraction[1] / fraction[2];
  return state.history.job.units === "mm" ? 16000 : 406400 / 16;
}

/** A height in 1/16 micrometer as the job writes it. */
function written(units) {
  if (state.history.job.units === "mm") return String(units / 16000);
  const whole = Math.floor(units / 406400);
  let top = Math.round((units - whole * 406400) / (406400 / 64)), bottom = 64;
  while (top && top % 2 === 0) { top /= 2; bottom /= 2; }
  return top ? `${whole ? whole + " " : ""}${top}/${bottom}` : String(whole);
}

/** The line under a front moved by steps: its height is set; a lower neighbor of fixed height gives or takes, one with a share takes what is left. */
function moveLine(address, steps, done) {
  const start = state.drag && state.drag.address === address ? state.drag : { address, sizing: state.sizing };
  state.drag = done ? null : start;
  const drawers = start.sizing.drawers;
  const at = drawers.findIndex((drawer) => drawer.address === address);
  const by = steps * stepUnits();
  const upper = drawers[at].front_height.value + by, lower = drawers[at + 1].front_height.value - by;
  if (upper <= 0 || lower <= 0) return;
  const job = state.history.job;
  const list = drawersOf(job, bankOf(address));
  const index = indexOf(address);
  list[index].height = written(upper);
  if (typeof list[index + 1].height === "string") list[index + 1].height = written(lower);
  if (done) commit(job);
  else size(job, true);
}

function choose(address) {
  state.chosen = address;
  showSketch();
  showChosen();
}

function onKey(event, address) {
  const list = drawersOf(state.history.job, bankOf(address));
  const at = indexOf(address);
  const to = { ArrowUp: at - 1, ArrowDown: at + 1 }[event.key];
  if (to !== undefined && to >= 0 && to < list.length) {
    event.preventDefault();
    choose(`${bankOf(address)}.drawers[${to}]`);
    const next = document.querySelector(`#sketch [data-address="${CSS.escape(state.chosen)}"]`);
    if (next) next.focus();
  } else if (event.key === "Delete" && list.length > 1) edit((job) => drawersOf(job, bankOf(address)).splice(at, 1));
  else if (event.key === "Insert") edit((job) => drawersOf(job, bankOf(address)).splice(at + 1, 0, {}));
}

function showSketch() {
  if (!state.sizing) return;
  const index = Math.min(Number((/^cases\[(\d+)\]/.exec(state.chosen) || [0, 0])[1]), state.sizing.cases.length - 1);
  const sized = state.sizing.cases[index];
  if (!sized) return;
  const focused = document.activeElement && document.activeElement.dataset ? { address: document.activeElement.dataset.address, grip: document.activeElement.dataset.grip } : {};
  const inside = byId("sketch").contains(document.activeElement);
  const drawers = state.sizing.drawers.filter((drawer) => drawer.address.startsWith(sized.address + "."));
  replace("case-tabs", ...(state.sizing.cases.length > 1 ? state.sizing.cases.map((one) => el("button", { type: "button", "aria-pressed": String(one === sized),
    onclick: () => choose(one.address) }, one.path)) : []));
  replace("sketch", drawCase(sized, drawers, state.chosen, stepUnits(), { choose, move: moveLine, key: onKey }));
  if (inside) {
    const again = focused.grip ? `[data-grip="${CSS.escape(focused.grip)}"]` : `[data-address="${CSS.escape(focused.address || state.chosen)}"]`;
    const node = document.querySelector(`#sketch ${again}`);
    if (node) node.focus();
  }
}

function showChosen() {
  const job = state.history.job;
  if (!Array.isArray(job.cases)) return;
  if (get(job, state.chosen.replace(/\.drawers\[\d+\]$/, "")) === undefined) state.chosen = "cases[0]";
  const paths = new Map();
  if (state.sizing) for (const one of [...state.sizing.cases, ...state.sizing.cases.flatMap((sized) => sized.banks), ...state.sizing.drawers]) paths.set(one.address, one.path);
  const focused = document.activeElement && document.activeElement.dataset ? document.activeElement.dataset.address : undefined;
  const inside = byId("chosen").contains(document.activeElement);
  replace("chosen", ...fieldsFor({ job, shop: state.shop, faults: state.faults.filter((fault) => fault.grade === "error"), paths, choose, edit,
    change: (address, value) => edit((changed) => { drawersInPlace(changed, address); set(changed, address, value); }) }, state.chosen).filter((node) => node));
  if (inside && focused) {
    const again = document.querySelector(`#chosen [data-address="${CSS.escape(focused)}"]`);
    if (again) again.focus();
  }
  const placed = new Set([...document.querySelectorAll("#chosen [aria-invalid]")].map((node) => node.dataset.address));
  const elsewhere = state.faults.filter((fault) => fault.grade === "error" && ![...placed].some((address) => fault.address.startsWith(address)));
  if (elsewhere.length) say(elsewhere.map((fault) => `${fault.address ? fault.address + ": " : ""}${fault.wrong}${fault.cure ? "; " + fault.cure : ""}`).join(" - "));
}

/** A count of drawers is written out before one of them is changed. */
function drawersInPlace(job, address) {
  const bank = /^(cases\[\d+\]\.banks\[\d+\])\.drawers\[/.exec(address);
  if (bank) drawersOf(job, bank[1]);
}

// ---- editing ---------------------------------------------------------------------------------------------------

function edit(change) {
  const job = state.history.job;
  change(job);
  commit(job);
}

function commit(job) {
  if (!state.history.push(job)) { size(job); return; }
  keepDraft();
  refresh();
}

function refresh() {
  const job = state.history.job;
  byId("job-name").textContent = job.name || state.id;
  byId("undo").disabled = !state.history.canUndo;
  byId("redo").disabled = !state.history.canRedo;
  byId("saved").textContent = textOf(job) === state.saved ? "saved" : "not saved yet";
  size(job);
}

let draftTimer = 0;
function keepDraft() {
  clearTimeout(draftTimer);
  const id = state.id, text = textOf(state.history.job);
  draftTimer = setTimeout(() => ask("draft", { id }, text === state.saved ? "" : text).catch(() => {}), 150);
}

let sizing = null;
async function size(job, dragging = false) {
  if (sizing) sizing.abort();
  sizing = new AbortController();
  const { signal } = sizing;
  try {
    const answer = await ask("size", {}, textOf(job), { signal });
    if (signal.aborted) return;
    state.faults = answer.faults;
    if (answer.sizing) { state.sizing = answer.sizing; showSizes(answer.sizing); showSketch(); }
    if (dragging) return;
    say("");
    if (answer.parts) showParts(answer.parts);
    showCautions(answer.faults);
    showChosen();
    if (answer.parts) planSoon();
  } catch (error) {
    if (error.name !== "AbortError") say(`The page lost its server: ${error.message}. Unsaved changes are kept here.`);
  }
}

// ---- planning ----------------------------------------------------------------------------------------------------

let planTimer = 0;
function planSoon() {
  clearTimeout(planTimer);
  planTimer = setTimeout(() => attempt(plan), 500);
}

async function plan() {
  const { run } = await ask("plan", { patience: byId("patience").value, rack: byId("use-rack").checked ? "yes" : "no" }, textOf(state.history.job));
  state.run = run;
  follow(run);
}

const money = (cents) => (cents / 100).toFixed(2);

async function follow(run) {
  const told = await attempt(() => ask("plan", { run }));
  if (!told || run !== state.run) return;
  byId("keep").hidden = told.state !== "working";
  if (told.state === "working") {
    byId("standing").textContent = told.best >= 0 ? `looking: best ${money(told.best)}, at least ${money(told.lower_bound)}` : "looking";
    setTimeout(() => follow(run), 300);
    return;
  }
  byId("standing").textContent = told.state === "done" ? "" : "no plan";
  if (told.state === "gone") return;
  showCautions(told.faults);
  const errors = told.faults.filter((fault) => fault.grade === "error");
  if (errors.length) say(errors.map((fault) => `${fault.wrong}; ${fault.cure}`).join(" - "));
  if (told.state === "done") { showPlan(told); showPacket(run); }
}

function showPacket(run) {
  replace("packet", el("button", { type: "button", class: "strong", onclick: () => attempt(async () => {
    const packet = await ask("packet", { run }, null, { blob: true });
    const link = el("a", { href: URL.createObjectURL(packet), download: `${state.id || "packet"}.pdf` });
    link.click();
  }) }, "Download the packet (PDF)"));
}

// ---- files ---------------------------------------------------------------------------------------------------------

async function listFiles() {
  const { files } = await ask("files");
  replace("open", ...files.map((file) => el("option", { value: file.id, selected: file.id === state.id }, file.draft ? `${file.id} (unsaved)` : file.id)));
  return files;
}

async function openFile(id) {
  const file = await ask("file", id ? { id } : {});
  const text = file.draft !== undefined ? file.draft : file.text;
  let job;
  try { job = JSON.parse(text); } catch { say(`${file.id} is no JSON: mend it in an editor`); return; }
  Object.assign(state, { id: file.id, version: file.version, history: new History(job), saved: file.draft !== undefined ? "" : textOf(job), chosen: "cases[0]", sizing: null });
  await openShop(job);
  await listFiles();
  refresh();
  if (file.draft !== undefined) byId("saved").textContent = "unsaved changes from before are back";
}

async function save() {
  const job = state.history.job;
  const answer = await ask("save", { id: state.id, version: state.version }, textOf(job));
  state.version = answer.version;
  state.saved = textOf(job);
  clearTimeout(draftTimer);
  byId("saved").textContent = "saved";
  await listFiles();
}

async function saveAs(suggested, job) {
  const id = window.prompt("The job's name", suggested);
  if (!id) return;
  const answer = await ask("save", { id, version: "" }, textOf(job));
  Object.assign(state, { id, version: answer.version, history: new History(job), saved: textOf(job), chosen: "cases[0]", sizing: null });
  await openShop(job);
  await listFiles();
  refresh();
}

function emptyJob() {
  const shop = state.history.job.shop;
  return { format: 1, name: "Drawers", units: state.history.job.units || "in", ...(shop ? { shop } : {}),
    cases: [{ name: "Case", opening: { width: "24 1/2", height: "24 1/2", depth: "22" }, fit: "inset", ...usualOf(state.shop), banks: [{ drawers: 4 }] }] };
}

/** The first slide and materials of the shop, so that a new job can be planned at once. */
function usualOf(shop) {
  const materials = shop.materials || [];
  if (!materials.length) return {};
  const pick = (i) => materials[Math.min(i, materials.length - 1)].id;
  return { front: { material: pick(2) }, box: { sides: pick(0), bottom: pick(1) }, ...(shop.slides && shop.slides.length ? { slide: shop.slides[0].id } : {}) };
}

// ---- the shop --------------------------------------------------------------------------------------------------------

async function openShop(job) {
  state.shopId = "";
  state.shop = typeof job.shop === "object" && job.shop !== null ? job.shop : {};
  if (typeof job.shop === "string") {
    state.shopId = job.shop.replace(/\.json$/, "");
    const file = await attempt(() => ask("file", { id: state.shopId }));
    if (file) { state.shop = JSON.parse(file.text); state.shopVersion = file.version; }
  }
  setDecimals(state.shop);
  showShop();
}

function showShop() {
  byId("shop-where").textContent = state.shopId ? `Kept in ${state.shopId}.json, for every job that names it.` : "Kept in this job.";
  replace("shop", treeFields(state.shop, "", (address, value) => changeShop((shop) => set(shop, address, value)),
    (address, change) => changeShop((shop) => change(get(shop, address)))));
}

function changeShop(change) {
  const open = [...document.querySelectorAll("#shop details[open] > summary")].map((node) => node.textContent);
  attempt(async () => {
    if (state.shopId) {
      change(state.shop);
      const answer = await ask("save", { id: state.shopId, version: state.shopVersion }, textOf(state.shop));
      state.shopVersion = answer.version;
      size(state.history.job);
    } else edit((job) => { job.shop = job.shop || {}; change(job.shop); state.shop = job.shop; });
    showShop();
    for (const node of document.querySelectorAll("#shop details > summary")) if (open.includes(node.textContent)) node.parentElement.open = true;
  });
}

// ---- the rack -------------------------------------------------------------------------------------------------------

async function showRack() {
  const { offcuts } = await ask("rack");
  const inch = state.history.job.units !== "mm";
  const length = (units) => (inch ? written(units) : String(units / 16000));
  const form = el("form", { class: "tools", onsubmit: (event) => {
    event.preventDefault();
    const said = new FormData(form);
    attempt(async () => { await ask("rack/add", { material: said.get("material"), length: said.get("length"), width: said.get("width"), worth: said.get("worth"), units: inch ? "in" : "mm" }, "{}"); await showRack(); });
  } },
    el("label", {}, "Material ", el("select", { name: "material" }, ...(state.shop.materials || []).map((one) => el("option", { value: one.id }, one.name || one.id)))),
    el("label", {}, "Length ", el("input", { name: "length", size: "8", dataset: { fraction: "yes" } })), el("label", {}, "Width ", el("input", { name: "width", size: "8", dataset: { fraction: "yes" } })),
    el("label", {}, "Worth ", el("input", { name: "worth", size: "7" })), el("button", {}, "Put in"));
  replace("rack", offcuts.length ? table([["offcut", ""], ["material", ""], ["length", "n"], ["width", "n"], ["from", ""], ["", ""]], offcuts.map((one) => [one.id, one.material,
    length(one.length), length(one.width), one.origin, el("button", { type: "button", onclick: () => attempt(async () => { await ask("rack/take", { id: one.id }, "{}"); await showRack(); }) }, `Take ${one.id}`)]))
    : el("p", {}, "The rack is empty."), form);
}

// ---- start -----------------------------------------------------------------------------------------------------------

function wire() {
  byId("open").addEventListener("change", (event) => attempt(() => openFile(event.target.value)));
  byId("undo").addEventListener("click", () => { state.history.undo(); keepDraft(); refresh(); });
  byId("redo").addEventListener("click", () => { state.history.redo(); keepDraft(); refresh(); });
  byId("save").addEventListener("click", () => attempt(save));
  byId("new-job").addEventListener("click", () => attempt(() => saveAs("new job", emptyJob())));
  byId("duplicate").addEventListener("click", () => attempt(() => saveAs(`${state.id} copy`, state.history.job)));
  byId("keep").addEventListener("click", () => attempt(() => ask("stop", { run: state.run }, "{}")));
  byId("patience").addEventListener("change", planSoon);
  byId("use-rack").addEventListener("change", planSoon);
  byId("chosen").addEventListener("submit", (event) => event.preventDefault());
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey)) return;
    const key = event.key.toLowerCase();
    if (key === "z") { event.preventDefault(); byId(event.shiftKey ? "redo" : "undo").click(); }
    if (key === "y") { event.preventDefault(); byId("redo").click(); }
    if (key === "s") { event.preventDefault(); byId("save").click(); }
  });
  fractionBar(byId("fractions"));
}

wire();
attempt(async () => {
  const files = await listFiles();
  const jobs = files.filter((file) => file.id !== "shop");
  try { await openFile(""); } catch { if (jobs.length) await openFile(jobs[0].id); }
  await showRack();
});
