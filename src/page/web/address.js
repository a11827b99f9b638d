// address.js - places in a job: "cases[0].banks[1].drawers[2].height".
export function steps(address) {
  return address.split(/[.[\]]+/).filter((step) => step !== "").map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}

export function get(job, address) {
  return steps(address).reduce((at, step) => (at === undefined || at === null ? undefined : at[step]), job);
}

/** Sets (or, with undefined, takes out) one value; objects on the way are made. A count of drawers becomes that many drawers. */
export function set(job, address, value) {
  const path = steps(address);
  const last = path.pop();
  let at = job;
  for (const step of path) {
    if (typeof at[step] === "number" && step === "drawers") at[step] = Array.from({ length: at[step] }, () => ({}));
    if (typeof at[step] !== "object" || at[step] === null) at[step] = {};
    at = at[step];
  }
  if (value === undefined) delete at[last];
  else at[last] = value;
}

/** The list of drawers of a bank, written out. */
export function drawersOf(job, bankAddress) {
  const bank = get(job, bankAddress);
  if (typeof bank.drawers === "number") bank.drawers = Array.from({ length: bank.drawers }, () => ({}));
  if (!Array.isArray(bank.drawers)) bank.drawers = [{}];
  return bank.drawers;
}

export const bankOf = (address) => address.replace(/\.drawers\[\d+\]$/, "");
export const indexOf = (address) => Number(/\[(\d+)\]$/.exec(address)[1]);
