// tree.js - any part of a shop file as fields: values side by side, lists one below the other.
import { el } from "./dom.js";

const words = (key) => key.replaceAll("_", " ");

/** Fields of `node`, which lies at `address`; change(address, value) is called for each change, edit(address, list => ...) for lists. */
export function treeFields(node, address, change, edit) {
  const pairs = Object.entries(node).filter(([, value]) => typeof value !== "object");
  const deeper = Object.entries(node).filter(([, value]) => typeof value === "object" && value !== null);
  return el("div", { class: "tree" },
    el("div", { class: "pairs" }, ...pairs.map(([key, value]) => field(key, value, join(address, key), change))),
    ...deeper.map(([key, value]) => (Array.isArray(value) ? list(key, value, join(address, key), change, edit)
      : el("details", {}, el("summary", {}, words(key)), treeFields(value, join(address, key), change, edit)))));
}

const join = (address, key) => (address ? `${address}.${key}` : key);

function field(key, value, address, change) {
  if (typeof value === "boolean")
    return el("label", {}, el("input", { type: "checkbox", checked: value, onchange: (event) => change(address, event.target.checked) }), " " + words(key));
  return el("label", {}, words(key), el("input", { value: String(value), dataset: { fraction: /length|width|thickness|kerf|gap|trim|reveal/.test(key) ? "yes" : "" },
    onchange: (event) => change(address, typeof value === "number" && event.target.value.trim() !== "" && !isNaN(event.target.value) ? Number(event.target.value) : event.target.value) }));
}

function list(key, items, address, change, edit) {
  return el("details", {}, el("summary", {}, `${words(key)} (${items.length})`),
    ...items.map((item, i) => el("div", {}, typeof item === "object"
      ? el("details", {}, el("summary", {}, item.name || item.id || item.length || String(i + 1)), treeFields(item, `${address}[${i}]`, change, edit),
        el("button", { type: "button", onclick: () => edit(address, (all) => all.splice(i, 1)) }, "Remove"))
      : field(String(i + 1), item, `${address}[${i}]`, change))),
    items.length ? el("button", { type: "button", onclick: () => edit(address, (all) => all.push(structuredClone(all[all.length - 1]))) }, "Add one like the last") : null);
}
