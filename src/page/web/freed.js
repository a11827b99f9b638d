// freed.js - what rounding frees in a bank, told right under the drawing, where heights are typed and lines are dragged, with the choice where it goes; and what to do
// where typed heights do not come out.
import { bankOf, drawersOf, isBank, isDrawer, isWithin } from "./address.js";
import { desk, edit } from "./desk.js";
import { words } from "./door.js";
import { act, byId, el, renew } from "./dom.js";
import { choice, FREED } from "./fields.js";

const context = () => ({ job: desk.history.job, shop: desk.shop, faults: [], edit });

/** The heights that were typed leave something for nobody, or need more than there is. */
const misfit = (address) => desk.faults.find((fault) => (fault.code === "stack-under" || fault.code === "stack-over") && fault.address === address);

function choiceOf(bank) {
  const field = choice(context(), "What rounding frees goes", `${bank.address}.freed`, FREED, "by habit");
  const select = field.querySelector("select");
  select.dataset.key = `freed ${bank.address}`;
  select.setAttribute("aria-label", `What rounding frees in ${bank.path} goes`);
  delete select.dataset.address; // the field of the bank has it
  return field;
}

/** One front's height is given up, so that it takes what the others leave: the chosen one's, or else the lowest that is set. */
function giveUp(bank, chosen) {
  const drawers = drawersOf(desk.history.job, bank.address);
  const set = drawers.map((drawer, i) => ({ i, name: drawer.name || String(i + 1), is: drawer.height !== undefined })).filter((one) => one.is);
  const one = set.find(({ i }) => chosen === `${bank.address}.drawers[${i}]`) || set.at(-1);
  return one ? act(`Let ${one.name} take what is left`, () => edit((job) => { delete drawersOf(job, bank.address)[one.i].height; }), { dataset: { key: `give up ${bank.address}` } }) : null;
}

function line(bank, chosen) {
  const fault = misfit(bank.address);
  if (!fault) return el("div", { class: "freed-line" }, el("p", {}, `${bank.path}: ${bank.freed}.`), choiceOf(bank));
  return el("div", { class: "freed-line" }, el("p", { class: "fault" }, `${bank.path}: ${words(fault)}.`), giveUp(bank, chosen), fault.code === "stack-under" ? choiceOf(bank) : null);
}

/** Of the chosen bank; of all banks of the case where none is chosen. */
export function showFreed(banks, chosen) {
  const bank = isDrawer(chosen) ? bankOf(chosen) : isBank(chosen) ? chosen : "";
  const told = banks.filter((one) => isWithin(one.address, bank || one.address) && (one.freed || misfit(one.address)));
  renew(byId("freed"), ...told.map((one) => line(one, chosen)));
}
