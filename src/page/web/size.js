// size.js - asks the library for sizes at every change. Only the answer to the latest question counts.
import { ask } from "./door.js";
import { attempt, desk, on, say, tell, textOf } from "./desk.js";

let asking = null;

/** Sizes a job; `passing` while something is being dragged: then only sizes are shown. */
export function size(job, passing = false) {
  if (asking) asking.abort();
  asking = new AbortController();
  const { signal } = asking;
  return attempt(async () => {
    const answer = await ask("size", {}, textOf(job), { signal });
    if (signal.aborted) return;
    desk.stale = !answer.sizing;
    if (answer.sizing) desk.sizing = answer.sizing;
    if (answer.parts) desk.parts = answer.parts;
    if (passing) { tell("passing"); return; }
    desk.faults = answer.faults;
    say("");
    tell("sized", answer);
  });
}

on("changed", () => size(desk.history.job));
on("opened", () => size(desk.history.job));
