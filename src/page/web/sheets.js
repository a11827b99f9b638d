// sheets.js - the sheets of each material: as found so far while the search goes on, then as they are to be cut, with the ladder.
import { desk } from "./desk.js";
import { byId, el, renew, unfold } from "./dom.js";
import { bound, money } from "./money.js";

export const many = (count, one) => `${count} ${one}${count === 1 ? "" : "s"}`;

let shown = []; // [{ material, sheets, cost, lower_bound, proved, drawings, ladder? }] in the order of the shop

const nameOf = (id) => { const one = (desk.shop.materials || []).find((material) => material.id === id); return (one && one.name) || id; };

function drawingOf({ name, svg }) {
  return el("div", { class: "sheet-drawing", tabindex: "0", role: "region", "aria-label": `Drawing of sheet ${name}`, dataset: { key: `drawing ${name}` } },
    el("img", { alt: `Sheet ${name} with its parts; the cut ladder says the same in words`, src: "data:image/svg+xml," + encodeURIComponent(svg) }));
}

/** A step of the cut order, as a list item: the setting leads. */
export const rungItem = (rung) => el("li", {}, `${rung.kind}, ${rung.show}: ${rung.tool}${rung.edge ? `, ${rung.edge}` : ""}; ${rung.what}.${rung.caution ? ` Care: ${rung.caution}.` : ""}`);

function ladderOf({ material, ladder, settings, cuts }) {
  if (!ladder) return el("p", { class: "hint" }, "Found just now. The order of cuts follows when the search ends.");
  return unfold(`ladder ${material}`, `Cut ladder: ${many(settings, "setting")} besides trims, ${many(cuts, "cut")}`, () =>
    [el("ol", { class: "ladder" }, ...ladder.map(rungItem))]);
}

const block = (one) => el("div", { class: "material", dataset: { material: one.material, cost: one.cost } },
  el("h3", {}, `${nameOf(one.material)}: ${many(one.sheets, "sheet")}, ${money(one.cost)}, ${bound(one.cost, one.lower_bound, one.proved)}`),
  ...one.drawings.map(drawingOf), ladderOf(one));

const drawAll = () => renew(byId("sheets"), ...shown.map(block));

const placeOf = (id) => (desk.shop.materials || []).findIndex((material) => material.id === id);

/** In the order of the shop. */
function insert(one) {
  const before = shown.filter((other) => placeOf(other.material) < placeOf(one.material)).length;
  shown.splice(before, 0, one);
  byId("sheets").insertBefore(block(one), byId("sheets").children[before] || null);
}

/** Better sheets of some materials, found while the search goes on; the others stay as they are, where the maker may be looking. */
export function showFound(materials) {
  for (const one of materials) {
    const at = shown.findIndex((other) => other.material === one.material);
    if (at < 0) { insert(one); continue; }
    shown[at] = one;
    const old = byId("sheets").children[at];
    renew(old, ...block(one).childNodes);
    old.dataset.cost = one.cost;
  }
}

/** The sheets of a finished plan. */
export function showSheets({ layouts, drawings }) {
  shown = layouts.materials.map((one) => ({ ...one, sheets: one.sheets.length, drawings: drawings.filter((drawing) => one.sheets.some((sheet) => sheet.name === drawing.name)) }));
  drawAll();
}

/** Another job: nothing is shown of the one before. */
export function clearSheets() {
  shown = [];
  drawAll();
}
