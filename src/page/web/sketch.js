// sketch.js - the front elevation of a case as SVG, drawn from what the library sized. Everything in it can be chosen by mouse, finger or key.
import { bankOf } from "./address.js";

const NS = "http://www.w3.org/2000/svg";
const UNIT = 16000; // of the library's lengths in a millimeter
const LEAST_TYPE = 12; // pixels
const TARGET = 24; // pixels: what a finger can hit (WCAG 2.2, 2.5.8)

function make(name, attributes, text) {
  const node = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  if (text !== undefined) node.textContent = text;
  return node;
}

/** A rectangle of the elevation (y up from the floor) in the drawing (y down), in millimeters. */
function place(at, height) {
  return { x: at.x / UNIT, y: (height - at.y - at.height) / UNIT, width: at.width / UNIT, height: at.height / UNIT };
}

/** Makes a shape one that can be chosen: by click, Enter or space. */
function button(node, address, label, sketch) {
  node.setAttribute("tabindex", "0");
  node.setAttribute("role", "button");
  node.setAttribute("aria-label", label);
  node.setAttribute("aria-pressed", String(sketch.chosen === address));
  node.dataset.key = `sketch ${address}`;
  node.addEventListener("click", () => sketch.choose(address));
  node.addEventListener("keydown", (event) => {
    if (event.key !== " " && (event.key !== "Enter" || event.defaultPrevented)) return;
    event.preventDefault();
    sketch.choose(address);
  });
  return node;
}

/**
 * Draws one sized case, `pixels` wide. sketch: { sized, drawers, chosen, stepUnits, isTyped(address), choose(address), height(address, first), key(event, address),
 * drag(address, steps, done), nudge(address, steps) }; height asks for a front's height to be typed; the last two take the lower edge of a front down
 * by steps from where the drag began, or from where it is.
 */
export function drawCase(sketch, pixels) {
  const { sized, drawers } = sketch;
  const width = sized.width / UNIT, height = sized.height / UNIT;
  const margin = Math.max(width, height) * 0.03;
  const pixel = (width + 2 * margin) / pixels; // millimeters in a pixel, as long as the drawing is as wide as its place
  const type = Math.max(Math.max(width, height) / 48, LEAST_TYPE * pixel);
  const svg = make("svg", { viewBox: `${-margin} ${-margin} ${width + 2 * margin} ${height + 1.5 * margin}`, role: "group", "aria-label": `Front elevation of ${sized.path}` });
  const line = { "stroke-width": 1.2 * pixel };
  svg.append(button(make("rect", { ...line, class: "case", x: 0, y: 0, width, height }), sized.address, `Case ${sized.path}`, sketch));
  for (const bank of sized.banks) {
    svg.append(button(make("rect", { ...line, class: "opening", ...place(bank.opening, sized.height) }), bank.address, `Bank ${bank.path}`, sketch));
    for (const rail of bank.rails) svg.append(make("rect", { ...line, class: "rail", ...place(rail, sized.height) }));
  }
  for (const drawer of drawers) drawFront(svg, drawer, type, pixel, sketch);
  for (const [i, drawer] of drawers.entries()) if (drawers[i + 1] && bankOf(drawers[i + 1].address) === bankOf(drawer.address)) drawGrip(svg, drawer, drawers[i + 1], pixel, sketch);
  svg.append(make("line", { x1: -margin, x2: width + margin, y1: height, y2: height, class: "floor", "stroke-width": 2.5 * pixel }));
  return svg;
}

function drawFront(svg, drawer, type, pixel, sketch) {
  if (!drawer.front || !(drawer.front.height > 0)) return;
  const at = place(drawer.front, sketch.sized.height);
  const show = drawer.front_height ? drawer.front_height.show : "";
  const front = button(make("rect", { "stroke-width": 1.2 * pixel, class: "front", ...at }), drawer.address, `Drawer ${drawer.path}, front ${show} high${sketch.isTyped(drawer.address) ? ", as typed" : ""}`, sketch);
  front.dataset.address = drawer.address;
  front.addEventListener("keydown", (event) => sketch.key(event, drawer.address));
  front.addEventListener("dblclick", () => sketch.height(drawer.address, ""));
  svg.append(front);
  if (drawer.box && at.height > 2.5 * type) svg.append(make("rect", { "stroke-width": 0.8 * pixel, class: "box", ...place(drawer.box, sketch.sized.height) }));
  const size = Math.min(type, at.height * 0.7);
  const words = `${drawer.path.split("/").pop()}: ${show}`;
  const fits = words.length * size * 0.62 < at.width;
  svg.append(make("text", { x: at.x + at.width / 2, y: at.y + at.height / 2 + size * 0.36, "text-anchor": "middle", "font-size": size, ...(sketch.isTyped(drawer.address) ? { class: "typed" } : {}) }, fits ? words : show));
}

/** The line between a front and the next lower one: dragged, or moved by arrow keys, in steps of the shop's rounding. */
function drawGrip(svg, drawer, below, pixel, sketch) {
  if (!drawer.front || !below.front || !drawer.front_height) return;
  const at = place(drawer.front, sketch.sized.height);
  const least = Math.min(drawer.front.height, below.front.height) / UNIT;
  const thick = Math.min(TARGET * pixel, least * 0.8);
  const middle = at.y + at.height + (drawer.front.y - below.front.y - below.front.height) / UNIT / 2;
  const grip = make("rect", { class: "grip", x: at.x, y: middle - thick / 2, width: at.width, height: thick, tabindex: "0", role: "slider", "aria-orientation": "vertical",
    "aria-label": `Line under ${drawer.path}`, "aria-valuetext": `${drawer.front_height.show} above it`, "aria-valuemin": 0,
    "aria-valuemax": Math.round((drawer.front_height.value + below.front_height.value) / sketch.stepUnits), "aria-valuenow": Math.round(drawer.front_height.value / sketch.stepUnits) });
  grip.dataset.key = `grip ${drawer.address}`;
  grip.dataset.grip = drawer.address;
  grip.addEventListener("keydown", (event) => {
    const by = { ArrowDown: 1, ArrowUp: -1, PageDown: 8, PageUp: -8 }[event.key];
    if (by) { event.preventDefault(); sketch.nudge(drawer.address, by); }
  });
  grip.addEventListener("touchstart", (event) => event.preventDefault(), { passive: false }); // touch-action does not reach shapes within an SVG
  grip.addEventListener("pointerdown", (event) => startDrag(event, svg, drawer.address, sketch));
  const handle = Math.min(at.width * 0.12, 40 * pixel);
  svg.append(make("line", { class: "handle", "stroke-width": 3 * pixel, x1: at.x + at.width - 1.5 * handle, x2: at.x + at.width - 0.5 * handle, y1: middle, y2: middle }), grip);
}

/** Follows the pointer until it is let go. The drawing is made anew meanwhile, so its place takes the pointer, which stays. */
function startDrag(event, svg, address, sketch) {
  event.preventDefault();
  const scale = svg.getScreenCTM().a; // pixels in a millimeter
  const from = event.clientY;
  const steps = (now) => Math.round((((now - from) / scale) * UNIT) / sketch.stepUnits);
  const ends = new AbortController();
  const place = svg.parentElement;
  const on = (name, run) => place.addEventListener(name, (moved) => { if (moved.pointerId === event.pointerId) run(moved); }, { signal: ends.signal });
  place.setPointerCapture(event.pointerId);
  on("pointermove", (moved) => sketch.drag(address, steps(moved.clientY), false));
  on("pointerup", (moved) => { ends.abort(); sketch.drag(address, steps(moved.clientY), true); });
  on("pointercancel", () => { ends.abort(); sketch.drag(address, 0, true); });
}
