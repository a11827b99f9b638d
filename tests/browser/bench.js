// bench.js - at the bench, as a maker does it: a plan is worked from, pieces and sheets are marked by one tap or by key, something is spoiled, damaged or
// measured, what is left is planned again; two pages, a killed program. The command line shares the ledger, and is asked what it sees.
"use strict";
const assert = require("node:assert");
const { execFileSync, spawnSync } = require("node:child_process");
const fs = require("node:fs");
const path = require("node:path");
const test = require("node:test");
const { axe, chooseFront, close, field, folder, front, heights, open, readJob, source, start, until } = require("./harness.js");

const program = process.env.DW_PROGRAM;

/** Common practice, no source (also in tests/test_progress.c): 16 sides and 16 ends of eight boxes; five rips of 4 1/2 leave 24 3/8 of a sheet. */
const EIGHT = { format: 1, name: "Eight boxes", units: "in", shop: { materials: [{ id: "ply", kind: "plywood", thickness: "1/2", sheets: [{ id: "4x8", length: 96, width: 48, price: "60.00" }] }] },
  parts: [{ name: "side", material: "ply", length: 16, width: "4 1/2", count: 16, grain: "along" }, { name: "end", material: "ply", length: "12 1/2", width: "4 1/2", count: 16, grain: "along" }] };

/** Two boxes in an opening of 15, slides of 1/2 on each side, box fronts between sides of 1/2: 13 long; of 15/32: 13 1/16. */
const TWO = { format: 1, name: "Two boxes", units: "in", shop: "small.json", cases: [{ name: "Case", opening: { width: 15, height: 12, depth: 20 }, slide: "side", fit: "inset", front: { material: "ply 3/4" },
  box: { sides: "ply 1/2", front: "ply 1/2", back: "ply 1/2", bottom: "ply 1/4", joint: "butt" }, banks: [{ drawers: [{}, {}] }] }] };
const sheet = (thickness) => ({ id: `ply ${thickness}`, kind: "plywood", thickness, sheets: [{ id: "4x8", length: 96, width: 48, price: "60.00" }] });
const SMALL = { format: 1, units: "in", materials: [sheet("3/4"), sheet("1/2"), sheet("1/4")], slides: [{ id: "side", kind: "side-mount", clearance: "1/2", lengths: [16, 18] }] };

const cli = (at, ...words) => execFileSync(program, words, { cwd: at, encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });

/** What the command line says of the plan: { outdated, states: { mark: state }, mark, history }. */
function stateOf(at, mark) {
  const lines = cli(at, "state", mark).split("\n");
  const states = {};
  for (const line of lines) { const row = /^ {2}(\S+) {2,}.* {2}(to cut|cut|spoiled|to plan again)$/.exec(line); if (row) states[row[1]] = row[2]; }
  return { outdated: /OUTDATED/.test(lines[0]), states };
}

async function withBench(files, job, run, options = {}) {
  const at = folder(files);
  const server = await start(path.join(at, `${job}.json`));
  const page = await open(server.address, options);
  await page.locator("#patience").selectOption("short");
  await run({ at, server, page });
  if (!page.isClosed()) await close(page);
  await server.kill();
}

const told = (page) => page.locator("#bench-told").textContent();
const says = (page, words) => page.locator("#bench-told", { hasText: words }).waitFor();
const head = (page) => page.locator("#bench-plan").textContent();
const piece = (page, mark) => page.locator(`[data-piece="${mark}"]`);
const stateShown = (page, mark) => piece(page, mark).getAttribute("data-state");
const spoil = (page, mark) => page.locator(`[data-key="spoil ${mark}"]`);
const key = (page, name) => page.locator(`[data-key="${name}"]`);
const calm = () => new Promise((later) => setTimeout(later, 900)); // until a tap on the same piece counts again
const marks = (page, name) => page.$$eval("[data-piece]", (all, wanted) => all.filter((one) => one.textContent.includes(wanted)).map((one) => one.dataset.piece), name);

async function enter(page) {
  await page.locator("#bench-plan button", { hasText: "Work from plan" }).click();
  await page.locator("[data-piece]").first().waitFor();
  return /Plan (\S+)/.exec(await head(page))[1];
}

async function replan(page) {
  await key(page, "replan").click();
  await key(page, "replan use").waitFor();
  return page.$$eval("#bench-changes li", (all) => all.map((one) => one.textContent));
}

async function use(page) {
  await key(page, "replan use").click();
  await says(page, "is worked from now");
  return /Plan (\S+) is/.exec(await told(page))[1];
}

test("one side of eight boxes is spoiled: nothing is bought, nothing cut is touched, the old mark is known as outdated", async () => {
  await withBench({ "eight.json": EIGHT }, "eight", async ({ at, page }) => {
    const first = await enter(page);
    const [side, other] = await marks(page, "side");
    await key(page, "bench steps").click();
    await key(page, "all steps").click();
    await until(async () => /32 cut, 0 spoiled/.test(await head(page)), true);
    await spoil(page, side).click();
    await until(() => stateShown(page, side), "spoiled");
    assert.strictEqual(stateOf(at, first).states[side], "spoiled");
    assert.strictEqual(stateOf(at, first).states[other], "cut");

    const changes = await replan(page);
    assert.ok(changes.includes("cut, and left as they are: 31 pieces"), changes.join("\n"));
    await page.locator("#bench-next", { hasText: "No sheet is to be bought." }).waitFor();
    await key(page, "bench new sheets").click();
    assert.match(await page.locator("#bench-next .ladder").textContent(), /^rip, 4 1\/2:/); // from the panel of 24 3/8
    assert.strictEqual(stateOf(at, first).outdated, false); // a look is no more than that
    const same = JSON.parse(cli(at, "replan", `plans/${first}.json`, "eight.json", "--patience", "short", "--json"));
    assert.match(await page.locator("#bench-next h4").first().textContent(), new RegExp(`^Plan ${same.plan_id}:`)); // as the command line has it
    await page.locator("#rack button", { hasText: `Enter plan ${first}` }).waitFor();
    const second = await use(page);
    assert.strictEqual(stateOf(at, first).outdated, true);
    await page.locator("#rack button", { hasText: "Enter plan" }).waitFor({ state: "detached" }); // its sheets are not those that were cut
    await until(() => page.$$eval("[data-piece]", (all) => all.length), 1);
    assert.match(await page.locator("#bench-sheets").textContent(), new RegExp(`It is what plan ${first} left as S1`)); // the panel to take to the saw
    await piece(page, side).click();
    await until(() => stateShown(page, side), "cut");
    await key(page, "bench left").click();
    await page.locator('#bench table[aria-label="What lies on the bench"]', { hasText: "95 1/2 x 19 3/4" }).waitFor();

    await page.getByLabel("The mark on a page or label").fill(first.toLowerCase());
    await page.keyboard.press("Enter");
    await page.locator("#bench-verdict", { hasText: "OUTDATED" }).waitFor();
    assert.match(await page.locator("#bench-verdict").textContent(), new RegExp(`Work from plan ${second}.*31 pieces`));
    await page.getByLabel("The mark on a page or label").fill(second);
    await page.keyboard.press("Enter");
    await page.locator("#bench-verdict", { hasText: `Plan ${second} holds.` }).waitFor();
    await page.getByLabel("The mark on a page or label").fill("ZZZZZZ");
    await page.keyboard.press("Enter");
    await page.locator("#bench-verdict", { hasText: "No plan ZZZZZZ is entered here." }).waitFor();
    await page.getByLabel("The mark on a page or label").fill("../a");
    await page.keyboard.press("Enter");
    await says(page, "this is no plan's mark");

    await key(page, "bench post").click(); // all is cut
    await page.locator("#rack", { hasText: "19 3/4" }).waitFor();
    await key(page, "replan").click();
    await says(page, "entered in the rack");
  });
});

test("a mark is taken back: by a second tap, as the last one, from the history, and what follows from others is told", async () => {
  await withBench({ "eight.json": EIGHT }, "eight", async ({ at, page }) => {
    const plan = await enter(page);
    const [side] = await marks(page, "side");
    await piece(page, side).click();
    await until(() => stateShown(page, side), "cut");
    await piece(page, side).click(); // at once: a slip of the thumb
    await calm();
    assert.strictEqual(await stateShown(page, side), "cut");
    await piece(page, side).click();
    await until(() => stateShown(page, side), "to cut");
    assert.strictEqual(stateOf(at, plan).states[side], "to cut");

    await key(page, "bench steps").click();
    const steps = page.locator(".to-step");
    const last = await steps.count();
    await steps.nth(last - 1).click();
    await until(() => stateShown(page, side), "cut");
    await calm();
    await piece(page, side).click();
    const dialog = page.getByRole("dialog");
    assert.match(await dialog.textContent(), /done to step/);
    await page.keyboard.press("Escape");
    assert.strictEqual(await stateShown(page, side), "cut");
    await spoil(page, side).click();
    await until(() => stateShown(page, side), "spoiled");
    await key(page, "bench history").click();
    await page.locator("#bench-history button", { hasText: "Take back" }).last().click(); // the sheet's mark, from under the spoiled one
    await says(page, "Taken back:");
    assert.strictEqual(await stateShown(page, side), "spoiled");
    await spoil(page, side).click(); // it says now: Not spoiled
    await until(() => stateShown(page, side), "to cut");
    await until(() => key(page, "bench undo").textContent(), "Take back the plan itself");
    await key(page, "bench undo").click();
    await page.locator("#bench-plan", { hasText: "No plan of this job is worked from yet" }).waitFor();
    assert.notStrictEqual(spawnSync(program, ["state", plan], { cwd: at }).status, 0);
  });
});

test("the job is saved before a plan of it is worked from; a change makes what was planned stale; a long search is stopped", async () => {
  await withBench({ "two.json": TWO, "small.json": SMALL }, "two", async ({ at, page }) => {
    await page.locator("#bench-plan button", { hasText: "Work from plan" }).waitFor();
    const height = async (text) => {
      await chooseFront(page, 0);
      await field(page, "cases[0].banks[0].drawers[0].height").fill(text);
      await page.keyboard.press("Enter");
      await until(async () => (await heights(page))[0], text);
    };
    await height("4");
    await page.locator("#patience").selectOption("lunch");
    await key(page, "replan").click();
    await key(page, "replan stop").click();
    await key(page, "replan use").waitFor();
    await height("4 1/2");
    await page.locator("#bench-next .fault", { hasText: "The job has changed" }).waitFor();
    assert.strictEqual(await key(page, "replan use").count(), 0);
    await page.locator("#patience").selectOption("short");
    await page.locator("#standing", { hasText: /sheets?, [0-9.]+; .*\.$/ }).waitFor();
    await enter(page);
    assert.strictEqual(readJob(at, "two").cases[0].banks[0].drawers[0].height, "4 1/2");
    assert.strictEqual(await page.evaluate(() => Boolean(document.activeElement.closest("#bench"))), true);
  });
});

test("by keyboard alone, at 360 px: mark, take back with Ctrl+Z, and the drawing is left alone", async () => {
  await withBench({ "eight.json": EIGHT }, "eight", async ({ page }) => {
    await page.locator("#bench-plan button", { hasText: "Work from plan" }).focus();
    await page.keyboard.press("Enter");
    await page.locator("[data-piece]").first().waitFor();
    const [side] = await marks(page, "side");
    await piece(page, side).focus();
    await page.keyboard.press("Space");
    await until(() => stateShown(page, side), "cut");
    assert.strictEqual(await page.evaluate(() => document.activeElement.dataset.piece), side); // the focus is where it was
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await until(() => stateShown(page, side), "spoiled");
    await page.keyboard.press("Control+z");
    await until(() => stateShown(page, side), "cut");
    assert.strictEqual(await page.locator("#undo").isDisabled(), true);
    const sizes = await page.$$eval("#bench .piece, #bench .spoil", (all) => all.map((one) => one.getBoundingClientRect()).filter((at) => at.height < 56 || at.width < 56).length);
    assert.strictEqual(sizes, 0); // a thumb in a glove
  }, { viewport: { width: 360, height: 740 } });
});

test("a damaged edge is kept out, a sheet of no use is not cut from", async () => {
  await withBench({ "eight.json": EIGHT }, "eight", async ({ at, page }) => {
    const plan = await enter(page);
    await key(page, "bench damage").click();
    await key(page, "damage edge").selectOption("bottom");
    await key(page, "damage depth").fill("five");
    await key(page, "damage").click();
    await says(page, "this is no depth");
    assert.strictEqual(await key(page, "damage depth").inputValue(), "five");
    await key(page, "damage depth").fill("5");
    await key(page, "damage").click();
    await says(page, "5 from the bottom will be kept out");
    await key(page, "sheet thickness").fill("31/64");
    await page.keyboard.press("Enter");
    await says(page, "measures 31/64");
    await key(page, "sheet note").fill("better face up");
    await page.keyboard.press("Enter");
    await says(page, "Noted");
    assert.match(cli(at, "state", plan), /better face up/);
    await replan(page);
    const second = await use(page);
    const file = JSON.parse(fs.readFileSync(path.join(at, "plans", `${second}.json`), "utf8"));
    assert.strictEqual(file.follows, plan);
    assert.strictEqual(file.materials[0].sheets[0].cut.y, 5 * 406400); // what is cut begins 5 in from the bottom
    await key(page, "lose sheet").click();
    await page.getByRole("dialog").getByRole("button", { name: "It is of no use" }).click();
    await until(async () => /32 to plan again/.test(await head(page)), true);
    const changes = await replan(page);
    assert.ok(changes.some((line) => /^sheets of ply to buy: 0 -> 1/.test(line)), changes.join("\n"));
  });
});

test("boxes first; the plywood reads 15/32 and the opening less: every changed size is listed before it is saved; fronts follow, the boxes stay", async () => {
  await withBench({ "two.json": TWO, "small.json": SMALL }, "two", async ({ at, page }) => {
    await front(page, 0).waitFor();
    await key(page, "only boxes").check();
    await key(page, "replan").click();
    await key(page, "replan use").waitFor();
    const boxes = await use(page);
    assert.deepStrictEqual([...new Set(Object.keys(stateOf(at, boxes).states).map((mark) => mark.replace(/.*\d/, "")))].sort(), ["BF", "BK", "BT", "L", "R"]);
    const cut = Object.keys(stateOf(at, boxes).states).find((mark) => mark.endsWith("BF"));
    await showPiece(page, cut);
    await piece(page, cut).click();
    await until(() => stateShown(page, cut), "cut");

    const thickness = key(page, "measure shop.materials[1].thickness");
    await thickness.fill("fifteen");
    await page.keyboard.press("Enter");
    await page.locator("#bench-measure .fault").first().waitFor();
    await thickness.fill("15/32");
    await page.keyboard.press("Enter");
    await page.locator("#measure-changes li", { hasText: "ply 1/2 measures 1/2 -> 15/32" }).waitFor();
    const lines = await page.$$eval("#measure-changes li", (all) => all.map((one) => one.textContent));
    assert.ok(lines.some((line) => /^box front 13 x .* -> 13 1\/16 x/.test(line) && !line.includes(cut)), lines.join("\n"));
    assert.match(await page.locator("#measure-cut").textContent(), new RegExp(`${cut.replace(".", "\\.")}: .*13 1/16`));
    assert.strictEqual(readJob(at, "small").materials[1].thickness, "1/2"); // not saved yet
    await key(page, "measure cases[0].opening.width").fill("15; 14 7/8");
    await page.keyboard.press("Enter");
    await page.locator("#measure-changes li", { hasText: /^front / }).waitFor();
    await key(page, "measure keep").click();
    await says(page, "Saved. Plan again what is left");
    assert.strictEqual(readJob(at, "small").materials[1].thickness, "15/32");
    assert.deepStrictEqual(readJob(at, "two").cases[0].opening.width, ["15", "14 7/8"]);

    const changes = await replan(page);
    assert.ok(changes.some((line) => /^box front 13 x .* -> 12 15\/16 x/.test(line)), changes.join("\n")); // 14 7/8 less 1 less twice 15/32
    const second = await use(page);
    await page.locator("#bench-sheets", { hasText: "Cut, and now wanted otherwise" }).waitFor();
    const labels = JSON.parse(fs.readFileSync(path.join(at, "plans", `${second}.json`), "utf8"));
    const fronts = labels.parts.filter((part) => part.name === "front");
    assert.ok(fronts.length > 0 && fronts.every((part) => Math.max(part.length, part.width) === 14.625 * 406400)); // 14 7/8 less 1/8 on each side
    assert.ok(labels.parts.every((part) => !part.pieces.includes(cut)));
  });
});

test("a case drawn by its outside: its opening as reckoned stands in the field, the measured one lists what changes, and may be forgotten", async () => {
  const sample = (name) => JSON.parse(fs.readFileSync(path.join(source, "samples", name), "utf8"));
  await withBench({ "plan-chest.json": sample("plan-chest.json"), "shop.json": sample("shop.json") }, "plan-chest", async ({ at, page }) => {
    const width = key(page, "measure cases[0].opening.width");
    await until(() => key(page, "measure cases[0].opening.height").getAttribute("placeholder"), "33 9/16"); // 38 less top, bottom and kick: as the command line sizes it
    assert.match(cli(at, "size", "plan-chest.json"), /opening .* wide, 33 9\/16 high/);
    await width.fill("41 1/2; 41 7/16");
    await page.keyboard.press("Enter");
    const line = page.locator("#measure-changes li", { hasText: "front 41 5/16 x 5 1/2 -> 41 3/16 x 5 1/2: A-1.8F" }); // less 1/8 on each side
    await line.waitFor();
    assert.deepStrictEqual(await line.locator(".mark").allTextContents(), ["41 5/16", "5 1/2", "41 3/16", "5 1/2", "A-1.8F"]); // never broken over two lines
    await key(page, "measure drop").click();
    await line.waitFor({ state: "detached" });
    assert.strictEqual(await width.inputValue(), "");
    assert.strictEqual(readJob(at, "plan-chest").cases[0].opening, undefined);
  });
});

/** Shows the sheet that a piece is cut from. */
async function showPiece(page, mark) {
  for (const one of await page.locator(".sheet-tabs button").all()) {
    await one.click();
    if (await piece(page, mark).count()) return;
  }
  assert.fail(`no sheet has ${mark}`);
}

test("two pages on one job: each sees what the other marks; a plan that the other replaced is left at once", async () => {
  await withBench({ "eight.json": EIGHT }, "eight", async ({ server, page }) => {
    const other = await open(server.address, {}, page);
    await other.locator("#patience").selectOption("short");
    for (const patience of ["coffee", "short", "coffee", "short"]) { // the other's plans push this page's out of the program's hands
      await other.locator("#patience").selectOption(patience);
      await other.waitForTimeout(1200);
    }
    await enter(page);
    await other.locator("[data-piece]").first().waitFor(); // without doing anything
    const [side, second] = await marks(page, "side");
    await piece(page, side).click();
    await until(() => stateShown(other, side), "cut");
    await Promise.all([piece(page, second).click(), piece(other, second).click()]); // at the same time: one of them is told
    await until(() => stateShown(page, second), "cut");
    await until(() => stateShown(other, second), "cut");
    await spoil(other, side).click();
    await until(() => stateShown(other, side), "spoiled");
    await replan(other);
    await piece(page, (await marks(page, "end"))[0]).click(); // marked since: the plan at hand there knows nothing of it
    await until(() => told(page).then((words) => / is cut\.$/.test(words)), true);
    await other.locator("#bench-next .fault", { hasText: "More was marked since" }).waitFor();
    assert.strictEqual(await key(other, "replan use").count(), 0);
    await replan(other);
    const again = await use(other);
    await until(async () => (await head(page)).includes(`Plan ${again}`), true);
    await close(other);
  });
});

/** The ledger's only open plan of the job is one whose file is there, whole, and says the same mark. */
function agree(at) {
  const plans = fs.existsSync(path.join(at, "plans")) ? fs.readdirSync(path.join(at, "plans")).filter((name) => name.endsWith(".json")) : [];
  const read = plans.map((name) => [name, JSON.parse(fs.readFileSync(path.join(at, "plans", name), "utf8"))]);
  for (const [name, plan] of read) assert.strictEqual(`${plan.plan_id}.json`, name);
  const entered = read.filter(([, plan]) => spawnSync(program, ["state", plan.plan_id], { cwd: at }).status === 0).map(([, plan]) => plan);
  const open = entered.filter((plan) => !stateOf(at, plan.plan_id).outdated);
  assert.strictEqual(open.length, 1);
  if (open[0].follows) assert.strictEqual(stateOf(at, open[0].follows).outdated, true);
  assert.ok(Array.isArray(readJob(at, "eight").parts));
  return open[0].plan_id;
}

test("killed while it plans again, or while the plan is entered: job, ledger and plan marks agree", async () => {
  const at = folder({ "eight.json": EIGHT });
  let server = await start(path.join(at, "eight.json"));
  let page = await open(server.address);
  await page.locator("#patience").selectOption("short");
  let mark = await enter(page);
  for (const wait of [null, 0, 3, 8, 15, 30]) {
    const [side] = await marks(page, "to cut");
    await spoil(page, side).click();
    await until(() => stateShown(page, side), "spoiled");
    page.serverGone = true;
    await key(page, "replan").click();
    if (wait === null) await page.locator("#bench-next", { hasText: "Looking" }).waitFor();
    else {
      await key(page, "replan use").waitFor();
      await key(page, "replan use").click({ noWaitAfter: true });
      await new Promise((later) => setTimeout(later, wait));
    }
    await server.kill("SIGKILL");
    const now = agree(at);
    assert.strictEqual(stateOf(at, mark).states[side], "spoiled"); // what was marked stays marked
    mark = now;
    await page.context().close();
    server = await start(path.join(at, "eight.json"));
    page = await open(server.address);
    await page.locator("#patience").selectOption("short");
    await page.locator("#bench-plan", { hasText: `Plan ${mark}` }).waitFor();
  }
  await close(page);
  await server.kill();
});

test("a plan of the command line is marked here and planned again; for the rack its file is given", async () => {
  const at = folder({ "eight.json": EIGHT });
  cli(at, "plan", "eight.json", "-o", "out", "--patience", "short");
  cli(at, "done", "out/plan.json");
  const server = await start(path.join(at, "eight.json"));
  const page = await open(server.address);
  await page.locator("[data-piece]").first().waitFor();
  const [side] = await marks(page, "side");
  await spoil(page, side).click();
  await until(() => stateShown(page, side), "spoiled");
  const changes = await replan(page);
  assert.ok(changes.some((line) => /^sheets of ply to buy: 1 -> 0/.test(line)), changes.join("\n"));
  await key(page, "replan leave").click();
  await spoil(page, side).click();
  await until(() => stateShown(page, side), "to cut");
  await key(page, "bench steps").click();
  await key(page, "all steps").click();
  await key(page, "bench file").setInputFiles(path.join(at, "out", "plan.json"));
  await says(page, "is entered");
  await key(page, "bench post").click();
  await page.locator("#rack", { hasText: "24 3/8" }).waitFor();
  await close(page);
  await server.kill();
});

for (const colorScheme of ["light", "dark"])
  test(`no serious fault by axe-core at the bench, nothing cut off: ${colorScheme}`, async () => {
    await withBench({ "two.json": TWO, "small.json": SMALL }, "two", async ({ page }) => {
      await enter(page);
      const [first] = await page.$$eval("[data-piece]", (all) => all.map((one) => one.dataset.piece));
      await spoil(page, first).click();
      await until(() => stateShown(page, first), "spoiled");
      await replan(page);
      for (const name of ["bench steps", "bench damage", "bench left", "bench history", "bench new sheets"]) await key(page, name).click();
      for (const [width, height] of [[360, 740], [820, 1180], [1440, 1000]]) {
        await page.setViewportSize({ width, height });
        assert.deepStrictEqual(await axe(page), [], `${width} px`);
        assert.strictEqual(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth), true, `${width} px wide, and no wider`);
        if (process.env.DW_PICTURES) await page.locator("#bench").screenshot({ path: path.join(process.env.DW_PICTURES, `bench-${colorScheme}-${width}.png`) });
      }
    }, { colorScheme });
  });
