// listed.js - parts listed by hand, so that one plan serves the whole piece: shelves, tops, slats.
import { desk, edit, on, units } from "./desk.js";
import { act, byId, el, renew } from "./dom.js";
import { choice, ids, lengthField, textField, wholeField } from "./fields.js";

const GRAIN = [["along", "along its length"], ["across", "across it"], ["free", "either way"]];

const context = () => ({ job: desk.history.job, shop: desk.shop, faults: desk.faults.filter((fault) => fault.grade === "error"), edit });

function rowOf(to, part, i) {
  const at = `parts[${i}]`;
  const change = (run) => edit((job) => run(job.parts));
  return el("fieldset", { class: "listed" }, el("legend", {}, `By hand ${i + 1}${part.name ? `: ${part.name}` : ""}`),
    textField(to, "Name of the part", `${at}.name`, { read: (text) => text.trim() }),
    choice(to, "Cut from", `${at}.material`, ids(to.shop.materials, "not said").slice(1)),
    lengthField(to, "Length to cut", `${at}.length`), lengthField(to, "Width to cut", `${at}.width`),
    wholeField(to, "How many", `${at}.count`, "1"),
    choice(to, "Grain", `${at}.grain`, GRAIN, "along"),
    textField(to, "Belongs to", `${at}.group`, { hint: "nothing" }),
    el("div", { class: "acts" }, act("One more like it", () => { change((parts) => parts.splice(i + 1, 0, { ...parts[i] })); go(i + 1); }, { dataset: { key: `like ${at}` } }),
      act("Remove", () => { change((parts) => parts.splice(i, 1)); go(i - 1); }, { dataset: { key: `remove ${at}` }, "aria-label": `Remove by hand ${i + 1}` })));
}

/** Shows the list as it is now; the name of that part, or the button that adds one, has the focus. */
function go(i) {
  show();
  const field = byId("listed").querySelector(i < 0 ? '[data-key="add listed"]' : `[data-address="parts[${i}].name"]`);
  if (!field) return;
  field.focus();
  if (i >= 0) field.select();
}

function add() {
  const usual = units() === "mm" ? { length: "600", width: "300" } : { length: "24", width: "12" };
  const [first] = desk.shop.materials || [{ id: "" }];
  const count = (desk.history.job.parts || []).length;
  edit((job) => { job.parts = [...(job.parts || []), { name: `part ${count + 1}`, material: first.id, ...usual, count: 1 }]; });
  go(count);
}

function show() {
  const to = context();
  const parts = Array.isArray(to.job.parts) ? to.job.parts : [];
  renew(byId("listed"), el("h3", {}, "Parts listed by hand"),
    parts.length ? null : el("p", { class: "hint" }, "Shelves, tops, slats: what no drawer or case gives, cut from the same sheets."),
    ...parts.map((part, i) => rowOf(to, part, i)), act("List a part", add, { dataset: { key: "add listed" } }));
}

export function startListed() {
  for (const what of ["opened", "sized"]) on(what, show); // not at once when a field is left: the next one has the focus already
  byId("listed").addEventListener("submit", (event) => event.preventDefault());
}
