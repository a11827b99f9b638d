// shop.js - the shop that the job works from: in a file of its own, kept as soon as it is changed, or in the job itself.
import { get, set } from "./address.js";
import { ask } from "./door.js";
import { attempt, desk, edit, note, on, tell, textOf } from "./desk.js";
import { byId, renew, act } from "./dom.js";
import { setMoney } from "./money.js";
import { size } from "./size.js";
import { treeFields } from "./tree.js";

export async function openShop(job) {
  desk.shopId = "";
  desk.shop = typeof job.shop === "object" && job.shop !== null ? job.shop : {};
  if (typeof job.shop === "string") {
    desk.shopId = job.shop.replace(/\.json$/, "");
    const file = await attempt(() => ask("file", { id: desk.shopId }));
    if (file) { desk.shop = JSON.parse(file.text); desk.shopVersion = file.version; }
  }
  setMoney(desk.shop.prices || {});
}

function showShop() {
  byId("shop-where").textContent = desk.shopId ? `Kept in ${desk.shopId}.json for every job that names it; a change is saved at once.` : "Kept in this job.";
  const faults = desk.faults.filter((fault) => fault.grade === "error");
  renew(byId("shop"), treeFields(desk.shop, "", { faults, set: (address, value) => change((shop) => set(shop, address, value)), list: (address, run) => change((shop) => run(get(shop, address))) }));
}

function change(run) {
  if (!desk.shopId) {
    edit((job) => { job.shop = job.shop || {}; run(job.shop); desk.shop = job.shop; });
    return;
  }
  const shop = structuredClone(desk.shop);
  run(shop);
  attempt(() => keep(shop));
}

async function keep(shop) {
  try {
    const answer = await ask("save", { id: desk.shopId, version: desk.shopVersion }, textOf(shop));
    Object.assign(desk, { shop, shopVersion: answer.version });
  } catch (error) {
    if (error.code !== "changed-on-disk") throw error;
    await openShop(desk.history.job);
    showShop();
    note(`${desk.shopId}.json has been changed by another program. It is read again; the change made here was not kept: make it once more.`, act("All right", () => note("")));
    return;
  }
  setMoney(shop.prices || {});
  await size(desk.history.job);
  tell("shop");
}

export function startShop() {
  on("changed", () => { if (!desk.shopId && typeof desk.history.job.shop === "object") desk.shop = desk.history.job.shop; });
  on("sized", showShop);
}
