// address.js - places in a job: "cases[0].banks[1].drawers[2].height".
function steps(address) {
  return address.split(/[.[\]]+/).filter((step) => step !== "").map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}

export function get(job, address) {
  return steps(address).reduce((at, step) => (at === undefined || at === null ? undefined : at[step]), job);
}

/** Sets (or, with undefined, takes out) one value; objects on the way are made, and a fit that stands as a bare word is written out. */
export function set(job, address, value) {
  const path = steps(address);
  const last = path.pop();
  let at = job;
  for (const step of path) {
    if (typeof at[step] !== "object" || at[step] === null) at[step] = step === "fit" && typeof at[step] === "string" ? { kind: at[step] } : {};
    at = at[step];
  }
  if (value === undefined) delete at[last];
  else at[last] = value;
}

/** The list of drawers of a bank, for changing it: a bare count is written out as so many equal ones. */
export function drawersOf(job, bankAddress) {
  const bank = get(job, bankAddress);
  if (typeof bank.drawers === "number") bank.drawers = Array.from({ length: bank.drawers }, () => ({}));
  if (!Array.isArray(bank.drawers)) bank.drawers = [{}];
  return bank.drawers;
}

export const isDrawer = (address) => /\.drawers\[\d+\]$/.test(address);
export const isBank = (address) => /\.banks\[\d+\]$/.test(address);
export const bankOf = (address) => address.replace(/\.drawers\[\d+\].*$/, "");
export const caseOf = (address) => address.replace(/\.banks\[\d+\].*$/, "");
export const indexOf = (address) => Number(/\[(\d+)\]$/.exec(address)[1]);
export const isWithin = (address, outer) => address === outer || address.startsWith(outer + ".") || address.startsWith(outer + "[");
