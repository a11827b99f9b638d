// dialog.js - asks in a dialog of the page: the browser keeps the focus in it, and Escape answers nothing.
import { el } from "./dom.js";

/** Asks with the given nodes between a title and buttons [[answer, words]]; the first button is Enter's. Answers { answer, said: FormData } or null. */
export function askIn(title, nodes, buttons) {
  const form = el("form", { method: "dialog" }, el("h2", { id: "dialog-title" }, title), ...nodes,
    el("div", { class: "tools" }, ...buttons.map(([answer, words], i) => el("button", { value: answer, class: i === 0 ? "strong" : "" }, words)),
      el("button", { value: "", formnovalidate: true }, "Cancel")));
  const dialog = el("dialog", { "aria-labelledby": "dialog-title" }, form);
  document.body.append(dialog);
  dialog.showModal();
  return new Promise((resolve) => dialog.addEventListener("close", () => {
    resolve(dialog.returnValue ? { answer: dialog.returnValue, said: new FormData(form) } : null);
    dialog.remove();
  }));
}

/** A field for a name that may be a file's: what the server takes, told while it is typed. */
export function nameField(value) {
  return el("p", {}, el("label", {}, "Name ", el("input", { name: "name", type: "text", value, required: true, maxlength: "80", pattern: "[\\p{L}\\d_\\-][\\p{L}\\d _\\-]*", autofocus: true,
    autocomplete: "off", title: "letters, digits, spaces, - and _" })), el("span", { class: "hint" }, "letters, digits, spaces, - and _"));
}
