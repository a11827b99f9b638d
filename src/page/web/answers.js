// answers.js - what the library reckoned, in the order of the work. Nothing is reckoned here.
import { el, table, replace } from "./dom.js";

let decimals = 2;
const money = (cents) => (cents / 10 ** decimals).toFixed(decimals);
export function setDecimals(shop) { decimals = shop.prices && Number.isInteger(shop.prices.decimals) ? shop.prices.decimals : 2; }

const shown = (figure) => (figure ? figure.show : "");

function figuring(figure, name) {
  if (!figure || !figure.figuring) return null;
  const words = { start: "", add: "+", subtract: "-", times: "x", "down to": "down to", "up to": "up to", "at most": "at most", "at least": "at least" };
  return el("div", { class: "figuring" }, el("strong", {}, `${name}: ${figure.show}`),
    el("ol", {}, ...figure.figuring.map((step) => el("li", {}, `${words[step.operation]} ${step.words} = ${step.show}`))));
}

export function showSizes(sizing) {
  const keys = [["front_height", "front height"], ["front_width", "front width"], ["box_height", "box height"], ["box_width", "box width"], ["box_depth", "box depth"],
    ["inside_height", "inside height"], ["inside_width", "inside width"], ["inside_depth", "inside depth"], ["slide_length", "slide length"],
    ["slide_center", "slide center line"], ["set_back", "set-back"]];
  replace("sizes", table([["drawer", ""], ["front high", "n"], ["wide", "n"], ["box high", "n"], ["wide", "n"], ["deep", "n"], ["slide", "n"], ["slide center up", "n"]],
    sizing.drawers.map((drawer) => [drawer.path, shown(drawer.front_height), shown(drawer.front_width), shown(drawer.box_height), shown(drawer.box_width),
      shown(drawer.box_depth), shown(drawer.slide_length), shown(drawer.slide_center)])),
    ...sizing.cases.flatMap((one) => one.banks).filter((bank) => bank.freed).map((bank) => el("p", {}, `${bank.path}: ${bank.freed}`)),
    el("details", {}, el("summary", {}, "The arithmetic of every figure"),
      ...sizing.drawers.map((drawer) => el("details", {}, el("summary", {}, drawer.path), ...keys.map(([key, name]) => figuring(drawer[key], name))))),
    el("p", {}, `Lengths in ${sizing.units === "in" ? "inches" : "millimeters"}; ~ marks a figure that is not exact as shown.`));
}

export function showParts(parts) {
  replace("parts", table([["part", ""], ["pieces", "n"], ["what", ""], ["material", ""], ["length", "n"], ["width", "n"], ["grain", ""], ["marks", ""]],
    parts.parts.map((part) => [part.id, String(part.pieces.length), part.name, part.material, part.length.show, part.width.show, part.grain, part.pieces.join(" ")])),
    el("details", {}, el("summary", {}, "After cutting to size"), el("ul", {}, ...parts.parts.filter((part) => part.work.length).map((part) =>
      el("li", {}, `${part.id} ${part.name}: ${part.work.map((work) => work.words).join("; ")}`)))));
}

export function showCautions(faults) {
  const seen = new Map();
  for (const fault of faults.filter((one) => one.grade === "warning")) {
    const words = fault.cure ? `${fault.wrong}; ${fault.cure}` : fault.wrong;
    seen.set(words, [...(seen.get(words) || []), fault.address]);
  }
  replace("cautions", seen.size ? el("ul", {}, ...[...seen].map(([words, places]) => el("li", {}, `${places[0]}${places.length > 1 ? ` and ${places.length - 1} more` : ""}: ${words}`)))
    : el("p", {}, "None beyond the usual care at the saw."));
}

const bound = (cost, least, proved) => (proved ? "nothing cheaper exists" : `could still save at most ${money(cost - least)}`);

export function showPlan(plan) {
  replace("sheets", ...plan.layouts.materials.flatMap((material) => [
    el("h3", {}, `${material.material}: ${material.sheets.length} ${material.sheets.length === 1 ? "sheet" : "sheets"}, ${money(material.cost)}, ${bound(material.cost, material.lower_bound, material.proved)}`),
    el("details", {}, el("summary", {}, `Cut ladder: ${material.settings} settings besides trims, ${material.cuts} cuts`),
      el("ol", { class: "ladder" }, ...material.ladder.map((rung) => el("li", {}, `${rung.kind}, ${rung.tool}: ${rung.what}${rung.caution ? " Care: " + rung.caution : ""}`)))),
    ...plan.drawings.filter((drawing) => material.sheets.some((sheet) => sheet.name === drawing.name)).map((drawing) =>
      el("div", { class: "sheet-drawing" }, el("img", { alt: `Sheet ${drawing.name} with its parts`, src: "data:image/svg+xml," + encodeURIComponent(drawing.svg) }))),
  ]));
  const purchase = plan.purchase;
  replace("buy", table([["", "n"], ["what", ""], ["each", "n"], ["in all", "n"], ["from", ""]],
    [...purchase.purchase, ...purchase.hardware].map((line) => [String(line.count), line.what, money(line.each), money(line.total), line.supplier])),
    el("p", {}, `Sheets come to ${money(purchase.sheets_cost)}: ${bound(purchase.sheets_cost, purchase.lower_bound, purchase.proved)}. Money out now, in all: ${money(purchase.total)}.`),
    el("details", {}, el("summary", {}, "How the cost comes about"), ...[["Money out now", purchase.money_out], ["What the job uses", purchase.cost]].map(([title, lines]) =>
      el("div", {}, el("h3", {}, title), el("ul", {}, ...lines.map((line) => el("li", {}, `${line.name}: ${money(line.amount)}`,
        el("ul", {}, ...line.figuring.map((step) => el("li", {}, `${money(step.amount)} ${step.words}`))))))))));
}
