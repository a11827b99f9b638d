// fields.js - what can be said of the job, or of the chosen case, bank or drawer. Each field stands at its address in the job; a reading that cannot be
// understood stays in its field with the fault beneath.
import { get, set, drawersOf, bankOf, caseOf, indexOf, isBank, isDrawer, isWithin } from "./address.js";
import { words } from "./door.js";
import { act, el, unfold, whenSaid } from "./dom.js";

const FITS = ["inset", "overlay", "full overlay", "half overlay", "lipped"].map((word) => [word, word]);
const FILLS = [["drawer", "a drawer"], ["door", "a door"], ["open", "open space"], ["panel", "a panel"]];
const STYLES = [["frameless", "frameless"], ["face frame", "face frame"]];
export const FREED = [["by habit", "by habit"], ["gaps", "into the gaps"], ["ends", "to the ends"], ["bottom front", "to the bottom front"]];
const JOINTS = ["rabbet-and-dado", "butt", "rabbet", "dado", "lock rabbet", "finger", "half-blind dovetail", "through dovetail", "miter"].map((word) => [word, word]);
const BOTTOMS = [["grooved", "in a groove all round"], ["slid in", "slid in under a short back"], ["rabbeted", "in a rabbet"], ["applied", "applied underneath"]];
const ALIKE = [["job", "over the whole job"], ["bank", "in each bank"], ["drawer", "each drawer by itself"]];

// ---- one field -------------------------------------------------------------------------------------------------------

/** A labeled control, with the faults of its address beneath. */
export function withFaults(label, input, faults, address) {
  const found = faults.filter((fault) => isWithin(fault.address, address));
  const id = "fault-" + address.replace(/\W+/g, "-");
  input.dataset.address = address;
  input.dataset.key = address;
  if (found.length) {
    input.setAttribute("aria-invalid", "true");
    input.setAttribute("aria-describedby", id);
  }
  const parts = input.type === "checkbox" ? [input, label] : [label, input];
  return el("div", { class: "field" }, el("label", {}, ...parts), found.length ? el("div", { id }, ...found.map((fault) => el("span", { class: "fault" }, words(fault)))) : null);
}

function change(context, address, value) {
  context.edit((job) => {
    if (/\.drawers\[/.test(address)) drawersOf(job, bankOf(address));
    set(job, address, value);
  });
}

/** Several readings are written with ; between, shares as "2 shares"; something in braces is taken as it is. */
function parse(text) {
  const plain = text.trim();
  const shares = /^(\d+)\s+shares?$/.exec(plain);
  if (plain === "") return undefined;
  if (shares) return { share: Number(shares[1]) };
  if (plain.startsWith("{")) { try { return JSON.parse(plain); } catch { return plain; } }
  const readings = plain.split(";").map((piece) => piece.trim()).filter((piece) => piece !== "");
  return readings.length > 1 ? readings : plain;
}

function shown(value) {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.join("; ");
  if (typeof value !== "object") return String(value);
  return Object.keys(value).length === 1 && value.share !== undefined ? `${value.share} ${value.share === 1 ? "share" : "shares"}` : JSON.stringify(value);
}

export function textField(context, label, address, { hint = "", read = parse } = {}) {
  const input = el("input", { type: "text", value: shown(get(context.job, address)), placeholder: hint, autocomplete: "off" });
  whenSaid(input, (text) => change(context, address, read(text)));
  return withFaults(label, input, context.faults, address);
}

export function lengthField(context, label, address, hint = "") {
  const field = textField(context, label, address, { hint });
  const input = field.querySelector("input");
  input.dataset.fraction = "yes";
  input.setAttribute("inputmode", "decimal");
  return field;
}

export function wholeField(context, label, address, hint) {
  return textField(context, label, address, { hint, read: (text) => (/^\s*\d+\s*$/.test(text) ? Number(text) : parse(text)) });
}

/** One of `options` ([value, words]); what is not in the job is `usual`. */
export function choice(context, label, address, options, usual = "") {
  const value = get(context.job, address) ?? usual;
  const known = options.some(([word]) => word === value);
  const select = el("select", { onchange: (event) => change(context, address, event.target.value || undefined) },
    ...options.map(([word, told]) => el("option", { value: word, selected: word === value }, told)),
    known ? null : el("option", { value: "", selected: true, disabled: true }, `as written: ${shown(value)}`));
  return withFaults(label, select, context.faults, address);
}

function tick(context, label, address, usual) {
  const input = el("input", { type: "checkbox", checked: (get(context.job, address) ?? usual) === true, onchange: (event) => change(context, address, event.target.checked) });
  return withFaults(label, input, context.faults, address);
}

export const ids = (list, usual) => [["", usual], ...(list || []).map((one) => [one.id, one.name || one.id])];

function acts(...buttons) {
  return el("div", { class: "acts" }, ...buttons.filter((pair) => pair).map(([told, run]) => act(told, run, { dataset: { key: `act ${told}` } })));
}

/** Fields that are seldom wanted, folded away. */
const more = (key, summary, fields) => el("div", { class: "wide more" }, unfold(key, summary, () => [el("div", { class: "pairs" }, ...fields())]));

// ---- a drawer, a bank, a case, the job ---------------------------------------------------------------------------------

function drawerFields(context, address) {
  const bank = bankOf(address), at = indexOf(address);
  const count = drawersOf(context.job, bank).length;
  const edit = (run) => context.edit((job) => run(drawersOf(job, bank)));
  const go = (to) => context.choose(`${bank}.drawers[${to}]`);
  const move = (by) => { edit((list) => list.splice(at + by, 0, ...list.splice(at, 1))); go(at + by); };
  const halves = (list) => { const { height, name, ...rest } = list[at]; list.splice(at, 1, { ...rest, ...(name ? { name } : {}) }, rest); };
  return [
    el("h3", {}, `Drawer ${context.path || at + 1}`),
    lengthField(context, "Front height", `${address}.height`, "a share of what is left"),
    textField(context, "Name", `${address}.name`, { hint: String(at + 1) }),
    choice(context, "Fit", `${address}.fit`, [["", "as the case"], ...FITS]),
    choice(context, "Filled by", `${address}.fill`, FILLS, "drawer"),
    lengthField(context, "Rail below", `${address}.rail_below`, "none"),
    choice(context, "Slide", `${address}.slide`, ids(context.shop.slides, "as the case")),
    choice(context, "Front of", `${address}.front.material`, ids(context.shop.materials, "as the case")),
    more("drawer box", "Its box", () => [
      lengthField(context, "Box height", `${address}.box.height`, "by rule"), lengthField(context, "Box no higher than", `${address}.box.height_most`, "no limit"),
      lengthField(context, "Box no lower than", `${address}.box.height_least`, "no limit"), lengthField(context, "Slide length", `${address}.box.slide_length`, "the longest that fits"),
      lengthField(context, "May be lower by", `${address}.box.leeway.lower`, "as the case")]),
    acts(["Add one below", () => { edit((list) => list.splice(at + 1, 0, {})); go(at + 1); }],
      ["Split in two", () => edit(halves)],
      at > 0 && ["Move up", () => move(-1)],
      at < count - 1 && ["Move down", () => move(1)],
      count > 1 && ["Remove", () => { edit((list) => list.splice(at, 1)); go(Math.max(0, at - 1)); }],
      ["To its bank", () => context.choose(bank)]),
  ];
}

function bankFields(context, address) {
  const owner = caseOf(address), at = indexOf(address);
  const banks = get(context.job, `${owner}.banks`);
  return [
    el("h3", {}, `Bank ${context.path || at + 1}`),
    textField(context, "Name", `${address}.name`, { hint: String(at + 1) }),
    lengthField(context, "Opening width", `${address}.width`, "a share of the case's"),
    lengthField(context, "Opening height", `${address}.height`, "the case's"),
    lengthField(context, "Rails between drawers", `${address}.rail`, "none"),
    lengthField(context, "Each front higher than the one above by", `${address}.graduation.step`, "not graduated"),
    lengthField(context, "Gap", `${address}.gap`, "the shop's"),
    choice(context, "What rounding frees goes", `${address}.freed`, FREED, "by habit"),
    more("bank leeway", "What may give to save a sheet", () => [
      lengthField(context, "One front lower, another higher, by", `${address}.leeway`, "nothing")]),
    acts(["Add a drawer", () => context.edit((job) => drawersOf(job, address).push({}))],
      ["Add a bank beside", () => { context.edit((job) => get(job, `${owner}.banks`).splice(at + 1, 0, { drawers: 3 })); context.choose(`${owner}.banks[${at + 1}]`); }],
      banks.length > 1 && ["Remove this bank", () => { context.edit((job) => get(job, `${owner}.banks`).splice(at, 1)); context.choose(owner); }],
      ["To its case", () => context.choose(owner)]),
  ];
}

const OUTSIDE = [["Outside width", "outside.width"], ["Outside height", "outside.height"], ["Outside depth", "outside.depth"], ["Thickness of its sides", "members.side"],
  ["Thickness of its top", "members.top"], ["Thickness of its bottom", "members.bottom"], ["Kick", "members.kick"]];
const INSIDE = [["Opening width", "opening.width"], ["Opening height", "opening.height"], ["Depth inside", "opening.depth"]];

/** What was given of a case is given in another way, as it was sized. */
function turn(one, from, to, sizes) {
  delete one[from];
  one[to] = sizes;
}

function caseFields(context, address) {
  const one = get(context.job, address), at = indexOf(address);
  const copy = (job) => job.cases.splice(at + 1, 0, { ...structuredClone(job.cases[at]), name: `${job.cases[at].name || "Case"} 2` });
  return [
    el("h3", {}, `Case ${context.path || at + 1}`),
    textField(context, "Name", `${address}.name`),
    choice(context, "Style", `${address}.style`, STYLES, "frameless"),
    ...(one.outside !== undefined ? OUTSIDE : INSIDE).map(([label, key]) => lengthField(context, label, `${address}.${key}`)),
    choice(context, "Fit", `${address}.fit`, [["", "by the style"], ...FITS]),
    choice(context, "Slide", `${address}.slide`, ids(context.shop.slides, "the shop's first")),
    choice(context, "Fronts of", `${address}.front.material`, ids(context.shop.materials, "not said")),
    choice(context, "Box sides of", `${address}.box.sides`, ids(context.shop.materials, "not said")),
    choice(context, "Bottoms of", `${address}.box.bottom`, ids(context.shop.materials, "not said")),
    wholeField(context, "How many alike", `${address}.count`, "1"),
    tick(context, "Free-standing", `${address}.free_standing`, true),
    more("case making", "Joints, bottoms, and the case itself", () => [
      choice(context, "Corners of boxes", `${address}.box.joint`, JOINTS, "rabbet-and-dado"), choice(context, "Bottoms", `${address}.box.bottom_style`, BOTTOMS, "grooved"),
      choice(context, "The case is of", `${address}.members.material`, ids(context.shop.materials, "not said")),
      choice(context, "Its back is of", `${address}.members.back_material`, ids(context.shop.materials, "not said")),
      lengthField(context, "Thickness of its back (0: none)", `${address}.members.back`, "as its material"),
      tick(context, "List the case's own parts", `${address}.members.parts`, false)]),
    more("case leeway", "What may give to save a sheet", () => [
      lengthField(context, "Boxes may be lower by", `${address}.box.leeway.lower`, "nothing"), wholeField(context, "Slides may be so many lengths shorter", `${address}.box.leeway.shorter`, "none"),
      choice(context, "Boxes of one size stay alike", `${address}.box.leeway.alike`, ALIKE, "job"), lengthField(context, "Overlay may be less by", `${address}.fit.leeway`, "nothing")]),
    el("p", { class: "hint wide" }, "Measured more than once? Write the readings with ; between: the least counts."),
    acts(context.sized && (one.outside === undefined ? ["Give outside sizes instead", () => context.edit((job) => turn(get(job, address), "opening", "outside", context.sized.outside))]
      : ["Give the opening instead", () => context.edit((job) => turn(get(job, address), "outside", "opening", context.sized.opening))]),
    ["Add a bank", () => { context.edit((job) => { const own = get(job, address); own.banks = [...(own.banks || []), { drawers: 3 }]; }); }],
      ["Add a case like this", () => { context.edit(copy); context.choose(`cases[${at + 1}]`); }],
      context.job.cases.length > 1 && ["Remove this case", () => { context.edit((job) => job.cases.splice(at, 1)); context.choose("cases[0]"); }]),
  ];
}

function jobFields(context) {
  return [
    el("h3", {}, "The job"),
    textField(context, "Name of the job", "name", { read: (text) => text.trim() || undefined }),
    choice(context, "Bare numbers are", "units", [["in", "inches"], ["mm", "millimeters"]], "in"),
    context.job.cases && context.job.cases.length ? null : acts(["Add a case", () => { context.edit((job) => { job.cases = [firstCase(job.units)]; }); context.choose("cases[0]"); }]),
  ];
}

export const firstOpening = (units) => (units === "mm" ? { width: "620", height: "620", depth: "560" } : { width: "24 1/2", height: "24 1/2", depth: "22" });

/** A case to begin with: four equal inset drawers. */
export function firstCase(units) {
  return { name: "Cabinet", fit: "inset", opening: firstOpening(units), banks: [{ drawers: 4 }] };
}

/** The fields of what is chosen. context: { job, shop, faults, path, sized (of a case, both ways), edit(job => ...), choose(address) }. */
export function fieldsFor(context, address) {
  if (address === "job") return jobFields(context);
  if (isDrawer(address)) return drawerFields(context, address);
  return isBank(address) ? bankFields(context, address) : caseFields(context, address);
}
