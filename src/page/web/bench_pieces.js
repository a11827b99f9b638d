// bench_pieces.js - one sheet of the plan at a time, as it lies on the saw: its pieces, its steps, its damage. One tap marks a piece.
import { ask } from "./door.js";
import { on, units } from "./desk.js";
import { askIn } from "./dialog.js";
import { act, byId, el, renew, table, unfold } from "./dom.js";
import { bench, doing, mark } from "./bench.js";

const SIGNS = { "to cut": "\u2610", cut: "\u2713", spoiled: "\u2717", "to plan again": "\u21bb" };
const CALM = 700; // milliseconds: a second tap on the same piece so soon is a slip of the thumb

let chosen = ""; // name of the sheet that is shown
let together = false; // steps are marked on all sheets of the material
let tapped = { mark: "", at: 0 };

// ---- pieces ----------------------------------------------------------------------------------------------------------

/** Takes back the mark that brought a piece to its state; asks where that mark is about more than the piece. */
async function takeBack(piece) {
  if (piece.by && !(await askIn(`Take back "${piece.by}"?`, [el("p", {}, `${piece.mark} is ${piece.state} because of that mark. All that follows from it is taken back with it.`)], [["yes", "Take it back"]]))) return;
  await doing(() => ask("bench/back", { plan: bench.plan.mark, number: piece.since }, "{}"), () => {
    const now = bench.plan.pieces.find((one) => one.mark === piece.mark);
    return now && now.state === piece.state && now.since ? `${piece.mark} is still ${now.state}: it follows from "${now.by || now.mark}".` : `${piece.mark}: not ${piece.state}, after all.`;
  });
}

function tap(piece) {
  const now = Date.now();
  if (tapped.mark === piece.mark && now - tapped.at < CALM) return;
  tapped = { mark: piece.mark, at: now };
  if (piece.state === "to cut") mark("cut", piece.mark, {}, `${piece.mark} is cut.`);
  else if (piece.state !== "to plan again") takeBack(piece);
}

const spoil = (piece) => (piece.state === "spoiled" ? takeBack(piece) : mark("spoiled", piece.mark, {}, `${piece.mark} is spoiled: plan again below what is left.`));

function row(piece) {
  const again = piece.state === "to plan again";
  return el("li", {},
    el("button", { type: "button", class: `piece is-${piece.state.replaceAll(" ", "-")}`, disabled: again, onclick: () => tap(piece), dataset: { key: `piece ${piece.mark}`, piece: piece.mark, state: piece.state } },
      el("span", { class: "sign", "aria-hidden": "true" }, SIGNS[piece.state]),
      el("span", { class: "name" }, el("strong", {}, piece.mark), ` ${piece.name}`),
      el("small", {}, `${piece.size}: ${piece.state}${piece.by ? ` (${piece.by})` : ""}`)),
    again ? null : el("button", { type: "button", class: "spoil", onclick: () => spoil(piece), dataset: { key: `spoil ${piece.mark}` } },
      piece.state === "spoiled" ? "Not spoiled" : "Spoiled", el("span", { class: "unseen" }, ` ${piece.mark}`)));
}

// ---- steps -----------------------------------------------------------------------------------------------------------

async function markStep(sheet, step) {
  const others = together ? bench.plan.sheets.filter((one) => one.material === sheet.material) : [sheet];
  const due = others.map((one) => [one, one.steps.filter((each) => each.step <= step && !each.done)]).filter(([, steps]) => steps.length);
  await doing(async () => {
    for (const [one, steps] of due) await ask("bench/mark", { plan: bench.plan.mark, what: "sheet", target: one.name, step: steps[steps.length - 1].step, units: units() }, "{}");
  }, `${due.map(([one]) => one.name).join(", ")}: done to step ${step}.`);
}

function stepRow(sheet, one) {
  return el("li", {}, el("button", { type: "button", class: `to-step${one.done ? " is-done" : ""}`, disabled: one.done, onclick: () => markStep(sheet, one.step), dataset: { key: `step ${sheet.name} ${one.step}` } },
    el("span", { class: "sign", "aria-hidden": "true" }, one.done ? SIGNS.cut : SIGNS["to cut"]),
    el("span", {}, el("strong", {}, `Step ${one.step}`), `: ${one.done ? "done" : one.begun ? "partly done" : "to do"}`),
    el("small", {}, one.words)));
}

function steps(sheet) {
  const alike = bench.plan.sheets.filter((one) => one.material === sheet.material);
  const last = sheet.steps[sheet.steps.length - 1];
  return [
    el("p", { class: "hint" }, "Tap a step when it and all before it are done. The numbers are those of the cut order in the packet."),
    alike.length > 1 ? el("label", { class: "ticks" }, el("input", { type: "checkbox", checked: together, dataset: { key: "together" }, onchange: (event) => { together = event.target.checked; } }),
      `Mark a step on all sheets of ${sheet.material} together (${alike.map((one) => one.name).join(", ")})`) : null,
    el("ol", { class: "steps" }, ...sheet.steps.map((one) => stepRow(sheet, one))),
    last && !last.done ? act(`${together ? "These sheets are" : `Sheet ${sheet.name} is`} cut up: all steps done`, () => markStep(sheet, last.step), { class: "big strong", dataset: { key: "all steps" } }) : null,
  ];
}

// ---- damage, notes ---------------------------------------------------------------------------------------------------

const forms = new Map(); // what is typed in them stays when the state of the bench is shown anew

function kept(key, make) {
  if (!forms.has(key)) forms.set(key, make());
  return forms.get(key);
}

function damageForm(sheet) {
  const names = bench.plan.left.filter((one) => one.sheet === sheet.name);
  const form = el("form", { autocomplete: "off", onsubmit: (event) => {
    event.preventDefault();
    const said = Object.fromEntries(new FormData(form));
    mark("damaged", said.target, { edge: said.edge, depth: said.depth, note: said.note }, `${said.target}: ${said.depth} from the ${said.edge} will be kept out. Plan again below.`).then((done) => { if (done) form.reset(); });
  } },
  el("p", { class: "hint" }, "A bad edge, or a bad corner: choose the edge along which the strip that is lost costs you least. Left, right, bottom and top are as the sheet is drawn."),
  el("div", { class: "fields" },
    el("label", {}, "Of ", el("select", { name: "target", dataset: { key: "damage target" } }, ...names.map((one) => el("option", { value: one.name }, `${one.name}, ${one.size}`)))),
    el("label", {}, "Edge ", el("select", { name: "edge", dataset: { key: "damage edge" } }, ...["left", "right", "bottom", "top"].map((one) => el("option", {}, one)))),
    el("label", {}, "Not to be used, so deep ", el("input", { name: "depth", type: "text", inputmode: "decimal", required: true, dataset: { key: "damage depth", fraction: "yes" } })),
    el("label", {}, "Words beside it ", el("input", { name: "note", type: "text", dataset: { key: "damage note" } })),
    el("button", { class: "big", dataset: { key: "damage" } }, "Mark as damaged")));
  return names.length ? form : el("p", {}, "Nothing of this sheet is left to be cut.");
}

function noteForm(sheet) {
  const form = el("form", { class: "fields", autocomplete: "off", onsubmit: (event) => {
    event.preventDefault();
    mark("note", sheet.name, { note: new FormData(form).get("note") }, `Noted beside ${sheet.name}.`).then((done) => { if (done) form.reset(); });
  } }, el("label", {}, `A note on ${sheet.name}, such as which face shows `, el("input", { name: "note", type: "text", required: true, dataset: { key: "sheet note" } })),
  el("button", { class: "big", dataset: { key: "sheet note put" } }, "Write it down"));
  return form;
}

function caliperForm(sheet) {
  const form = el("form", { class: "fields", autocomplete: "off", onsubmit: (event) => {
    event.preventDefault();
    const depth = new FormData(form).get("depth");
    mark("measured", sheet.name, { depth }, `${sheet.name} measures ${depth}. Plan again below: every size that changes is listed there.`).then((done) => { if (done) form.reset(); });
  } }, el("label", {}, `Sheet ${sheet.name} is so thick by the caliper `, el("input", { name: "depth", type: "text", inputmode: "decimal", required: true, dataset: { key: "sheet thickness", fraction: "yes" } })),
  el("button", { class: "big", dataset: { key: "sheet thickness put" } }, "It measures that"));
  return form;
}

async function loseSheet(sheet) {
  const sure = await askIn(`Is ${sheet.name} of no use?`, [el("p", {}, "What is left of it is not cut from any more, or it was never there. What is cut from it stays.")], [["yes", "It is of no use"]]);
  if (sure) await mark("spoiled", sheet.name, {}, `${sheet.name} is of no use: plan again below.`);
}

// ---- the sheet -------------------------------------------------------------------------------------------------------

const own = (sheet) => bench.plan.pieces.filter((piece) => piece.sheet === sheet.name);
const isOpen = (sheet) => own(sheet).some((piece) => piece.state === "to cut") || sheet.steps.some((one) => !one.done);

function tab(sheet) {
  const pieces = own(sheet), cut = pieces.filter((piece) => piece.state === "cut").length;
  return el("button", { type: "button", "aria-pressed": String(sheet.name === chosen), onclick: () => { chosen = sheet.name; show(); }, dataset: { key: `sheet ${sheet.name}` } },
    sheet.name, el("span", {}, ` ${cut} of ${pieces.length} cut`));
}

/** Which panel to take to the saw: a sheet as bought needs no words. */
function origin({ source }) {
  if (source.includes("/")) return `It is what plan ${source.replace("/", " left as ")}. `;
  return /^R\d+$/.test(source) ? `It is offcut ${source} of the rack. ` : "";
}

function sheetBody(sheet) {
  const done = sheet.steps.filter((one) => one.done).length;
  return [
    el("h3", {}, `Sheet ${sheet.name}: ${sheet.material}, ${sheet.size}`),
    el("p", {}, `${origin(sheet)}${sheet.steps.length ? `${done} of its ${sheet.steps.length} steps done. ` : ""}Tap a piece when it is cut; tap it again if it is not, after all.`),
    el("ul", { class: "pieces", "aria-label": `Pieces of sheet ${sheet.name}` }, ...own(sheet).map(row)),
    sheet.steps.length ? unfold("bench steps", `Steps of sheet ${sheet.name}`, () => steps(sheet)) : null,
    unfold("bench damage", "Damage, thickness, notes", () => [
      kept(`damage ${sheet.name} ${bench.plan.left.map((one) => one.id).join(" ")}`, () => damageForm(sheet)), kept(`caliper ${sheet.name}`, () => caliperForm(sheet)), kept(`note ${sheet.name}`, () => noteForm(sheet)),
      act(`Sheet ${sheet.name} is of no use`, () => loseSheet(sheet), { class: "big", dataset: { key: "lose sheet" } })]),
  ];
}

function earlier(plan) {
  const list = plan.earlier.filter((one) => one.plan !== plan.mark);
  const changed = plan.earlier.filter((one) => one.changed);
  return [
    changed.length ? el("div", { class: "report" }, el("h4", {}, "Cut, and now wanted otherwise"), el("ul", {}, ...changed.map((one) => el("li", {}, `${one.mark}: ${one.changed}. Keep it, or mark it as spoiled to have it made anew.`)))) : null,
    list.length ? unfold("bench earlier", `Cut by the plans before (${list.length})`, () => [el("ul", { class: "pieces" }, ...list.map((one) => el("li", {}, el("span", { class: "made" }, el("strong", {}, one.mark), ` ${one.name}, ${one.size}, plan ${one.plan}`),
      el("button", { type: "button", class: "spoil", onclick: () => spoil({ ...one, state: "cut" }), dataset: { key: `spoil ${one.mark}` } }, "Spoiled", el("span", { class: "unseen" }, ` ${one.mark}`)))))]) : null,
  ];
}

function show() {
  const { plan } = bench;
  if (!plan) { renew(byId("bench-sheets")); return; }
  const sheet = plan.sheets.find((one) => one.name === chosen) || plan.sheets.find(isOpen) || plan.sheets[0];
  chosen = sheet ? sheet.name : "";
  renew(byId("bench-sheets"),
    el("div", { class: "tools sheet-tabs", role: "group", "aria-label": "Sheets of the plan" }, ...plan.sheets.map(tab)),
    ...(sheet ? sheetBody(sheet) : []), ...earlier(plan),
    unfold("bench left", `What lies on the bench (${plan.left.length})`, () => [table("What lies on the bench", [["what", ""], ["material", ""], ["size", ""]], plan.left.map((one) => [one.id, one.material, one.size]))]));
}

export function startBenchPieces() {
  on("bench", show);
  on("opened", () => { chosen = ""; together = false; forms.clear(); });
}
