// harness.js - starts the program on a folder of its own, and a real browser before it. Every page that is opened here must stay without errors in its
// console (the content security policy tells there) and must ask for nothing outside its own address.
"use strict";
const assert = require("node:assert");
const { spawn, execFileSync } = require("node:child_process");
const fs = require("node:fs");
const os = require("node:os");
const path = require("node:path");

const modules = path.resolve(process.env.DW_BROWSER_MODULES);
const program = process.env.DW_PROGRAM;
const source = path.join(__dirname, "..", "..");
const { chromium } = require(path.join(modules, "playwright-core"));
const axeSource = fs.readFileSync(path.join(modules, "axe-core", "axe.min.js"), "utf8");

const FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];
const PATIENCE = 15000; // milliseconds until a test gives up; nothing is measured by it

let browser = null;
async function theBrowser() {
  browser ??= await chromium.launch({ executablePath: process.env.DW_CHROMIUM || "/usr/bin/chromium", args: FLAGS });
  return browser;
}
const started = new Set();

async function closeAll() {
  for (const child of started) child.kill();
  if (browser) await browser.close();
}

/** A folder with files: { "name.json": object } and samples by name. */
function folder(files = {}, samples = []) {
  const at = fs.mkdtempSync(path.join(os.tmpdir(), "dw-page-"));
  for (const name of samples) fs.copyFileSync(path.join(source, "samples", name), path.join(at, name));
  for (const [name, content] of Object.entries(files)) fs.writeFileSync(path.join(at, name), JSON.stringify(content, null, 2));
  return at;
}

const readJob = (at, id) => JSON.parse(fs.readFileSync(path.join(at, `${id}.json`), "utf8"));

/** Starts the program on a job or folder: { address, kill(signal) }. */
async function start(place) {
  const child = spawn(program, ["page", place, "--no-browser"], { stdio: ["ignore", "pipe", "inherit"] });
  const address = await new Promise((resolve, reject) => {
    child.stdout.once("data", (data) => resolve(String(data).trim()));
    child.once("exit", () => reject(new Error("the program ended before it printed an address")));
  });
  started.add(child);
  const ended = new Promise((resolve) => child.once("exit", (code, signal) => { started.delete(child); resolve({ code, signal }); }));
  return { address, kill: (signal = "SIGTERM") => { child.kill(signal); return ended; } };
}

/** Opens an address in a window of its own (another user, so to say), or beside `beside` in the same one. */
async function open(address, options = {}, beside = null) {
  const context = beside ? beside.context() : await (await theBrowser()).newContext({ viewport: { width: 1440, height: 1000 }, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE);
  page.troubles = [];
  page.serverGone = false;
  page.on("console", (message) => { if (message.type() === "error" && !page.serverGone && !/status of (409|422)/.test(message.text())) page.troubles.push(message.text()); });
  page.on("pageerror", (error) => page.troubles.push(error.message));
  page.on("request", (request) => { if (!request.url().startsWith(new URL(address).origin) && !/^(data|blob):/.test(request.url())) page.troubles.push(`asked for ${request.url()}`); });
  await page.goto(address);
  return page;
}

async function close(page) {
  assert.deepStrictEqual(page.troubles, []);
  await page.context().close();
}

/** Waits until look() answers what is wanted. */
async function until(look, wanted) {
  const end = Date.now() + PATIENCE;
  let got;
  for (;;) {
    got = await look();
    try { assert.deepStrictEqual(got, wanted); return; } catch { /* not yet */ }
    if (Date.now() > end) assert.deepStrictEqual(got, wanted);
    await new Promise((later) => setTimeout(later, 30));
  }
}

/** The column of the table of sizes with this title, as it is shown. */
const column = (page, title) => page.$$eval("#sizes tbody tr", (rows, wanted) => rows.map((row) => [...row.cells].find((cell) => cell.dataset.title === wanted).textContent), title);
const heights = (page) => column(page, "front high");

const front = (page, drawer, bank = 0) => page.locator(`#sketch [data-address="cases[0].banks[${bank}].drawers[${drawer}]"]`);
const field = (page, key) => page.locator(`#chosen [data-address="${key}"]`);
const button = (page, name) => page.getByRole("button", { name, exact: true });

async function chooseFront(page, drawer, bank = 0) {
  await front(page, drawer, bank).click();
  await page.locator("#chosen h3", { hasText: "Drawer" }).waitFor();
}

/** A job of many cases, no two of one width. */
const wide = (cases, drawers) => ({ format: 1, name: "many", units: "in", shop: "shop.json", cases: Array.from({ length: cases }, (_, i) => ({
  name: `Case ${i + 1}`, opening: { width: `${18 + i}`, height: "60", depth: "22" }, fit: "inset", slide: "side", front: { material: "cherry-3/4" },
  box: { sides: "birch-1/2", bottom: "birch-1/4" }, banks: [{ drawers }] })) });

/** What the command line prints. */
const commandLine = (at, ...words) => JSON.parse(execFileSync(program, [...words, "--json", "-q"], { cwd: at, maxBuffer: 1 << 26 }).toString());

/** Serious and critical findings of axe-core, as "rule: element". */
async function axe(page) {
  await page.evaluate(axeSource); // by the debugger's way, which the content security policy does not hinder
  const { violations } = await page.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] }));
  return violations.filter((one) => one.impact === "serious" || one.impact === "critical").flatMap((one) => one.nodes.map((node) => `${one.id}: ${node.target.join(" ")}`));
}

module.exports = { axe, button, chooseFront, close, closeAll, column, commandLine, field, folder, front, heights, open, readJob, source, start, until, wide };
