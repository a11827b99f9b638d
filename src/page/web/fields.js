// fields.js - what can be said of the chosen case, bank or drawer. Each field stands at its address in the job; a reading that cannot be understood stays in
// its field with the fault beneath.
import { el } from "./dom.js";
import { get, set, drawersOf, bankOf, indexOf } from "./address.js";

const FITS = [["", "as the case"], ["inset", "inset"], ["overlay", "overlay"], ["full overlay", "full overlay"], ["half overlay", "half overlay"], ["lipped", "lipped"]];
const FILLS = [["", "drawer"], ["door", "door"], ["open", "open space"], ["panel", "panel"]];
const STYLES = [["", "frameless"], ["face frame", "face frame"]];

/** The faults that belong to a field: its own address, or what lies below it. */
function faultsAt(faults, address) {
  return faults.filter((fault) => fault.address === address || fault.address.startsWith(address + ".") || fault.address.startsWith(address + "["));
}

function withFaults(label, input, faults, address) {
  const found = faultsAt(faults, address);
  const id = "f-" + address.replace(/\W+/g, "-");
  if (found.length) {
    input.setAttribute("aria-invalid", "true");
    input.setAttribute("aria-describedby", id);
  }
  return el("div", {}, el("label", {}, label, input),
    el("div", { id }, ...found.map((fault) => el("span", { class: "fault" }, fault.cure ? `${fault.wrong}; ${fault.cure}` : fault.wrong))));
}

/** A text field for a value that is written as a string; empty takes it out. */
function textField(context, label, address, { hint = "", fraction = false } = {}) {
  const value = get(context.job, address);
  const shown = value === undefined ? "" : typeof value === "object" ? (Array.isArray(value) ? value.join("; ") : JSON.stringify(value)) : String(value);
  const input = el("input", { value: shown, placeholder: hint, dataset: { address, fraction: fraction ? "yes" : "" }, inputmode: fraction ? "decimal" : "text",
    onchange: (event) => context.change(address, parseText(event.target.value)) });
  return withFaults(label, input, context.faults, address);
}

/** Several readings are written with ; between; something in braces is taken as it is. */
function parseText(text) {
  const plain = text.trim();
  if (plain === "") return undefined;
  if (plain.startsWith("{")) { try { return JSON.parse(plain); } catch { return plain; } }
  const readings = plain.split(";").map((piece) => piece.trim()).filter((piece) => piece !== "");
  return readings.length > 1 ? readings : plain;
}

function choice(context, label, address, words) {
  const value = get(context.job, address);
  const known = words.some(([word]) => word === (value ?? ""));
  const select = el("select", { dataset: { address }, onchange: (event) => context.change(address, event.target.value || undefined) },
    ...words.map(([word, shown]) => el("option", { value: word, selected: word === (value ?? "") }, shown)),
    known ? null : el("option", { value: "", selected: true, disabled: true }, "as written in the file"));
  return withFaults(label, select, context.faults, address);
}

function tick(context, label, address, usual) {
  const value = get(context.job, address);
  return el("label", {}, el("input", { type: "checkbox", checked: value === undefined ? usual : value === true, dataset: { address },
    onchange: (event) => context.change(address, event.target.checked) }), " " + label);
}

const ids = (list) => [["", "as usual"], ...(list || []).map((one) => [one.id, one.name || one.id])];

function act(words, run) {
  return el("button", { type: "button", onclick: run }, words);
}

function drawerFields(context, address) {
  const list = drawersOf(context.job, bankOf(address));
  const at = indexOf(address);
  const edit = (change) => context.edit((job) => change(drawersOf(job, bankOf(address)), at));
  const move = (by) => { edit((drawers) => drawers.splice(at + by, 0, ...drawers.splice(at, 1))); context.choose(`${bankOf(address)}.drawers[${at + by}]`); };
  return [
    el("h3", {}, `Drawer ${context.paths.get(address) || at + 1}`),
    textField(context, "Front height (empty: a share)", address + ".height", { hint: "a share of what is left", fraction: true }),
    textField(context, "Name", address + ".name", { hint: String(at + 1) }),
    choice(context, "Fit", address + ".fit", FITS),
    choice(context, "What fills it", address + ".fill", FILLS),
    textField(context, "Rail below", address + ".rail_below", { hint: "none", fraction: true }),
    choice(context, "Slide", address + ".slide", ids(context.shop.slides)),
    textField(context, "What it holds", address + ".holds"),
    el("div", { class: "acts" },
      act("Add one below", () => { edit((drawers) => drawers.splice(at + 1, 0, {})); context.choose(`${bankOf(address)}.drawers[${at + 1}]`); }),
      act("Split in two", () => edit((drawers) => drawers.splice(at, 1, { ...drawers[at], height: undefined }, {}))),
      at > 0 ? act("Move up", () => move(-1)) : null,
      at < list.length - 1 ? act("Move down", () => move(1)) : null,
      list.length > 1 ? act("Remove", () => { edit((drawers) => drawers.splice(at, 1)); context.choose(`${bankOf(address)}.drawers[${Math.max(0, at - 1)}]`); }) : null),
  ];
}

function bankFields(context, address) {
  const owner = address.replace(/\.banks\[\d+\]$/, "");
  const banks = get(context.job, owner + ".banks");
  const at = indexOf(address);
  return [
    el("h3", {}, `Bank ${context.paths.get(address) || at + 1}`),
    textField(context, "Name", address + ".name", { hint: String(at + 1) }),
    textField(context, "Opening width (empty: a share)", address + ".width", { hint: "a share", fraction: true }),
    textField(context, "Opening height", address + ".height", { hint: "the case's", fraction: true }),
    textField(context, "Rails between drawers", address + ".rail", { hint: "none", fraction: true }),
    textField(context, "Each front lower by more: step", address + ".graduation.step", { hint: "none", fraction: true }),
    textField(context, "Gap", address + ".gap", { hint: "the shop's", fraction: true }),
    el("div", { class: "acts" },
      act("Add a drawer", () => context.edit((job) => drawersOf(job, address).push({}))),
      act("Add a bank beside", () => context.edit((job) => get(job, owner + ".banks").splice(at + 1, 0, { drawers: 3 }))),
      banks.length > 1 ? act("Remove this bank", () => { context.edit((job) => get(job, owner + ".banks").splice(at, 1)); context.choose(owner); }) : null),
  ];
}

function caseFields(context, address) {
  const outside = get(context.job, address + ".outside") !== undefined;
  const sizes = outside
    ? [["Outside width", ".outside.width"], ["Outside height", ".outside.height"], ["Outside depth", ".outside.depth"], ["Thickness of its sides", ".members.side"],
      ["Kick", ".members.kick"]]
    : [["Opening width (several readings: ;)", ".opening.width"], ["Opening height", ".opening.height"], ["Depth inside", ".opening.depth"]];
  const at = indexOf(address);
  return [
    el("h3", {}, `Case ${context.paths.get(address) || at + 1}`),
    textField(context, "Name", address + ".name"),
    choice(context, "Style", address + ".style", STYLES),
    ...sizes.map(([label, key]) => textField(context, label, address + key, { fraction: true })),
    choice(context, "Fit", address + ".fit", FITS.map(([word, shown]) => [word, word ? shown : "by the style"])),
    choice(context, "Slide", address + ".slide", ids(context.shop.slides)),
    choice(context, "Fronts of", address + ".front.material", ids(context.shop.materials)),
    choice(context, "Box sides of", address + ".box.sides", ids(context.shop.materials)),
    choice(context, "Bottoms of", address + ".box.bottom", ids(context.shop.materials)),
    textField(context, "How many alike", address + ".count", { hint: "1" }),
    tick(context, "free-standing", address + ".free_standing", true),
    el("div", { class: "acts" },
      act("Add a bank", () => context.edit((job) => { const one = get(job, address); one.banks = [...(one.banks || []), { drawers: 3 }]; })),
      act("Add a case like this", () => context.edit((job) => job.cases.splice(at + 1, 0, { ...structuredClone(job.cases[at]), name: `${job.cases[at].name || "Case"} 2` }))),
      context.job.cases.length > 1 ? act("Remove this case", () => { context.edit((job) => job.cases.splice(at, 1)); context.choose("cases[0]"); }) : null),
  ];
}

/** The fields of what is chosen. context: job, shop, faults, paths, change(address, value), edit(job => ...), choose(address). */
export function fieldsFor(context, address) {
  if (/\.drawers\[\d+\]$/.test(address)) return drawerFields(context, address);
  if (/\.banks\[\d+\]$/.test(address)) return bankFields(context, address);
  return caseFields(context, address);
}

export { set };
