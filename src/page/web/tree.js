// tree.js - any part of a shop file as fields: values side by side, lists one below the other, each fault at its field.
import { act, el, unfold, whenSaid } from "./dom.js";
import { withFaults } from "./fields.js";

const LENGTHS = /length|width|thickness|kerf|gap|trim|reveal|step|clearance|depth|groove|grow|less|rip_|crosscut_|cut_|edge_/;
const words = (key) => key.replaceAll("_", " ");
const join = (address, key) => (address ? `${address}.${key}` : key);

/** Fields of `node`, which lies at `address` of the shop. to: { faults, set(address, value), list(address, run(list)) }. */
export function treeFields(node, address, to) {
  const entries = Object.entries(node);
  const plain = entries.filter(([, value]) => typeof value !== "object");
  const deeper = entries.filter(([, value]) => typeof value === "object" && value !== null);
  return el("div", { class: "tree" },
    el("div", { class: "pairs" }, ...plain.map(([key, value]) => field(words(key), value, join(address, key), to))),
    ...deeper.map(([key, value]) => (Array.isArray(value) ? list(words(key), value, join(address, key), to)
      : unfold(`shop ${join(address, key)}`, words(key), () => [treeFields(value, join(address, key), to)]))));
}

function field(label, value, address, to) {
  if (typeof value === "boolean")
    return withFaults(label, el("input", { type: "checkbox", checked: value, onchange: (event) => to.set(address, event.target.checked) }), to.faults, `shop.${address}`);
  const isNumber = typeof value === "number";
  const input = el("input", { type: "text", value: String(value), autocomplete: "off", dataset: { fraction: LENGTHS.test(address.replace(/.*\./, "")) ? "yes" : "" } });
  whenSaid(input, (text) => to.set(address, isNumber && text.trim() !== "" && !isNaN(text) ? Number(text) : text.trim()));
  return withFaults(label, input, to.faults, `shop.${address}`);
}

function list(label, items, address, to) {
  return unfold(`shop ${address}`, `${label} (${items.length})`, () => [
    ...items.map((item, i) => (typeof item !== "object" ? field(String(i + 1), item, `${address}[${i}]`, to)
      : unfold(`shop ${address}[${i}]`, item.name || item.id || item.length || String(i + 1), () => [treeFields(item, `${address}[${i}]`, to),
        act("Remove", () => to.list(address, (all) => all.splice(i, 1)), { "aria-label": `Remove ${item.name || item.id || item.length || i + 1}` })]))),
    items.length ? act("Add one like the last", () => to.list(address, (all) => all.push(structuredClone(all[all.length - 1]))), { dataset: { key: `add ${address}` } }) : null,
  ]);
}
