// board.js - the drawing board: the sketch with what is chosen in it, and the fields of the chosen beneath.
import { drawersOf, bankOf, indexOf, isWithin, get } from "./address.js";
import { desk, nameOf, on, say, choose, chosen, edit } from "./desk.js";
import { words } from "./door.js";
import { act, byId, el, renew, whenSaid } from "./dom.js";
import { fieldsFor } from "./fields.js";
import { showFreed } from "./freed.js";
import { step, toStep, written } from "./lengths.js";
import { drawCase } from "./sketch.js";
import { size } from "./size.js";

const PAPER = 380; // pixels: a sketch 4 in high is hardly wider

// ---- the sketch ------------------------------------------------------------------------------------------------------

const sizedDrawers = (within) => desk.sizing.drawers.filter((drawer) => isWithin(drawer.address, within));

/** The sized case in which something is chosen; the first otherwise. */
function sizedCase() {
  const address = /^cases\[\d+\]/.exec(chosen());
  return (address && desk.sizing.cases.find((one) => one.address === address[0])) || desk.sizing.cases[0];
}

/** Draws the sketch as wide as its place, or as many pixels as it will have on paper. */
function showSketch(pixels = 0) {
  const sized = desk.sizing && sizedCase();
  byId("stale").hidden = !desk.stale || !sized;
  if (!sized) { renew(byId("case-tabs"), jobTab()); renew(byId("sketch")); showFreed([], ""); return; }
  renew(byId("case-tabs"), jobTab(), ...desk.sizing.cases.map((one) => tab(one.path, one.address, isWithin(chosen(), one.address))));
  putSketch(drawCase({ sized, drawers: sizedDrawers(sized.address), chosen: chosen(), stepUnits: step(), isTyped, choose, height: typeHeight, key: onKey, drag: dragLine, nudge: nudgeLine },
    pixels || byId("sketch").clientWidth || 600));
  byId("opening").textContent = openingWords(sized.address);
  showFreed(sized.banks, chosen());
}

/** The drawing on which a drag began stays, unseen, until it ends: a finger that loses what it touched would scroll the page instead. */
function putSketch(svg) {
  const place = byId("sketch");
  if (!drag) { renew(place, svg); return; }
  const [held, ...others] = place.children;
  held.classList.add("held");
  others.forEach((other) => other.remove());
  place.append(svg);
}

/** Was a height given for this front, or does it take a share of what is left? */
function isTyped(address) {
  const height = get(desk.history.job, `${address}.height`);
  return height !== undefined && (typeof height !== "object" || height.share === undefined);
}

const tab = (label, address, pressed) => act(label, () => choose(address), { "aria-pressed": String(pressed), dataset: { key: `tab ${address}` } });
const jobTab = () => tab("The job", "job", chosen() === "job");

function openingWords(address) {
  const one = get(desk.history.job, address) || {};
  const size = one.opening || one.outside || {};
  const said = [["width", "wide"], ["height", "high"], ["depth", "deep"]].filter(([key]) => size[key] !== undefined)
    .map(([key, word]) => `${[].concat(size[key]).join("; ")} ${word}`);
  return said.length ? `${one.opening ? "Opening" : "Outside"} as given: ${said.join(", ")}.` : "";
}

/** Keys on a front: arrows go to its neighbors, with Alt they move it; a digit or Enter types its height; Insert and Delete. */
function onKey(event, address) {
  const bank = bankOf(address), at = indexOf(address);
  const count = drawersOf(desk.history.job, bank).length;
  const by = { ArrowUp: -1, ArrowDown: 1 }[event.key];
  const to = at + by;
  if (by && to >= 0 && to < count) {
    if (event.altKey) edit((job) => { const list = drawersOf(job, bank); list.splice(to, 0, ...list.splice(at, 1)); });
    goTo(`${bank}.drawers[${to}]`);
  } else if (event.key === "Delete" && count > 1) edit((job) => drawersOf(job, bank).splice(at, 1));
  else if (event.key === "Insert") edit((job) => drawersOf(job, bank).splice(at + 1, 0, {}));
  else if (event.key === "Enter") typeHeight(address, "");
  else if (/^\d$/.test(event.key) && !event.ctrlKey && !event.metaKey && !event.altKey) typeHeight(address, event.key);
  else return;
  event.preventDefault();
}

function goTo(address) {
  choose(address);
  const front = byId("sketch").querySelector(`[data-address="${CSS.escape(address)}"]`);
  if (front) front.focus();
}

/** Lets a front's height be typed where it is written; empty makes it a share again. */
function typeHeight(address, first) {
  choose(address);
  const front = byId("sketch").querySelector(`[data-address="${CSS.escape(address)}"]`);
  const place = byId("typing");
  if (!front) return;
  const at = front.getBoundingClientRect(), board = place.parentElement.getBoundingClientRect();
  const height = get(desk.history.job, `${address}.height`);
  const input = el("input", { type: "text", value: typeof height === "string" || typeof height === "number" ? String(height) : "", inputmode: "decimal", autocomplete: "off",
    "aria-label": "Front height", dataset: { fraction: "yes" } });
  const close = () => { place.hidden = true; goTo(address); };
  whenSaid(input, (text) => { edit((job) => { const one = drawersOf(job, bankOf(address))[indexOf(address)]; if (text.trim()) one.height = text.trim(); else delete one.height; }); });
  input.addEventListener("focusout", () => { place.hidden = true; });
  input.addEventListener("keydown", (event) => { if (event.key === "Enter" || event.key === "Escape") close(); });
  place.replaceChildren(input);
  place.hidden = false;
  place.style.left = `${at.left - board.left + at.width / 2 - 56}px`;
  place.style.top = `${at.top - board.top + at.height / 2 - 20}px`;
  input.focus();
  input.select();
  if (first) input.value = first;
}

// ---- dragging --------------------------------------------------------------------------------------------------------

let drag = null; // { address, sizing when it began }
let nudge = null; // { address, sizing, steps }: keys may come faster than sizes

/** The line under a front dragged to so many steps from where it began. */
function dragLine(address, steps, done) {
  drag ??= { address, sizing: desk.sizing };
  const { sizing } = drag;
  if (done) drag = null;
  if (!done || steps !== 0) { moveLine(address, sizing, steps, done); return; }
  choose(address);
  size(desk.history.job); // as it was
}

/** The line moved by a key. */
function nudgeLine(address, steps) {
  const goesOn = nudge && nudge.address === address && nudge.sizing === desk.sizing;
  const next = { address, sizing: desk.sizing, steps: steps + (goesOn ? nudge.steps : 0) };
  moveLine(address, desk.sizing, next.steps, true);
  nudge = next;
}

/** The front's height is set. A next lower one that is set gives or takes; one with a share takes what is left, so that shares stay equal. */
function moveLine(address, { drawers }, steps, done) {
  const at = drawers.findIndex((drawer) => drawer.address === address);
  if (at < 0) return;
  const upper = toStep(drawers[at].front_height.value) + steps * step();
  const lower = drawers[at].front_height.value + drawers[at + 1].front_height.value - upper;
  if (upper <= 0 || lower <= 0) {
    if (done) size(desk.history.job); // as it was
    return;
  }
  const change = (job) => {
    const list = drawersOf(job, bankOf(address)), index = indexOf(address);
    list[index].height = written(upper);
    if (typeof list[index + 1].height === "string" || typeof list[index + 1].height === "number") list[index + 1].height = written(lower);
  };
  if (done) { edit(change); return; }
  const job = desk.history.job;
  change(job);
  size(job, true);
}

// ---- the fields of what is chosen ------------------------------------------------------------------------------------

function pathOf(address) {
  if (!desk.sizing) return "";
  const all = [...desk.sizing.cases, ...desk.sizing.cases.flatMap((one) => one.banks), ...desk.sizing.drawers];
  const found = all.find((one) => one.address === address);
  return found ? found.path : "";
}

/** A sized case, its outside and its opening as they would be written; null when it is not sized, or without depth. */
function bothWays(address) {
  const one = desk.sizing && desk.sizing.cases.find((sized) => sized.address === address);
  if (!one || one.inside_depth === undefined) return null;
  const as = (width, height, depth) => ({ width: written(toStep(width)), height: written(toStep(height)), depth: written(toStep(depth)) });
  return { outside: as(one.width, one.height, one.depth), opening: as(one.opening.width, one.opening.height, one.inside_depth) };
}

function showFields() {
  const job = desk.history.job;
  const errors = desk.faults.filter((fault) => fault.grade === "error");
  renew(byId("chosen"), ...fieldsFor({ job, shop: desk.shop, faults: errors, path: pathOf(chosen()), sized: bothWays(chosen()), choose: goTo, edit }, chosen()));
  const shown = [...document.querySelectorAll("[aria-invalid]")].map((node) => node.dataset.address);
  const elsewhere = errors.filter((fault) => !shown.some((address) => isWithin(fault.address, address)));
  if (elsewhere.length) say("This cannot be worked out yet.", el("ul", {}, ...elsewhere.map(faultLine)));
}

/** A fault that has no field on the screen now, with a way to its place. */
function faultLine(fault) {
  const place = /^cases\[\d+\](\.banks\[\d+\](\.drawers\[\d+\])?)?/.exec(fault.address);
  return el("li", {}, `${nameOf(fault.address)}: ${words(fault)} `, place ? act("Go there", () => choose(place[0])) : null);
}

function showBoard() {
  showSketch();
  showFields();
}

export function startBoard() {
  on("sized", showBoard);
  on("passing", () => showSketch());
  on("chosen", showBoard);
  on("changed", () => { nudge = null; });
  on("opened", () => { byId("typing").hidden = true; showFields(); });
  new ResizeObserver(() => { if (desk.sizing) showSketch(); }).observe(byId("sketch"));
  for (const [what, pixels] of [["beforeprint", PAPER], ["afterprint", 0]]) window.addEventListener(what, () => { if (desk.sizing) showSketch(pixels); });
  byId("chosen").addEventListener("submit", (event) => event.preventDefault());
}

