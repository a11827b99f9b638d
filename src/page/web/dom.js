// dom.js - makes elements, and makes them anew without taking away what is being typed. Text always goes in as text.
export const byId = (id) => document.getElementById(id);

export function el(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key === "dataset") Object.assign(node.dataset, value);
    else if (value === true) node.setAttribute(key, "");
    else if (value !== false && value !== undefined && value !== null) node.setAttribute(key, value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
}

export const act = (words, run, attributes = {}) => el("button", { type: "button", onclick: run, ...attributes }, words);

// ---- making anew ---------------------------------------------------------------------------------------------------

let renewing = false;

const isText = (input) => typeof input.setSelectionRange === "function" && input.type === "text";

/** Puts new children in the place of the old. What had the focus has it again (by data-key), with what was selected in it, and text that is being typed
 * stays. */
export function renew(parent, ...children) {
  const old = document.activeElement;
  const key = parent.contains(old) ? old.dataset.key : undefined;
  const text = key !== undefined && isText(old) ? { value: old.value, typed: old.value !== old.defaultValue, from: old.selectionStart, to: old.selectionEnd } : null;
  renewing = true;
  parent.replaceChildren(...children.filter((child) => child));
  const again = key === undefined ? null : parent.querySelector(`[data-key="${CSS.escape(key)}"]`);
  if (again) again.focus({ preventScroll: true });
  if (again && text) {
    if (text.typed) again.value = text.value;
    again.setSelectionRange(text.from, text.to);
  }
  renewing = false;
}

/** Calls say(text) when a changed text is left, entered, or given a fraction. Escape takes the change back. */
export function whenSaid(input, say) {
  const tell = () => {
    if (renewing || input.value === input.defaultValue) return;
    input.defaultValue = input.value;
    say(input.value);
  };
  input.addEventListener("focusout", tell);
  input.addEventListener("said", tell);
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter") { event.preventDefault(); tell(); }
    if (event.key === "Escape") input.value = input.defaultValue;
  });
  return input;
}

// ---- tables, and what unfolds ----------------------------------------------------------------------------------------

/** A table with a head; columns is [[title, "n" for numbers]]. On a narrow screen each row becomes a small list (page.css), so cells carry their titles. */
export function table(name, columns, rows) {
  return el("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": name, dataset: { key: name } }, el("table", { role: "table", "aria-label": name },
    el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, ...columns.map(([title, kind]) => el("th", { scope: "col", role: "columnheader", class: kind }, title)))),
    el("tbody", { role: "rowgroup" }, ...rows.map((row) => el("tr", { role: "row" },
      ...row.map((cell, i) => el("td", { role: "cell", class: columns[i][1], dataset: { title: columns[i][0] } }, cell)))))));
}

const unfolded = new Set();

/** A part that unfolds; its content is made when it is opened. It stays open, by its key, when it is made anew. */
export function unfold(key, summary, make) {
  const node = el("details", { open: unfolded.has(key) }, el("summary", { dataset: { key } }, summary));
  const fill = () => { if (node.open && node.children.length === 1) node.append(...make().filter((child) => child)); };
  fill();
  node.addEventListener("toggle", () => {
    if (node.open) unfolded.add(key);
    else unfolded.delete(key);
    fill();
  });
  return node;
}
