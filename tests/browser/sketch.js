// sketch.js - the sketch as the form: bench checks, fractions on a phone, drags, readings that cannot be understood.
"use strict";
const assert = require("node:assert");
const test = require("node:test");
const { button, chooseFront, close, column, field, folder, front, heights, open, readJob, start, until } = require("./harness.js");

const bench = (drawers, more = {}) => ({ format: 1, name: "bench", units: "in", shop: "shop.json",
  cases: [{ name: "Case", opening: { width: "24 1/2", height: "24 1/2", depth: "22" }, fit: "inset", slide: "side", front: { material: "cherry-3/4" },
    box: { sides: "birch-1/2", bottom: "birch-1/4" }, banks: [{ drawers, ...more }] }] });

async function withBench(job, options, run) {
  const at = folder({ "bench.json": job }, ["shop.json"]);
  const server = await start(`${at}/bench.json`);
  const page = await open(server.address, options);
  await front(page, 0).waitFor();
  await run(page, at, server);
  await close(page);
  await server.kill();
}

/** Sum of fronts and fractions, in 1/64. */
const total = (shown) => shown.map((text) => { const [, whole, top, bottom] = /^(\d+)?\s*(?:(\d+)\/(\d+))?$/.exec(text); return Number(whole || 0) * 64 + (top ? (64 * top) / bottom : 0); })
  .reduce((a, b) => a + b, 0);

// A worked example (common practice): 24 1/2 less five gaps of 1/8 is 23 7/8; less 5 it is 18 7/8, a third of which is 6 7/24: 6 1/4 twice, and 6 3/8 below.
test("5 typed for the top of four fronts: the others become 6 1/4, 6 1/4, 6 3/8; undo restores", async () => {
  await withBench(bench(4, { freed: "bottom front" }), {}, async (page) => {
    const before = await heights(page);
    await front(page, 0).dblclick();
    await page.locator("#typing input").fill("5");
    await page.keyboard.press("Enter");
    await until(() => heights(page), ["5", "6 1/4", "6 1/4", "6 3/8"]);
    assert.strictEqual(total(await heights(page)), 23.875 * 64);
    await button(page, "Undo").click();
    await until(() => heights(page), before);
    await button(page, "Redo").click();
    await until(() => heights(page), ["5", "6 1/4", "6 1/4", "6 3/8"]);
  });
});

test("where rounding goes is a choice of the bank", async () => {
  await withBench(bench([{ height: "5" }, {}, {}, {}]), {}, async (page) => {
    await until(() => heights(page), ["5", "6 1/4", "6 1/4", "6 1/4"]);
    await chooseFront(page, 0);
    await button(page, "To its bank").click();
    await field(page, "cases[0].banks[0].freed").selectOption("bottom front");
    await until(() => heights(page), ["5", "6 1/4", "6 1/4", "6 3/8"]);
  });
});

test("what rounding frees is told under the drawing, and where it goes is chosen there", async () => {
  await withBench(bench(4), {}, async (page) => {
    await front(page, 0).focus();
    await page.keyboard.type("5");
    await page.keyboard.press("Enter");
    await until(() => heights(page), ["5", "6 1/4", "6 1/4", "6 1/4"]);
    assert.deepStrictEqual(await page.$$eval("#sketch text.typed", (all) => all.map((one) => one.textContent)), ["1: 5"]); // what was given, and what moves
    await page.locator("#freed", { hasText: "rounding freed 1/8 in, spread evenly over 5 gaps" }).waitFor(); // 18 7/8 less 3 x 6 1/4
    await page.locator("#freed").getByLabel("What rounding frees in Case/1 goes").selectOption("bottom front");
    await until(() => heights(page), ["5", "6 1/4", "6 1/4", "6 3/8"]);
    await page.locator("#freed", { hasText: "rounding freed 1/8 in, given to Case/1/4" }).waitFor();
    await page.keyboard.press("Control+z");
    await until(() => heights(page), ["5", "6 1/4", "6 1/4", "6 1/4"]);
  });
});

test("typed heights that do not come out: one front takes what is left, at a button", async () => {
  await withBench(bench([{ height: "5" }, { height: "6 1/4" }, { height: "6 1/4" }, { height: "6 3/8" }]), {}, async (page) => {
    await until(() => page.locator("#freed").textContent(), ""); // 23 7/8 and five gaps fill the opening
    await chooseFront(page, 3);
    for (const [height, words] of [["6", "3/8 in is left for nobody"], ["7", "need 5/8 in more"]]) {
      await field(page, "cases[0].banks[0].drawers[3].height").fill(height);
      await page.keyboard.press("Enter");
      await page.locator("#freed .fault", { hasText: words }).waitFor();
    }
    await button(page, "Let 4 take what is left").click();
    await until(() => heights(page), ["5", "6 1/4", "6 1/4", "6 3/8"]);
    await until(() => page.locator("#freed").textContent(), "");
  });
});

test("a line dragged by 1/16 changes the two fixed fronts beside it, and their sum stays", async () => {
  await withBench(bench([{ height: "6" }, { height: "6" }, {}, {}]), {}, async (page) => {
    const [, , third, fourth] = await heights(page);
    const box = await front(page, 0).boundingBox();
    const sixteenth = box.height / 6 / 16; // pixels
    const x = box.x + box.width / 2, y = box.y + box.height + 1;
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (let i = 1; i <= 6; i++) await page.mouse.move(x, y + i * 3 * sixteenth); // far out, and back again
    await page.mouse.move(x, y + sixteenth);
    await page.mouse.up();
    await until(() => heights(page), ["6 1/16", "5 15/16", third, fourth]);
    await button(page, "Undo").click();
    await until(() => heights(page), ["6", "6", third, fourth]);
    assert.strictEqual(await page.locator("#undo").isDisabled(), true); // the whole drag was one change
  });
});

test("equal shares stay equal while a line is dragged; a mere click on it changes nothing", async () => {
  await withBench(bench(4), {}, async (page, at) => {
    const before = await heights(page);
    const box = await front(page, 0).boundingBox();
    const x = box.x + box.width / 2, y = box.y + box.height + 1;
    await page.mouse.click(x, y);
    await until(() => heights(page), before);
    assert.strictEqual(await page.locator("#undo").isDisabled(), true);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x, y + 20);
    await page.mouse.move(x, y + 40);
    await page.mouse.up();
    await until(async () => { const [top, ...rest] = await heights(page); return top !== before[0] && new Set(rest).size; }, 1);
    await page.keyboard.press("Control+s");
    await until(() => page.locator("#saved").textContent(), "saved");
    const { drawers } = readJob(at, "bench").cases[0].banks[0];
    assert.match(drawers[0].height, /^\d+( \d+\/(2|4|8|16))?$/); // on the rounding step
    assert.deepStrictEqual(drawers.slice(1), [{}, {}, {}]);
  });
});

test("14 15/16 goes in on a phone without a slash", async () => {
  await withBench(bench(4), { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true }, async (page, at) => {
    await page.locator("#sketch .opening").tap({ position: { x: 2, y: 1 }, force: true });
    await button(page, "To its case").tap();
    await field(page, "cases[0].opening.width").tap();
    await page.keyboard.press("Control+A");
    await page.keyboard.type("14");
    await page.locator("#fractions").getByRole("button", { name: "15/16", exact: true }).tap();
    await until(() => field(page, "cases[0].opening.width").inputValue(), "14 15/16");
    await until(() => column(page, "front wide"), Array(4).fill("14 11/16")); // less a gap of 1/8 on both sides
    await button(page, "Save").tap();
    await until(() => page.locator("#saved").textContent(), "saved");
    assert.strictEqual(readJob(at, "bench").cases[0].opening.width, "14 15/16");
  });
});

test("a touch drags a line", async () => {
  await withBench(bench([{ height: "6" }, { height: "6" }, {}, {}]), { viewport: { width: 820, height: 1180 }, hasTouch: true }, async (page) => {
    const box = await front(page, 0).boundingBox();
    const x = box.x + box.width / 2, y = box.y + box.height + 1, inch = box.height / 6;
    const fingers = await page.context().newCDPSession(page);
    const touch = (type, ...at) => fingers.send("Input.dispatchTouchEvent", { type, touchPoints: at.map((height) => ({ x, y: height })) });
    await touch("touchStart", y);
    for (let i = 1; i <= 8; i++) await touch("touchMove", y + (i * inch) / 8);
    await touch("touchEnd");
    await until(async () => (await heights(page)).slice(0, 2), ["7", "5"]);
  });
});

test("many readings of an opening: the least counts", async () => {
  await withBench(bench(4), {}, async (page) => {
    await field(page, "cases[0].opening.width").fill("24 1/2; 24 7/16; 24 9/16");
    await page.keyboard.press("Enter");
    await until(() => column(page, "front wide"), Array(4).fill("24 3/16"));
  });
});

test("a reading that cannot be understood is told at its field, and nothing is lost", async () => {
  await withBench(bench(4), {}, async (page, at, server) => {
    const before = await heights(page);
    await chooseFront(page, 0);
    const height = field(page, "cases[0].banks[0].drawers[0].height");
    await height.fill("six and a bit");
    await page.keyboard.press("Tab");
    await until(() => height.getAttribute("aria-invalid"), "true");
    assert.match(await page.locator(`#${await height.getAttribute("aria-describedby")}`).textContent(), /six and a bit/);
    assert.strictEqual(await height.inputValue(), "six and a bit");
    assert.deepStrictEqual(await heights(page), before);
    assert.ok(await page.locator("#stale").isVisible());
    await field(page, "cases[0].banks[0].drawers[0].name").fill("lids"); // other fields go on
    await page.keyboard.press("Enter");
    await chooseFront(page, 1);
    await page.locator("#message", { hasText: "six and a bit" }).waitFor(); // still told, with a way there
    await page.locator("#message").getByRole("button", { name: "Go there" }).click();
    await until(() => height.inputValue(), "six and a bit");
    await new Promise((later) => setTimeout(later, 300));
    const again = await open(server.address, {}, page); // the draft keeps it too
    await field(again, "cases[0].banks[0].drawers[0].height").waitFor({ state: "detached" });
    await again.locator("#message").getByRole("button", { name: "Go there" }).click();
    assert.strictEqual(await field(again, "cases[0].banks[0].drawers[0].height").inputValue(), "six and a bit");
    assert.strictEqual(await field(again, "cases[0].banks[0].drawers[0].name").inputValue(), "lids");
    await again.close();
    await height.fill("6 1/4");
    await page.keyboard.press("Enter");
    await until(async () => (await heights(page))[0], "6 1/4");
    assert.strictEqual(await height.getAttribute("aria-invalid"), null);
  });
});

test("what is being typed stays when an answer comes in between", async () => {
  await withBench(bench(4), {}, async (page) => {
    await chooseFront(page, 0);
    await page.route("**/api/size", async (route) => { await new Promise((later) => setTimeout(later, 400)); await route.continue(); });
    await field(page, "cases[0].banks[0].drawers[0].height").fill("5");
    await page.keyboard.press("Tab");
    await page.keyboard.type("ta");
    await until(async () => (await heights(page))[0], "5");
    await page.keyboard.type("cks");
    await page.keyboard.press("Enter");
    await until(async () => (await column(page, "drawer"))[0].split("/").pop(), "tacks");
  });
});
