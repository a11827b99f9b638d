// answers.js - what the library reckoned, in the order of the work. Nothing is reckoned here.
import { byId, el, renew, table, unfold } from "./dom.js";
import { words } from "./door.js";
import { on } from "./desk.js";
import { bound, money, moneyMark } from "./money.js";

const shown = (figure) => (figure ? figure.show : "");

// ---- fronts and boxes ------------------------------------------------------------------------------------------------

const SIGNS = { start: "", add: "+ ", subtract: "- ", times: "x ", "down to": "down to ", "up to": "up to ", "at most": "at most ", "at least": "at least " };

function figuring(name, figure) {
  if (!figure || !figure.figuring) return null;
  return el("div", { class: "figuring" }, el("strong", {}, `${name}: ${figure.show}`),
    el("ol", {}, ...figure.figuring.map((step) => el("li", {}, `${SIGNS[step.operation] ?? step.operation + " "}${step.words} = ${step.show}`))));
}

const figures = (thing) => Object.entries(thing).map(([key, figure]) => figuring(key.replaceAll("_", " "), figure));

export function showSizes(sizing) {
  const banks = sizing.cases.flatMap((one) => one.banks);
  renew(byId("sizes"),
    table("Fronts and boxes", [["drawer", ""], ["front high", "n"], ["front wide", "n"], ["box high", "n"], ["box wide", "n"], ["box deep", "n"], ["slide", "n"], ["slide center up", "n"]],
      sizing.drawers.map((drawer) => [drawer.path, ...["front_height", "front_width", "box_height", "box_width", "box_depth", "slide_length", "slide_center"].map((key) => shown(drawer[key]))])),
    ...banks.filter((bank) => bank.freed).map((bank) => el("p", {}, `${bank.path}: ${bank.freed}.`)),
    unfold("figuring", "The arithmetic of every figure", () => [...banks.map((bank) => unfold(`figuring ${bank.address}`, bank.path, () => figures(bank))),
      ...sizing.drawers.map((drawer) => unfold(`figuring ${drawer.address}`, drawer.path, () => figures(drawer)))]),
    el("p", { class: "hint" }, `Lengths in ${sizing.units === "in" ? "inches" : "millimeters"}; ~ marks a figure that is not exact as shown.`));
}

// ---- parts -----------------------------------------------------------------------------------------------------------

export function showParts(parts) {
  renew(byId("parts"), table("Parts", [["part", ""], ["pieces", "n"], ["what", ""], ["material", ""], ["length", "n"], ["width", "n"], ["grain", ""], ["marks", ""]],
    parts.parts.map((part) => [part.id, String(part.pieces.length), part.name, part.material, part.length.show, part.width.show, part.grain, part.pieces.join(" ")])),
    unfold("work", "After cutting to size", () => [el("ul", {}, ...parts.parts.filter((part) => part.work.length).map((part) =>
      el("li", {}, `${part.id} ${part.name}: ${part.work.map((work) => work.words).join("; ")}`)))]));
}

// ---- cautions --------------------------------------------------------------------------------------------------------

export function showCautions(faults) {
  const places = new Map();
  for (const fault of faults.filter((one) => one.grade === "warning")) places.set(words(fault), [...(places.get(words(fault)) || []), fault.address]);
  const line = ([told, at]) => el("li", {}, `${at[0]}${at.length > 1 ? ` and ${at.length - 1} more` : ""}: ${told}.`);
  renew(byId("cautions"), places.size ? el("ul", {}, ...[...places].map(line)) : el("p", {}, "None beyond the usual care at the saw."));
}

// ---- sheets, what to buy, the cost -----------------------------------------------------------------------------------

const many = (count, one) => `${count} ${one}${count === 1 ? "" : "s"}`;

function materialSheets(material, drawings) {
  return [
    el("h3", {}, `${material.material}: ${many(material.sheets.length, "sheet")}, ${money(material.cost)}, ${bound(material.cost, material.lower_bound, material.proved)}`),
    ...drawings.filter((drawing) => material.sheets.some((sheet) => sheet.name === drawing.name)).map((drawing) =>
      el("div", { class: "sheet-drawing", tabindex: "0", role: "region", "aria-label": `Drawing of sheet ${drawing.name}`, dataset: { key: `drawing ${drawing.name}` } },
        el("img", { alt: `Sheet ${drawing.name} with its parts; the cut ladder says the same in words`, src: "data:image/svg+xml," + encodeURIComponent(drawing.svg) }))),
    unfold(`ladder ${material.material}`, `Cut ladder: ${many(material.settings, "setting")} besides trims, ${many(material.cuts, "cut")}`, () =>
      [el("ol", { class: "ladder" }, ...material.ladder.map((rung) => el("li", {}, `${rung.kind}, ${rung.tool}: ${rung.what}.${rung.caution ? ` Care: ${rung.caution}.` : ""}`)))]),
  ];
}

function costLines(title, lines) {
  return el("div", {}, el("h3", {}, title), el("ul", {}, ...lines.map((line) => el("li", {}, `${line.name}: ${money(line.amount)}`,
    el("ul", {}, ...line.figuring.map((step) => el("li", {}, `${money(step.amount)}: ${step.words}`)))))));
}

/** Sizes that gave to save a sheet: the plan has them, the tables above have what was preferred. */
function leewayWords([words, ...changes]) {
  if (!words) return null;
  return el("div", {}, el("p", {}, words), changes.length ? el("ul", {}, ...changes.map((change) => el("li", {}, change))) : null,
    changes.length ? el("p", { class: "hint" }, "The sheets, the packet and plan.json have these sizes; fronts, boxes and parts above are shown as preferred.") : null);
}

export function showPlan({ layouts, purchase, drawings, leeway }) {
  renew(byId("sheets"), leewayWords(leeway), ...layouts.materials.flatMap((material) => materialSheets(material, drawings)));
  renew(byId("buy"),
    table("Shopping list", [["count", "n"], ["what", ""], ["each", "n"], ["in all", "n"], ["from", ""]],
      [...purchase.purchase, ...purchase.hardware].map((line) => [String(line.count), line.what, money(line.each), money(line.total), line.supplier])),
    el("p", {}, `Sheets come to ${moneyMark(purchase.sheets_cost)}: ${bound(purchase.sheets_cost, purchase.lower_bound, purchase.proved)}. `, el("strong", {}, `Money out now, in all: ${moneyMark(purchase.total)}.`)),
    unfold("cost", "How the cost comes about", () => [costLines("Money out now", purchase.money_out), costLines("What the job uses", purchase.cost)]));
}

export function startAnswers() {
  on("sized", (answer) => {
    if (answer.sizing) showSizes(answer.sizing);
    if (answer.parts) showParts(answer.parts);
    showCautions(answer.faults);
  });
}
