// work.js - below the sketch: the shop, the sheets and their search, the rack, the packet; and a job of 200 drawers.
"use strict";
const assert = require("node:assert");
const fs = require("node:fs");
const path = require("node:path");
const test = require("node:test");
const { button, chooseFront, close, commandLine, field, folder, front, heights, open, readJob, start, until, wide } = require("./harness.js");

async function withChest(run, samples = ["shop.json", "plan-chest.json"]) {
  const at = folder({}, samples);
  const server = await start(path.join(at, "plan-chest.json"));
  const page = await open(server.address);
  await front(page, 0).waitFor();
  await run(page, at);
  await close(page);
  await server.kill();
}

test("the shop is edited on the page and kept in its file; what is wrong is told at its field", async () => {
  await withChest(async (page, at) => {
    await page.locator("#shop summary", { hasText: "habits" }).click();
    const kerf = page.locator('[data-address="shop.habits.kerf"]');
    await kerf.fill("3/32");
    await page.keyboard.press("Enter");
    await until(() => readJob(at, "shop").habits.kerf, "3/32");
    await kerf.fill("a hair");
    await page.keyboard.press("Enter");
    await until(() => kerf.getAttribute("aria-invalid"), "true");
    assert.strictEqual(await kerf.inputValue(), "a hair");
    await kerf.fill("1/8");
    await page.keyboard.press("Enter");
    await until(() => kerf.getAttribute("aria-invalid"), null);
    const own = readJob(at, "shop");
    own.name = "Changed in an editor";
    fs.writeFileSync(path.join(at, "shop.json"), JSON.stringify(own));
    await kerf.fill("5/32");
    await page.keyboard.press("Enter");
    await page.getByRole("dialog").getByText("shop.json has changed on the disk").waitFor();
    assert.strictEqual(readJob(at, "shop").name, "Changed in an editor"); // never written over unasked
    await page.getByRole("dialog").getByRole("button", { name: "Open theirs" }).click();
    await until(() => page.locator('[data-address="shop.name"]').inputValue(), "Changed in an editor");
    assert.strictEqual(readJob(at, "shop").habits.kerf, "1/8");
    await button(page, "Undo in the shop").click(); // mine, told to
    await until(() => readJob(at, "shop").habits.kerf, "5/32");
  });
});

test("changes of the shop's file are undone and done again, by button and key, also when they come fast", async () => {
  await withChest(async (page, at) => {
    const first = readJob(at, "shop");
    assert.strictEqual(await page.locator("#shop-undo").isDisabled(), true);
    await page.locator("#shop summary", { hasText: "habits" }).click();
    await page.route("**/api/save*", async (route) => { await new Promise((later) => setTimeout(later, 300)); await route.continue(); });
    const kerf = page.locator('[data-address="shop.habits.kerf"]'), name = page.locator('[data-address="shop.name"]');
    await kerf.fill("3/32");
    await name.fill("Bench by the window"); // the one before is still on its way
    await page.keyboard.press("Enter");
    await until(() => [readJob(at, "shop").habits.kerf, readJob(at, "shop").name], ["3/32", "Bench by the window"]);
    await until(() => page.locator("#shop-undo").isDisabled(), false);
    await name.focus();
    await page.keyboard.press("Control+z");
    await until(() => readJob(at, "shop").name, first.name);
    await until(() => name.inputValue(), first.name);
    await page.keyboard.press("Control+z");
    await until(() => readJob(at, "shop"), first);
    await page.keyboard.press("Control+y");
    await until(() => readJob(at, "shop").habits.kerf, "3/32");
    await button(page, "Redo in the shop").click();
    await until(() => readJob(at, "shop").name, "Bench by the window");
    assert.strictEqual(await page.locator("#undo").isDisabled(), true); // the job has not changed
  });
});

test("parts are listed by hand, with faults at their fields, and come out as on the command line", async () => {
  await withChest(async (page, at) => {
    const before = commandLine(at, "parts", "plan-chest.json").parts.length;
    const count = readJob(at, "plan-chest").parts?.length ?? 0;
    const part = (key) => page.locator(`#listed [data-address="parts[${count}].${key}"]`);
    await button(page, "List a part").click();
    await until(() => part("name").evaluate((one) => one === document.activeElement), true);
    await page.keyboard.type("shelf");
    await page.keyboard.press("Tab");
    await part("length").fill("28 1/2");
    await part("width").fill("eleven");
    await page.keyboard.press("Tab");
    await until(() => part("width").getAttribute("aria-invalid"), "true");
    await part("width").fill("11");
    await part("count").fill("2");
    await page.keyboard.press("Enter");
    await until(() => part("width").getAttribute("aria-invalid"), null);
    await page.locator("#parts tbody tr", { hasText: "shelf" }).waitFor();
    await page.locator("#listed").getByRole("button", { name: "One more like it" }).last().click();
    await page.keyboard.type("top");
    await page.keyboard.press("Enter");
    await page.locator("#listed").getByRole("button", { name: `Remove by hand ${count + 1}` }).click();
    await page.keyboard.press("Control+z"); // the shelf is back
    await page.locator("#parts tbody tr", { hasText: "shelf" }).waitFor();
    await button(page, "Save").click();
    await until(() => page.locator("#saved").textContent(), "saved");
    const { parts } = commandLine(at, "parts", "plan-chest.json");
    assert.strictEqual(parts.length, before + 2);
    assert.deepStrictEqual(parts.filter((one) => ["shelf", "top"].includes(one.name)).map((one) => [one.name, one.length.show, one.width.show, one.pieces.length]),
      [["shelf", "28 1/2", "11", 2], ["top", "28 1/2", "11", 2]]);
  });
});

test("the rack: put in, take, enter the plan, undo; with the command line's own ledger", async () => {
  await withChest(async (page, at) => {
    await page.getByText("The rack is empty.").waitFor();
    const form = page.locator("#rack form");
    await form.getByLabel("Length").fill("thirty");
    await button(page, "Put in").click();
    await page.locator("#message", { hasText: "this is no size" }).waitFor();
    assert.strictEqual(await form.getByLabel("Length").inputValue(), "thirty");
    await form.getByLabel("Length").fill("30 1/2");
    await form.getByLabel("Width").fill("12");
    await form.getByLabel("Worth").fill("4.50");
    await button(page, "Put in").click();
    const rows = () => page.$$eval('#rack [aria-label="Offcuts in the rack"] tbody tr', (all) => all.map((row) => row.cells[0].textContent));
    await until(rows, ["R1"]);
    const { plan_id } = commandLine(at, "buy", "plan-chest.json");
    await button(page, `Enter plan ${plan_id}`).click();
    await until(async () => (await rows()).length > 1, true);
    const undo = page.locator("#rack button", { hasText: "Undo plan" });
    await undo.click();
    await until(rows, ["R1"]);
    await button(page, "Take R1").click();
    await page.getByText("The rack is empty.").waitFor();
  });
});

test("the packet comes as a PDF, the plan as its file", async () => {
  await withChest(async (page, at) => {
    const { plan_id } = commandLine(at, "buy", "plan-chest.json");
    await button(page, `Enter plan ${plan_id}`).waitFor(); // the search has come to its end
    await page.locator("#paper").selectOption("a4");
    const [packet] = await Promise.all([page.waitForEvent("download"), button(page, "Download the packet (PDF)").click()]);
    const bytes = fs.readFileSync(await packet.path(), "latin1");
    assert.ok(bytes.startsWith("%PDF-"));
    const [plan] = await Promise.all([page.waitForEvent("download"), button(page, "Download plan.json").click()]);
    assert.strictEqual(JSON.parse(fs.readFileSync(await plan.path(), "utf8")).plan_id, plan_id);
  });
});

test("sheets follow a change; what cannot be cut says so and leaves the old sheets marked as such", async () => {
  await withChest(async (page) => {
    await page.locator("#sheets img").first().waitFor();
    const before = await page.locator("#sheets img").first().getAttribute("src");
    await chooseFront(page, 0);
    await field(page, "cases[0].banks[0].drawers[0].height").fill("4");
    await page.keyboard.press("Enter");
    await until(async () => (await page.locator("#sheets img").first().getAttribute("src")) !== before, true);
    await button(page, "To its bank").click();
    await button(page, "To its case").click();
    await page.locator('#chosen [data-address$=".outside.width"], #chosen [data-address$=".opening.width"]').fill("130");
    await page.keyboard.press("Enter");
    await page.locator("#message", { hasText: "sheets cannot be laid out" }).waitFor();
    assert.match(await page.locator("#standing").textContent(), /earlier state/);
  });
});

test("a job of 200 drawers can be worked on, and its search stopped", async () => {
  const at = folder({ "many.json": wide(20, 10) }, ["shop.json"]);
  const server = await start(path.join(at, "many.json"));
  const page = await open(server.address);
  await until(async () => (await heights(page)).length, 200);
  await chooseFront(page, 0);
  await field(page, "cases[0].banks[0].drawers[0].height").fill("7");
  await page.keyboard.press("Enter");
  await until(async () => (await heights(page))[0], "7");
  await page.locator("#sheets img").first().waitFor({ timeout: 120000 });
  await page.locator("#patience").selectOption("lunch");
  await page.locator("#standing", { hasText: "Looking on" }).waitFor({ timeout: 120000 });
  await button(page, "Keep this one").click();
  await page.locator("#standing", { hasText: "The search was stopped." }).waitFor({ timeout: 120000 });
  assert.match(await page.locator("#buy").textContent(), /(could still save at most|nothing cheaper exists)/);
  await page.locator("#case-tabs").getByRole("button", { name: "Case 20" }).click();
  await page.locator('#sketch [data-address="cases[19].banks[0].drawers[9]"]').waitFor();
  await close(page);
  await server.kill();
});
