// page.js - starts the page: each module listens to the desk, then the first job is opened.
import { startAnswers } from "./answers.js";
import { benchKeys, startBench } from "./bench.js";
import { startBenchLook } from "./bench_look.js";
import { startBenchMeasure } from "./bench_measure.js";
import { startBenchPieces } from "./bench_pieces.js";
import { startBenchReplan } from "./bench_replan.js";
import { startBoard } from "./board.js";
import { attempt, redo, say, undo } from "./desk.js";
import { openFirst, save, startFiles } from "./files.js";
import { startFractions } from "./fractions.js";
import { startListed } from "./listed.js";
import { startPlan } from "./plan.js";
import { startRack } from "./rack.js";
import { shopKeys, startShop } from "./shop.js";

/** Ctrl (or Cmd) with Z, Shift+Z or Y (in the shop's section: of the shop), S. In a text that is being typed, undo is the field's own. */
function onKey(event) {
  if (!(event.ctrlKey || event.metaKey) || document.querySelector("dialog[open]")) return;
  const { target } = event;
  const typing = target instanceof HTMLInputElement && target.type === "text" && target.value !== target.defaultValue;
  const key = event.key.toLowerCase();
  const by = shopKeys(target) || benchKeys(target) || { undo, redo };
  const run = key === "s" ? () => { if (typing) target.dispatchEvent(new Event("said")); attempt(save); }
    : typing ? null : key === "z" ? (event.shiftKey ? by.redo : by.undo) : key === "y" ? by.redo : null;
  if (!run) return;
  event.preventDefault();
  run();
}

startShop();
startListed();
startBoard();
startAnswers();
startPlan();
startRack();
startBenchPieces();
startBenchReplan();
startBenchMeasure();
startBenchLook();
startBench();
startFiles();
startFractions();
document.addEventListener("keydown", onKey);
if (location.hash.length < 2) say("This address lacks its secret: open the whole address that the program printed.");
else attempt(openFirst);
