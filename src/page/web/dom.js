// dom.js - makes elements; text always goes in as text.
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

/** A table with a head; columns is [[title, "n" for numbers]]. */
export function table(columns, rows) {
  return el("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": "Table" }, el("table", {},
    el("thead", {}, el("tr", {}, ...columns.map(([title, kind]) => el("th", { scope: "col", class: kind }, title)))),
    el("tbody", {}, ...rows.map((row) => el("tr", {}, ...row.map((cell, i) => el("td", { class: columns[i][1] }, cell)))))));
}

export function replace(id, ...children) {
  document.getElementById(id).replaceChildren(...children);
}
