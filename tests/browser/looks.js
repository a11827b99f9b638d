// looks.js - how the page looks and how fast it is: axe-core's rules at three widths, light and dark; nothing cut off; pictures and a print for people to look
// at; figures of speed, which are told and not judged (a clock is no proof on a shared machine).
"use strict";
const assert = require("node:assert");
const fs = require("node:fs");
const path = require("node:path");
const test = require("node:test");
const { axe, button, chooseFront, close, field, folder, front, heights, open, start, until, wide } = require("./harness.js");

const pictures = process.env.DW_PICTURES;
const WIDTHS = [[360, 740], [820, 1180], [1440, 1000]];

async function planned(samples, job, options) {
  const at = folder({}, samples);
  const server = await start(path.join(at, job));
  const page = await open(server.address, options);
  await page.locator("#sheets img").first().waitFor();
  return { at, server, page };
}

for (const colorScheme of ["light", "dark"])
  test(`no serious fault by axe-core, nothing cut off: ${colorScheme}`, async () => {
    const { server, page } = await planned(["shop.json", "service-bench.json"], "service-bench.json", { colorScheme });
    for (const [width, height] of WIDTHS) {
      await page.setViewportSize({ width, height });
      await chooseFront(page, 1, 1);
      assert.deepStrictEqual(await axe(page), [], `${width} px`);
      assert.strictEqual(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth), true, `${width} px wide, and no wider`);
      await page.evaluate(() => window.scrollTo(0, 0));
      if (pictures) await page.screenshot({ path: path.join(pictures, `${colorScheme}-${width}.png`), fullPage: true });
    }
    await field(page, "cases[0].banks[1].drawers[1].height").fill("no size"); // with a fault told, everything unfolded, and a dialog
    await page.keyboard.press("Enter");
    await page.locator("#chosen .fault").waitFor();
    for (let i = 0; i < 3; i++) await page.$$eval("details:not([open])", (all) => all.forEach((one) => { one.open = true; }));
    assert.deepStrictEqual(await axe(page), []);
    await button(page, "New").click();
    await page.getByRole("dialog").waitFor();
    assert.deepStrictEqual(await axe(page), []);
    await page.keyboard.press("Escape");
    await close(page);
    await server.kill();
  });

test("what can be hit is large enough, also the lines between fronts (WCAG 2.2, 2.5.8: 24 pixels)", async () => {
  const { server, page } = await planned(["shop.json", "service-bench.json"], "service-bench.json", { viewport: { width: 360, height: 740 } });
  const small = await page.$$eval("button, select, input, summary", (all) => all.map((one) => [one.textContent.trim() || one.id || one.dataset.address, one.getBoundingClientRect()])
    .filter(([, at]) => at.width > 0 && (at.height < 24 || at.width < 24)).map(([name, at]) => `${name}: ${at.width} x ${at.height}`));
  assert.deepStrictEqual(small, []);
  await close(page);
  await server.kill();
});

test("it prints: the controls stay behind, the figures do not", async () => {
  const { server, page } = await planned(["shop.json", "plan-chest.json"], "plan-chest.json");
  await page.emulateMedia({ media: "print" });
  const type = () => page.$eval("#sketch text", (one) => Number(one.getAttribute("font-size")));
  const onScreen = await type();
  await page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
  assert.ok((await type()) > onScreen, "what is small on paper is written larger");
  await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
  assert.strictEqual(await type(), onScreen);
  assert.strictEqual(await page.locator("#save").isVisible(), false);
  assert.strictEqual(await page.locator("#chosen").isVisible(), false);
  assert.strictEqual(await page.locator("#sizes table").isVisible(), true);
  const bytes = await page.pdf(pictures ? { path: path.join(pictures, "print.pdf"), format: "Letter" } : { format: "Letter" });
  assert.ok(bytes.length > 10000);
  await close(page);
  await server.kill();
});

test("speed and weight (told, and only the weight judged)", async (t) => {
  const at = folder({ "sixty.json": wide(6, 10) }, ["shop.json"]);
  const server = await start(path.join(at, "sixty.json"));
  const page = await open(server.address);
  await until(async () => (await heights(page)).length, 60);
  const paint = await page.evaluate(() => performance.getEntriesByName("first-contentful-paint")[0].startTime);
  const weight = await page.evaluate(() => [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")]
    .filter((entry) => !entry.name.includes("/api/")).reduce((sum, entry) => sum + entry.transferSize, 0));
  await chooseFront(page, 0);
  const spent = [];
  for (const height of ["5 1/2", "5 3/4", "6", "6 1/4", "6 1/2"]) {
    spent.push(await page.evaluate(async ([address, text]) => {
      const input = document.querySelector(`#chosen [data-address="${address}"]`);
      const changed = new Promise((resolve) => new MutationObserver((_, observer) => { observer.disconnect(); resolve(performance.now()); }).observe(document.getElementById("sizes"), { childList: true }));
      input.value = text;
      const from = performance.now();
      input.dispatchEvent(new Event("said"));
      return (await changed) - from;
    }, ["cases[0].banks[0].drawers[0].height", height]));
    await until(async () => (await heights(page))[0], height);
  }
  spent.sort((a, b) => a - b);
  t.diagnostic(`first paint ${paint.toFixed(0)} ms (aim 300); a change of 60 drawers shown in sizes after ${spent[2].toFixed(0)} ms, median of 5 (aim 50); page weight ${(weight / 1000).toFixed(1)} kB (most 300)`);
  assert.ok(weight < 300000);
  await close(page);
  await server.kill();
});
