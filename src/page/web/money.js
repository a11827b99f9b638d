// money.js - amounts of the library (whole numbers of the smallest unit) as they are written.
let decimals = 2, mark = "";

export function setMoney(prices) {
  decimals = Number.isInteger(prices.decimals) ? prices.decimals : 2;
  mark = prices.currency ? ` ${prices.currency}` : "";
}

export const money = (amount) => {
  const digits = String(Math.abs(amount)).padStart(decimals + 1, "0");
  return (amount < 0 ? "-" : "") + (decimals ? `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}` : digits);
};

export const moneyMark = (amount) => money(amount) + mark;

export const bound = (cost, least, proved) => (proved ? "nothing cheaper exists" : `could still save at most ${money(cost - least)}`);
