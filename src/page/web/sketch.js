// sketch.js - the front elevation of a case as SVG, drawn from what the library sized. Everything in it can be chosen by mouse, finger or key.
const NS = "http://www.w3.org/2000/svg";
const UNIT = 16000; // of the library's lengths in a millimeter

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

function button(node, label, pressed, choose) {
  node.setAttribute("tabindex", "0");
  node.setAttribute("role", "button");
  node.setAttribute("aria-label", label);
  node.setAttribute("aria-pressed", String(pressed));
  node.addEventListener("click", choose);
  node.addEventListener("keydown", (event) => {
    if (event.key === "Enter" || event.key === " ") { event.preventDefault(); choose(); }
  });
  return node;
}

/** Draws one sized case. `tell` has choose(address), move(address, steps, done): the lower edge of a front moved down by steps. */
export function drawCase(sized, drawers, chosen, stepUnits, tell) {
  const width = sized.width / UNIT, height = sized.height / UNIT;
  const margin = Math.max(width, height) * 0.09;
  const type = Math.max(width, height) / 42;
  const svg = make("svg", { viewBox: `${-margin} ${-margin * 0.5} ${width + 2.4 * margin} ${height + margin * 1.3}`, role: "group",
    "aria-label": `Front elevation of ${sized.path}` });
  const line = { "stroke-width": type / 9 };
  svg.append(button(make("rect", { ...line, class: "case", x: 0, y: 0, width, height }), `Case ${sized.path}`, chosen === sized.address,
    () => tell.choose(sized.address)));
  for (const bank of sized.banks) {
    svg.append(button(make("rect", { ...line, class: "opening", ...place(bank.opening, sized.height) }), `Bank ${bank.path}`,
      chosen === bank.address, () => tell.choose(bank.address)));
    for (const rail of bank.rails) svg.append(make("rect", { ...line, class: "rail", ...place(rail, sized.height) }));
  }
  for (const drawer of drawers) drawDrawer(svg, sized, drawer, chosen, type, line, tell);
  for (const drawer of drawers) drawGrip(svg, sized, drawer, drawers, type, stepUnits, tell);
  svg.append(make("line", { x1: -margin * 0.6, x2: width + margin * 0.6, y1: height, y2: height, stroke: "currentColor", "stroke-width": type / 6 }));
  return svg;
}

function drawDrawer(svg, sized, drawer, chosen, type, line, tell) {
  if (!drawer.front || !(drawer.front.height > 0)) return;
  const at = place(drawer.front, sized.height);
  const show = drawer.front_height ? drawer.front_height.show : "";
  const rect = button(make("rect", { ...line, class: "front", ...at }), `Drawer ${drawer.path}, front ${show} high`, chosen === drawer.address,
    () => tell.choose(drawer.address));
  rect.dataset.address = drawer.address;
  rect.addEventListener("keydown", (event) => tell.key(event, drawer.address));
  svg.append(rect);
  const size = Math.min(type * 1.15, at.height * 0.62);
  if (drawer.box && at.height > type * 2) svg.append(make("rect", { "stroke-width": type / 16, class: "box", ...place(drawer.box, sized.height) }));
  svg.append(make("text", { x: at.x + at.width / 2, y: at.y + at.height / 2 + size * 0.36, "text-anchor": "middle", "font-size": size, class: "on" },
    `${drawer.path.split("/").pop()}: ${show}`));
}

/** The line between a front and the next lower one: dragged, or moved by arrow keys, in steps of the shop's rounding. */
function drawGrip(svg, sized, drawer, drawers, type, stepUnits, tell) {
  const below = drawers[drawers.indexOf(drawer) + 1];
  if (!below || !drawer.front || below.address.replace(/\d+\]$/, "") !== drawer.address.replace(/\d+\]$/, "")) return;
  const at = place(drawer.front, sized.height);
  const thick = Math.max(type * 0.9, 6);
  const grip = make("rect", { class: "grip", x: at.x, y: at.y + at.height - thick / 2, width: at.width, height: thick, tabindex: "0", role: "slider",
    "aria-orientation": "vertical", "aria-label": `Line under ${drawer.path}`, "aria-valuetext": drawer.front_height ? drawer.front_height.show : "",
    "aria-valuenow": drawer.front_height ? drawer.front_height.value / stepUnits : 0 });
  grip.dataset.grip = drawer.address;
  grip.addEventListener("keydown", (event) => {
    const by = { ArrowDown: 1, ArrowUp: -1, PageDown: 8, PageUp: -8 }[event.key];
    if (by) { event.preventDefault(); tell.move(drawer.address, by, true); }
  });
  grip.addEventListener("pointerdown", (event) => startDrag(event, grip, svg, drawer, stepUnits, tell));
  svg.append(grip);
}

function startDrag(event, grip, svg, drawer, stepUnits, tell) {
  event.preventDefault();
  const scale = svg.getScreenCTM().a; // pixels in a millimeter
  const from = event.clientY;
  const steps = (now) => Math.round(((now - from) / scale) * UNIT / stepUnits);
  const onMove = (moved) => tell.move(drawer.address, steps(moved.clientY), false);
  const onEnd = (ended) => {
    window.removeEventListener("pointermove", onMove);
    window.removeEventListener("pointerup", onEnd);
    window.removeEventListener("pointercancel", onEnd);
    tell.move(drawer.address, steps(ended.clientY), true);
  };
  window.addEventListener("pointermove", onMove);
  window.addEventListener("pointerup", onEnd);
  window.addEventListener("pointercancel", onEnd);
}
