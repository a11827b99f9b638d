// search.js - sheets while the optimizer works on them: drawn anew as it finds better ones, with its bound; stopped, gone on with; ended with its page.
// And sizes that give: taken, refused, shown beside what was preferred; what a small change would save.
"use strict";
const assert = require("node:assert");
const path = require("node:path");
const test = require("node:test");
const { axe, button, chooseFront, close, column, commandLine, field, folder, front, open, readJob, start, until, wide } = require("./harness.js");

const LONG = 120000; // milliseconds: searches on a busy machine

/** The state of the search, asked for aside from the page. */
async function ask(server, query) {
  const { origin, hash } = new URL(server.address);
  return (await fetch(`${origin}/api/plan?${query}`, { headers: { "X-Page-Token": hash.slice(1) } })).json();
}

const costOf = (page) => page.$$eval("#sheets .material", (all) => all.reduce((sum, one) => sum + Number(one.dataset.cost), 0));

test("sheets are drawn while they are looked for, the line says what is proved, and stopping keeps the best", async () => {
  const at = folder({ "many.json": wide(20, 10) }, ["shop.json"]);
  const server = await start(path.join(at, "many.json"));
  const page = await open(server.address);
  const runs = [];
  page.on("request", (request) => { const run = /api\/plan\?run=(\d+)/.exec(request.url()); if (run) runs.push(Number(run[1])); });
  await page.locator("#sheets .material", { hasText: "Found just now" }).first().waitFor({ timeout: LONG }); // long before the plan is whole
  assert.strictEqual(await page.locator("#buy table").count(), 0);
  await page.locator("#standing", { hasText: /^\d+ sheets, \d+\.\d\d; (could still save at most \d+\.\d\d|nothing cheaper exists)\. / }).waitFor({ timeout: LONG });
  await page.locator("#buy table").waitFor({ timeout: LONG });
  const quick = await costOf(page);
  await page.locator("#standing", { hasText: "Looking on" }).waitFor({ timeout: LONG }); // the patient search
  await button(page, "Keep this one").click(); // at once: it may not have come as far as the quick plan
  await page.locator("#standing", { hasText: "The search was stopped." }).waitFor({ timeout: LONG });
  assert.ok((await costOf(page)) <= quick, "no dearer than what was shown");
  const told = await ask(server, `run=${runs.at(-1)}`);
  assert.strictEqual(told.state, "done");
  await button(page, "Look on").click();
  await page.locator("#standing", { hasText: "Looking on" }).waitFor({ timeout: LONG });
  const last = runs.at(-1);
  await page.close({ runBeforeUnload: false }); // the page goes: so does its search
  await until(async () => (await ask(server, `run=${last}`)).state, "done"); // well before a patient search of 200 drawers ends; asking keeps it from being forgotten
  assert.deepStrictEqual(page.troubles, []);
  await server.kill();
});

// By hand: 25 drawers have 50 sides of 16 x 4 11/16; on 47 1/2 x 95 1/2 with a kerf of 1/8 nine strips of five each go on a sheet; ten at 4 5/8.
const SHOP = { name: "t", materials: [{ id: "birch", name: "1/2 birch", thickness: "1/2", sheets: [{ id: "full", length: "96", width: "48", price: "68.00" }] },
  { id: "mdf", name: "1/4 MDF", thickness: "1/4", kind: "MDF", sheets: [{ id: "full", length: "96", width: "48", price: "20.00" }] }], slides: [{ id: "side", lengths: ["16"] }] };
const chests = (box) => ({ format: 1, name: "chests", units: "in", shop: SHOP, cases: [{ name: "A", count: 25, opening: { width: "12", height: "6", depth: "18" }, fit: "inset",
  front: { material: "mdf" }, box: { sides: "birch", front: "mdf", back: "mdf", bottom: "mdf", joint: "butt", groove_depth: "1/8", bottom_clearance: "0", ...box }, banks: [{ drawers: 1 }] }] });

async function withChests(job, run) {
  const at = folder({ "chests.json": job });
  const server = await start(path.join(at, "chests.json"));
  const page = await open(server.address);
  await front(page, 0).waitFor();
  await run(page, at);
  await close(page);
  await server.kill();
}

const ended = (page, words) => page.locator("#standing", { hasText: words }).filter({ hasNotText: "..." }).waitFor({ timeout: LONG });

test("what leeway chose is shown with what was preferred, beside the plan without; taken for good it is written into the job", async () => {
  await withChests(chests({ height: "4 11/16", leeway: { lower: "1/8" } }), async (page, at) => {
    await page.locator("#leeway", { hasText: "4 5/8 instead of 4 11/16, 1/16 lower" }).waitFor({ timeout: LONG });
    await ended(page, "3 sheets, 108.00; nothing cheaper exists.");
    assert.deepStrictEqual(await page.$$eval("#leeway tbody tr", (rows) => rows.map((row) => [...row.cells].map((cell) => cell.textContent))),
      [["as preferred", "4", "176.00"], ["with these sizes", "3", "108.00"], ["saved", "1", "68.00"]]);
    assert.deepStrictEqual(await column(page, "box high"), ["4 5/8 preferred 4 11/16"]);
    assert.match(await page.locator("#parts tbody").textContent(), /4 5\/8 preferred 4 11\/16/);
    assert.strictEqual(await page.locator("#gave").isVisible(), true);
    assert.deepStrictEqual(await axe(page), []);
    await page.locator('#leeway [data-key="take 0"]').focus();
    await page.keyboard.press("Enter");
    await page.locator("#gave").waitFor({ state: "hidden" });
    await until(() => column(page, "box high"), ["4 5/8"]);
    await page.keyboard.press("Control+s");
    await until(() => page.locator("#saved").textContent(), "saved");
    assert.strictEqual(readJob(at, "chests").cases[0].banks[0].drawers[0].box.height, "4 5/8");
    await ended(page, "3 sheets, 108.00");
    await until(() => page.locator("#leeway").textContent(), ""); // nothing is to give any more
    assert.strictEqual(commandLine(at, "buy", "chests.json").sheets_cost, 10800);
    await page.keyboard.press("Control+z");
    await page.locator("#leeway", { hasText: "4 5/8 instead of 4 11/16" }).waitFor({ timeout: LONG });
  });
});

test("a change of leeway is refused", async () => {
  await withChests(chests({ height: "4 11/16", leeway: { lower: "1/8" } }), async (page, at) => {
    await page.locator('#leeway [data-key="refuse 0"]').click({ timeout: LONG });
    await ended(page, "4 sheets, 176.00");
    await until(() => column(page, "box high"), ["4 11/16"]);
    await page.keyboard.press("Control+s");
    await until(() => page.locator("#saved").textContent(), "saved");
    assert.deepStrictEqual(readJob(at, "chests").cases[0].banks[0].drawers[0].box, { leeway: { lower: "0" } });
    assert.strictEqual(commandLine(at, "buy", "chests.json").sheets_cost, 17600);
    assert.strictEqual(commandLine(at, "buy", "chests.json", "--keep", "A").sheets_cost, 17600);
  });
});

test("sizes give by the shop's habits when asked", async () => {
  await withChests(chests({}), async (page, at) => {
    await ended(page, "nothing cheaper exists");
    await page.locator("#use-leeway").check();
    await page.locator("#leeway p, #leeway ul").first().waitFor({ timeout: LONG });
    await ended(page, "nothing cheaper exists");
    const { leeway } = commandLine(at, "buy", "chests.json", "--leeway");
    const lines = await page.$$eval("#leeway li > span:first-child", (all) => all.map((one) => one.textContent.trim()));
    assert.deepStrictEqual(lines, leeway.changes.map((change) => `${change.show}.`));
  });
});

test("a range is given on the page; corners, bottoms and the case's own parts are chosen there too", async () => {
  await withChests(chests({ height: "4 11/16" }), async (page, at) => {
    await page.locator("#chosen summary", { hasText: "What may give" }).click();
    await field(page, "cases[0].box.leeway.lower").fill("1/8");
    await page.keyboard.press("Enter");
    await page.locator("#leeway", { hasText: "4 5/8 instead of 4 11/16, 1/16 lower" }).waitFor({ timeout: LONG });
    await page.locator("#chosen summary", { hasText: "Joints, bottoms" }).click();
    await field(page, "cases[0].box.joint").selectOption("rabbet");
    await field(page, "cases[0].members.material").selectOption("birch");
    await field(page, "cases[0].members.parts").check();
    await page.locator("#message", { hasText: "no material is named for this part" }).waitFor(); // the back
    const before = await page.locator("#parts tbody tr").count();
    await field(page, "cases[0].members.back_material").selectOption("mdf");
    await until(async () => (await page.locator("#parts tbody tr").count()) > before, true);
    await page.keyboard.press("Control+s");
    await until(() => page.locator("#saved").textContent(), "saved");
    const [one] = readJob(at, "chests").cases;
    assert.deepStrictEqual([one.box.joint, one.box.leeway, one.members], ["rabbet", { lower: "1/8" }, { material: "birch", parts: true, back_material: "mdf" }]);
  });
});

test("a sixteenth that would save a sheet is told where things are bought, and made by a button", async () => {
  await withChests(chests({ height: "4 11/16" }), async (page) => {
    await page.locator("#buy", { hasText: "1/16 lower (A/1/1): 1 sheet less of 1/2 birch" }).waitFor({ timeout: LONG });
    await ended(page, "4 sheets, 176.00");
    await button(page, "Make this change").click();
    await ended(page, "3 sheets, 108.00");
    assert.deepStrictEqual(await column(page, "box high"), ["4 5/8"]);
    await chooseFront(page, 0);
    assert.strictEqual(await field(page, "cases[0].banks[0].drawers[0].height").inputValue(), ""); // nothing but the box was touched
  });
});
