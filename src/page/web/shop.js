// shop.js - the shop that the job works from: in a file of its own, kept as soon as it is changed, or in the job itself. Changes of a file have an undo of
// their own, since the file is every job's; those of a shop in the job are undone with the job.
import { get, set } from "./address.js";
import { ask } from "./door.js";
import { attempt, desk, edit, note, on, tell, textOf } from "./desk.js";
import { askIn } from "./dialog.js";
import { byId, el, renew } from "./dom.js";
import { History } from "./history.js";
import { setMoney } from "./money.js";
import { size } from "./size.js";
import { treeFields } from "./tree.js";

let history = new History({}); // of the file's content

export async function openShop(job) {
  const id = typeof job.shop === "string" ? job.shop.replace(/\.json$/, "") : "";
  const file = id ? await attempt(() => ask("file", { id })) : null;
  const shop = file ? JSON.parse(file.text) : typeof job.shop === "object" && job.shop !== null ? job.shop : {};
  if (id !== desk.shopId || textOf(shop) !== textOf(history.job)) history = new History(shop);
  Object.assign(desk, { shopId: id, shop, shopVersion: file ? file.version : "" });
  setMoney(shop.prices || {});
}

function showShop() {
  byId("shop-where").textContent = desk.shopId ? `Kept in ${desk.shopId}.json for every job that names it; a change is saved there at once.` : "Kept in this job, and undone with it.";
  byId("shop-tools").hidden = !desk.shopId;
  byId("shop-undo").disabled = !history.canUndo;
  byId("shop-redo").disabled = !history.canRedo;
  const faults = desk.faults.filter((fault) => fault.grade === "error");
  renew(byId("shop"), treeFields(desk.shop, "", { faults, set: (address, value) => editShop((shop) => set(shop, address, value)), list: (address, run) => editShop((shop) => run(get(shop, address))) }));
}

// ---- changes ---------------------------------------------------------------------------------------------------------

let keeping = Promise.resolve(); // one after the other: each change is made to what the one before has left

const inTurn = (work) => { keeping = keeping.then(() => attempt(work)); return keeping; };

/** Changes the shop where it is kept: in its own file at once, or in the job. */
export function editShop(run) {
  if (!desk.shopId) {
    edit((job) => { job.shop = job.shop || {}; run(job.shop); desk.shop = job.shop; });
    return Promise.resolve();
  }
  return inTurn(async () => {
    const shop = history.job;
    run(shop);
    if (history.push(shop)) await keep(() => history.undo());
  });
}

const shopUndo = () => inTurn(async () => { if (history.canUndo) { history.undo(); await keep(() => history.redo()); } });
const shopRedo = () => inTurn(async () => { if (history.canRedo) { history.redo(); await keep(() => history.undo()); } });

/** Saves the state at hand; back() takes it out of hand again when it is not to be saved. */
async function keep(back) {
  try {
    await write(desk.shopVersion);
  } catch (error) {
    if (error.code !== "changed-on-disk") { back(); throw error; }
    await settle(back);
  }
  await showKept();
}

async function write(version) {
  const shop = history.job;
  const answer = await ask("save", { id: desk.shopId, version }, textOf(shop));
  Object.assign(desk, { shop, shopVersion: answer.version });
}

/** The file has been changed by another program or tab since it was read: the maker decides. */
async function settle(back) {
  const told = await askIn(`${desk.shopId}.json has changed on the disk`, [el("p", {}, "Another program or another tab has saved this shop since it was read here. What shall be done?")],
    [["theirs", "Open theirs (undo brings mine back)"], ["mine", "Write mine over it"]]);
  const file = await ask("file", { id: desk.shopId });
  if (told && told.answer === "mine") { await write(file.version); return; }
  if (!told) back();
  const theirs = JSON.parse(file.text);
  history.push(theirs);
  Object.assign(desk, { shop: theirs, shopVersion: file.version });
  note("");
}

async function showKept() {
  setMoney(desk.shop.prices || {});
  await size(desk.history.job);
  tell("shop");
}

// ---- undo ------------------------------------------------------------------------------------------------------------

/** Undo and redo by key, where the focus is in the shop's own section; null elsewhere, and where the shop is the job's. */
export const shopKeys = (target) => (desk.shopId && target instanceof Element && target.closest("#shop-section") ? { undo: shopUndo, redo: shopRedo } : null);

export function startShop() {
  on("changed", () => { if (!desk.shopId && typeof desk.history.job.shop === "object") desk.shop = desk.history.job.shop; });
  on("sized", showShop);
  byId("shop-undo").addEventListener("click", shopUndo);
  byId("shop-redo").addEventListener("click", shopRedo);
}
