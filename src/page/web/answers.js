// answers.js - what the library reckoned, in the order of the work. Nothing is reckoned here.
import { byId, el, renew, table, unfold } from "./dom.js";
import { words } from "./door.js";
import { nameOf, on } from "./desk.js";
import { nearMisses } from "./leeway.js";
import { bound, money, moneyMark } from "./money.js";

/** A figure; where leeway chose another than was preferred, that one beside it. */
function shown(figure, preferred) {
  const is = figure ? figure.show : "", was = preferred ? preferred.show : "";
  return is === was ? is : el("span", {}, el("strong", {}, is), el("span", { class: "was" }, ` preferred ${was}`));
}

// ---- fronts and boxes ------------------------------------------------------------------------------------------------

const SIGNS = { start: "", add: "+ ", subtract: "- ", times: "x ", "down to": "down to ", "up to": "up to ", "at most": "at most ", "at least": "at least " };

function figuring(name, figure) {
  if (!figure || !figure.figuring) return null;
  return el("div", { class: "figuring" }, el("strong", {}, `${name}: ${figure.show}`),
    el("ol", {}, ...figure.figuring.map((step) => el("li", {}, `${SIGNS[step.operation] ?? step.operation + " "}${step.words} = ${step.show}`))));
}

const figures = (thing) => Object.entries(thing).map(([key, figure]) => figuring(key.replaceAll("_", " "), figure));

/** Sizes of a job; `preferred` are the same, or those before leeway chose others. */
export function showSizes(sizing, preferred) {
  const banks = sizing.cases.flatMap((one) => one.banks);
  renew(byId("sizes"),
    table("Fronts and boxes", [["drawer", ""], ["front high", "n"], ["front wide", "n"], ["box high", "n"], ["box wide", "n"], ["box deep", "n"], ["slide", "n"], ["slide center up", "n"]],
      sizing.drawers.map((drawer, i) => [drawer.path, ...["front_height", "front_width", "box_height", "box_width", "box_depth", "slide_length", "slide_center"]
        .map((key) => shown(drawer[key], preferred.drawers[i][key]))])),
    ...banks.filter((bank) => bank.freed).map((bank) => el("p", {}, `${bank.path}: ${bank.freed}.`)),
    unfold("figuring", "The arithmetic of every figure", () => [...banks.map((bank) => unfold(`figuring ${bank.address}`, bank.path, () => figures(bank))),
      ...sizing.drawers.map((drawer) => unfold(`figuring ${drawer.address}`, drawer.path, () => figures(drawer)))]),
    el("p", { class: "hint" }, `Lengths in ${sizing.units === "in" ? "inches" : "millimeters"}; ~ marks a figure that is not exact as shown.`));
}

// ---- parts -----------------------------------------------------------------------------------------------------------

/** Marks that break between themselves only, never at their hyphens. */
const marks = (pieces) => el("span", {}, ...pieces.flatMap((mark, i) => [i ? " " : "", el("span", { class: "mark" }, mark)]));

const sizesOf = (parts) => new Map(parts.parts.flatMap((part) => part.pieces.map((mark) => [mark, part])));

/** Parts of a job; `preferred` as for sizes. Parts that leeway changed may be gathered otherwise, so pieces are compared by their marks. */
export function showParts(parts, preferred) {
  const before = sizesOf(preferred);
  const was = (part, key) => { const one = before.get(part.pieces[0]); return one && one[key]; };
  renew(byId("parts"), table("Parts", [["part", ""], ["pieces", "n"], ["what", ""], ["material", ""], ["length", "n"], ["width", "n"], ["grain", ""], ["marks", ""]],
    parts.parts.map((part) => [part.id, String(part.pieces.length), part.name, part.material, shown(part.length, was(part, "length")), shown(part.width, was(part, "width")), part.grain, marks(part.pieces)])),
    unfold("work", "After cutting to size", () => [el("ul", {}, ...parts.parts.filter((part) => part.work.length).map((part) =>
      el("li", {}, `${part.id} ${part.name}: ${part.work.map((work) => work.words).join("; ")}`)))]));
}

// ---- cautions --------------------------------------------------------------------------------------------------------

export function showCautions(faults) {
  const places = new Map();
  for (const fault of faults.filter((one) => one.grade === "warning")) places.set(words(fault), [...(places.get(words(fault)) || []), fault.address]);
  const line = ([told, at]) => el("li", {}, `${nameOf(at[0])}${at.length > 1 ? ` and ${at.length - 1} more` : ""}: ${told}.`);
  renew(byId("cautions"), places.size ? el("ul", {}, ...[...places].map(line)) : el("p", {}, "None beyond the usual care at the saw."));
}

// ---- what to buy, the cost ---------------------------------------------------------------------------------------------

function costLines(title, lines) {
  return el("div", {}, el("h3", {}, title), el("ul", {}, ...lines.map((line) => el("li", {}, `${line.name}: ${money(line.amount)}`,
    el("ul", {}, ...line.figuring.map((step) => el("li", {}, `${money(step.amount)}: ${step.words}`)))))));
}

export function showBuy(purchase) {
  renew(byId("buy"),
    table("Shopping list", [["count", "n"], ["what", ""], ["each", "n"], ["in all", "n"], ["from", ""]],
      [...purchase.purchase, ...purchase.hardware].map((line) => [String(line.count), line.what, money(line.each), money(line.total), line.supplier])),
    el("ul", {}, ...purchase.before_paying.map((words) => el("li", {}, words))),
    el("p", {}, `Sheets come to ${moneyMark(purchase.sheets_cost)}: ${bound(purchase.sheets_cost, purchase.lower_bound, purchase.proved)}. `, el("strong", {}, `Money out now, in all: ${moneyMark(purchase.total)}.`)),
    ...nearMisses(purchase.near),
    unfold("cost", "How the cost comes about", () => [costLines("Money out now", purchase.money_out), costLines("What the job uses", purchase.cost)]));
}

export function startAnswers() {
  on("sized", (answer) => {
    if (answer.sizing) showSizes(answer.sizing, answer.sizing);
    if (answer.parts) showParts(answer.parts, answer.parts);
    showCautions(answer.faults);
  });
}
