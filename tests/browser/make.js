// make.js - a job made from nothing, by mouse and by keyboard alone. What the page then shows is what the command line prints for the saved job.
"use strict";
const assert = require("node:assert");
const test = require("node:test");
const { axe, button, chooseFront, close, column, commandLine, field, folder, front, heights, open, readJob, start, until } = require("./harness.js");

const COLUMNS = [["front high", "front_height"], ["front wide", "front_width"], ["box high", "box_height"], ["box wide", "box_width"], ["box deep", "box_depth"],
  ["slide", "slide_length"], ["slide center up", "slide_center"]];

async function expectSameAsCommandLine(page, at, id) {
  const { drawers } = commandLine(at, "size", `${id}.json`);
  for (const [title, key] of COLUMNS) assert.deepStrictEqual(await column(page, title), drawers.map((drawer) => drawer[key].show), title);
  const { parts } = commandLine(at, "parts", `${id}.json`);
  const shown = await page.$$eval("#parts tbody tr", (rows) => rows.map((row) => [...row.cells].map((cell) => cell.textContent)));
  assert.deepStrictEqual(shown, parts.map((part) => [part.id, String(part.pieces.length), part.name, part.material, part.length.show, part.width.show, part.grain, part.pieces.join(" ")]));
  const { plan_id, total, purchase, hardware } = commandLine(at, "buy", `${id}.json`);
  await page.getByRole("button", { name: `Enter plan ${plan_id}` }).waitFor({ timeout: 60000 }); // the search has come to the command line's end
  const lines = () => page.$$eval("#buy tbody tr", (rows) => rows.map((row) => [...row.cells].slice(0, 4).map((cell) => cell.textContent)));
  const money = (cents) => (cents / 100).toFixed(2);
  await until(lines, [...purchase, ...hardware].map((line) => [String(line.count), line.what, money(line.each), money(line.total)]));
  assert.match(await page.locator("#buy strong").first().textContent(), new RegExp(`in all: ${money(total)} `));
}

test("a job from nothing, by mouse", async () => {
  const at = folder();
  const server = await start(at);
  const page = await open(server.address);
  await page.getByText("No job here yet").waitFor();
  await page.locator("#begin").getByRole("button", { name: "New job" }).click();
  await page.getByRole("dialog").getByLabel("Name").fill("lamp chest");
  await page.getByRole("dialog").getByRole("button", { name: "Begin" }).click();
  await until(() => heights(page), ["5 15/16", "5 15/16", "5 15/16", "5 15/16"]); // (24 1/2 - 5 x 1/8) / 4 = 5.96875, down to 1/16
  await chooseFront(page, 0);
  await field(page, "cases[0].banks[0].drawers[0].height").fill("5");
  await button(page, "Add one below").click();
  await until(async () => (await heights(page)).length, 5);
  await chooseFront(page, 4);
  await button(page, "Split in two").click();
  await until(async () => (await heights(page)).length, 6);
  await button(page, "Remove").click();
  await until(async () => (await heights(page)).length, 5);
  await chooseFront(page, 0);
  await button(page, "Move down").click();
  await until(async () => (await heights(page))[1], "5");
  await field(page, "cases[0].banks[0].drawers[1].fit").selectOption("overlay");
  await until(() => readShownFit(page), "overlay");
  await field(page, "cases[0].banks[0].drawers[1].fit").selectOption("");
  await page.locator("#sketch .opening").click({ position: { x: 3, y: 3 } });
  await button(page, "Add a bank beside").click();
  await until(async () => (await heights(page)).length, 8);
  await button(page, "Save").click();
  await until(() => page.locator("#saved").textContent(), "saved");
  const job = readJob(at, "lamp chest");
  assert.strictEqual(job.cases[0].banks.length, 2);
  assert.strictEqual(job.cases[0].banks[0].drawers[1].height, "5");
  await expectSameAsCommandLine(page, at, "lamp chest");
  await close(page);
  await server.kill();
});

test("a new job asks what was measured, in the maker's units; fractions go in by touch; opening or outside", async () => {
  const at = folder();
  const server = await start(at);
  const page = await open(server.address, { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
  const dialog = page.getByRole("dialog");
  await page.locator("#begin").getByRole("button", { name: "New job" }).tap();
  await dialog.getByLabel("Opening, width").fill("14");
  await dialog.locator("#fractions").getByRole("button", { name: "15/16", exact: true }).tap();
  assert.strictEqual(await dialog.getByLabel("Opening, width").inputValue(), "14 15/16");
  await dialog.getByLabel("Bare numbers are").selectOption("mm");
  assert.strictEqual(await dialog.getByLabel("Opening, height").inputValue(), "620"); // was not touched: a usual one in millimeters
  await dialog.getByLabel("Opening, width").fill("400");
  await dialog.getByLabel("Drawers").fill("3");
  assert.deepStrictEqual(await axe(page), []);
  await dialog.getByRole("button", { name: "Begin" }).tap();
  await until(async () => (await heights(page)).length, 3);
  const job = () => readJob(at, "new job");
  assert.deepStrictEqual(job().cases[0].opening, { width: "400", height: "620", depth: "560" });
  const before = await heights(page);
  await button(page, "Give outside sizes instead").tap();
  await page.locator('#chosen [data-address$=".outside.width"]').waitFor();
  await until(() => heights(page), before);
  await button(page, "Give the opening instead").tap();
  await until(() => page.locator('#chosen [data-address$=".opening.width"]').inputValue(), "400");
  await button(page, "Save").tap();
  await until(() => page.locator("#saved").textContent(), "saved");
  assert.deepStrictEqual(job().cases[0].opening, { width: "400", height: "620", depth: "560" });
  assert.strictEqual(job().cases[0].outside, undefined);
  await page.locator("#fractions").waitFor({ state: "hidden" });
  await field(page, "cases[0].opening.width").tap(); // the row of fractions came back out of the dialog
  await page.locator("body > #fractions").waitFor();
  await close(page);
  await server.kill();
});

const readShownFit = (page) => page.locator('#chosen [data-address$=".fit"]').inputValue();

/** Presses Tab until something has the focus; never the mouse. */
async function tabTo(page, selector) {
  for (let i = 0; i < 120; i++) {
    if (await page.evaluate((wanted) => document.activeElement !== null && document.activeElement.matches(wanted), selector)) return;
    await page.keyboard.press("Tab");
  }
  assert.fail(`Tab does not reach ${selector}`);
}

test("a job from nothing, by keyboard alone", async () => {
  const at = folder();
  const server = await start(at);
  const page = await open(server.address);
  await page.getByText("No job here yet").waitFor();
  await tabTo(page, "#begin button");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Control+A");
  await page.keyboard.type("key chest");
  await page.keyboard.press("Enter");
  await until(async () => (await heights(page)).length, 4);
  await tabTo(page, '#sketch [data-address="cases[0].banks[0].drawers[0]"]');
  await page.keyboard.type("5"); // a digit on a front begins its height
  await page.keyboard.type(" 1/2");
  await page.keyboard.press("Enter");
  await until(async () => (await heights(page))[0], "5 1/2");
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Insert");
  await until(async () => (await heights(page)).length, 5);
  await page.keyboard.press("Delete");
  await until(async () => (await heights(page)).length, 4);
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Alt+ArrowDown");
  await until(async () => (await heights(page))[1], "5 1/2");
  await tabTo(page, '#sketch [data-grip="cases[0].banks[0].drawers[1]"]');
  await page.keyboard.press("ArrowDown");
  await until(async () => (await heights(page))[1], "5 9/16");
  await page.keyboard.press("Control+z");
  await until(async () => (await heights(page))[1], "5 1/2");
  await page.keyboard.press("Control+Shift+z");
  await until(async () => (await heights(page))[1], "5 9/16");
  await tabTo(page, '#chosen [data-address$=".name"]');
  await page.keyboard.type("oil cans");
  await page.keyboard.press("Enter");
  await until(async () => (await column(page, "drawer"))[1].endsWith("/oil cans"), true);
  await page.keyboard.press("Control+s");
  await until(() => page.locator("#saved").textContent(), "saved");
  const job = readJob(at, "key chest");
  assert.strictEqual(job.cases[0].banks[0].drawers[1].height, "5 9/16");
  await expectSameAsCommandLine(page, at, "key chest");
  await close(page);
  await server.kill();
});

test("started with a folder that is not there, it is made; with a job that is not there, that is said", async () => {
  const at = folder();
  let server = await start(`${at}/jobs/new/`);
  let page = await open(server.address);
  await page.getByRole("button", { name: "Sample: plan chest" }).click();
  await until(async () => (await heights(page)).length, 8);
  await close(page);
  await server.kill();
  server = await start(`${at}/jobs/new/plan-chst.json`); // mistyped
  page = await open(server.address);
  await page.locator("#notice", { hasText: "plan-chst" }).waitFor();
  await until(async () => (await heights(page)).length, 8); // the first job of the folder
  await close(page);
  await server.kill();
});

test("a sample is one click away, and is a job like any other", async () => {
  const at = folder();
  const server = await start(at);
  const page = await open(server.address);
  await page.getByRole("button", { name: "Sample: plan chest" }).click();
  await until(async () => (await heights(page)).length, 8);
  assert.ok(readJob(at, "shop").materials.length > 0);
  await expectSameAsCommandLine(page, at, "plan-chest");
  await front(page, 0).waitFor();
  await close(page);
  await server.kill();
});
