// keep.js - nothing gets lost: saving, reloading, a killed server, two tabs, a file changed by another program.
"use strict";
const assert = require("node:assert");
const fs = require("node:fs");
const path = require("node:path");
const test = require("node:test");
const { button, chooseFront, close, field, folder, front, heights, open, readJob, start, until } = require("./harness.js");

const FILES = ["shop.json", "service-bench.json"];
const middle = async (page) => (await heights(page)).slice(4, 8);

async function typeHeight(page, drawer, bank, height) {
  await chooseFront(page, drawer, bank);
  await field(page, `cases[0].banks[${bank}].drawers[${drawer}].height`).fill(height);
  await page.keyboard.press("Enter");
  await until(async () => (await heights(page)).includes(height), true);
}

const draftOf = (at, id) => path.join(at, ".drafts", `${id}.json`);

test("saved and reloaded; an unsaved change survives a closed tab and a killed server", async () => {
  const at = folder({}, FILES);
  let server = await start(path.join(at, "service-bench.json"));
  let page = await open(server.address);
  await front(page, 0).waitFor();
  await typeHeight(page, 0, 1, "4 1/2");
  await button(page, "Save").click();
  await until(() => page.locator("#saved").textContent(), "saved");
  assert.strictEqual(readJob(at, "service-bench").cases[0].banks[1].drawers[0].height, "4 1/2");
  await page.reload();
  await until(async () => (await middle(page))[0], "4 1/2");

  await typeHeight(page, 0, 1, "4 3/4");
  await until(() => fs.existsSync(draftOf(at, "service-bench")), true);
  await close(page); // the tab is closed
  page = await open(server.address);
  await until(async () => (await middle(page))[0], "4 3/4");
  await page.getByText("Unsaved changes from before are back").waitFor();

  await typeHeight(page, 0, 1, "5 1/4");
  await until(() => JSON.parse(fs.readFileSync(draftOf(at, "service-bench"), "utf8")).job.cases[0].banks[1].drawers[0].height, "5 1/4");
  page.serverGone = true;
  await server.kill("SIGKILL");
  await field(page, "cases[0].banks[1].drawers[0].height").fill("5 3/8");
  await page.keyboard.press("Enter");
  await button(page, "Keep the job as a file").waitFor(); // typed after the server was gone: the tab still holds it
  const [download] = await Promise.all([page.waitForEvent("download"), button(page, "Keep the job as a file").click()]);
  assert.strictEqual(JSON.parse(fs.readFileSync(await download.path(), "utf8")).cases[0].banks[1].drawers[0].height, "5 3/8");
  await close(page);

  server = await start(path.join(at, "service-bench.json"));
  page = await open(server.address);
  await until(async () => (await middle(page))[0], "5 1/4");
  assert.strictEqual(readJob(at, "service-bench").cases[0].banks[1].drawers[0].height, "4 1/2"); // the file itself is as it was saved
  await button(page, "Drop them and open the file as saved").click();
  await until(async () => (await middle(page))[0], "4 1/2");
  assert.strictEqual(fs.existsSync(draftOf(at, "service-bench")), false);
  await close(page);
  await server.kill();
});

/** Two tabs with the same job; the second has saved 4 1/4 since the first opened it, the first has 4 3/8. The first saves: asked, it answers. */
async function conflict(answer) {
  const at = folder({}, FILES);
  const server = await start(path.join(at, "service-bench.json"));
  const one = await open(server.address);
  await front(one, 0).waitFor();
  const two = await open(server.address, {}, one);
  await front(two, 0).waitFor();
  await typeHeight(two, 0, 1, "4 1/4");
  await button(two, "Save").click();
  await until(() => two.locator("#saved").textContent(), "saved");
  await typeHeight(one, 0, 1, "4 3/8");
  await button(one, "Save").click();
  await one.getByRole("dialog").getByRole("button", { name: answer }).click();
  return { at, server, one };
}

const savedHeight = (at, id = "service-bench") => readJob(at, id).cases[0].banks[1].drawers[0].height;

test("a newer file on the disk is never written over unasked: save under another name", async () => {
  const { at, server, one } = await conflict("Save mine under another name");
  assert.strictEqual(savedHeight(at), "4 1/4");
  await one.getByRole("dialog").getByLabel("Name").fill("bench two");
  await one.keyboard.press("Enter");
  await until(() => one.locator("#open").inputValue(), "bench two");
  assert.strictEqual(savedHeight(at), "4 1/4");
  assert.strictEqual(savedHeight(at, "bench two"), "4 3/8");
  await close(one);
  await server.kill();
});

test("... open theirs, and undo brings mine back", async () => {
  const { at, server, one } = await conflict("Open theirs");
  await until(async () => (await middle(one))[0], "4 1/4");
  await button(one, "Undo").click();
  await until(async () => (await middle(one))[0], "4 3/8");
  assert.strictEqual(savedHeight(at), "4 1/4");
  await close(one);
  await server.kill();
});

test("... write mine over it, when told so; nothing at all on Escape", async () => {
  const { at, server, one } = await conflict("Cancel");
  assert.strictEqual(savedHeight(at), "4 1/4");
  await button(one, "Save").click();
  await one.getByRole("dialog").waitFor();
  await one.keyboard.press("Escape");
  assert.strictEqual(savedHeight(at), "4 1/4");
  await button(one, "Save").click();
  await one.getByRole("dialog").getByRole("button", { name: "Write mine over it" }).click();
  await until(() => one.locator("#saved").textContent(), "saved");
  assert.strictEqual(savedHeight(at), "4 3/8");
  await close(one);
  await server.kill();
});

test("a draft is saved over the file it came from, and no newer one", async () => {
  const at = folder({}, FILES);
  const server = await start(path.join(at, "service-bench.json"));
  let page = await open(server.address);
  await front(page, 0).waitFor();
  await typeHeight(page, 0, 1, "4 1/2");
  await until(() => fs.existsSync(draftOf(at, "service-bench")), true);
  await close(page);
  const theirs = readJob(at, "service-bench");
  theirs.name = "Changed in an editor";
  fs.writeFileSync(path.join(at, "service-bench.json"), JSON.stringify(theirs));
  page = await open(server.address);
  await until(async () => (await middle(page))[0], "4 1/2");
  await button(page, "Save").click();
  await page.getByRole("dialog").getByText("has changed on the disk").waitFor();
  await page.keyboard.press("Escape");
  assert.strictEqual(readJob(at, "service-bench").name, "Changed in an editor");
  await close(page);
  await server.kill();
});

test("duplicate; a name that is taken or no name is refused", async () => {
  const at = folder({}, FILES);
  const server = await start(path.join(at, "service-bench.json"));
  const page = await open(server.address);
  await front(page, 0).waitFor();
  await button(page, "Duplicate").click();
  const name = page.getByRole("dialog").getByLabel("Name");
  await name.fill("../escape");
  await page.keyboard.press("Enter");
  assert.strictEqual(await page.getByRole("dialog").isVisible(), true); // the browser holds it back
  await name.fill("shop");
  await page.keyboard.press("Enter");
  await page.getByText("is there already").waitFor();
  await button(page, "Duplicate").click();
  await name.fill("second bench");
  await page.keyboard.press("Enter");
  await until(() => page.locator("#open").inputValue(), "second bench");
  assert.deepStrictEqual(readJob(at, "second bench"), readJob(at, "service-bench"));
  await close(page);
  await server.kill();
});

test("undo and redo without limit", async () => {
  const at = folder({}, FILES);
  const server = await start(path.join(at, "service-bench.json"));
  const page = await open(server.address);
  await front(page, 0).waitFor();
  const before = await heights(page);
  await page.locator('#sketch [data-grip="cases[0].banks[1].drawers[0]"]').focus();
  for (let i = 0; i < 60; i++) await page.keyboard.press(i % 20 < 10 ? "ArrowDown" : "ArrowUp");
  await page.keyboard.press("ArrowDown");
  await until(async () => (await middle(page))[0], "5 1/16");
  for (let i = 0; i < 61; i++) await page.keyboard.press("Control+z");
  await until(() => heights(page), before);
  assert.strictEqual(await page.locator("#undo").isDisabled(), true);
  for (let i = 0; i < 61; i++) await page.keyboard.press("Control+y");
  await until(async () => (await middle(page))[0], "5 1/16");
  await close(page);
  await server.kill();
});
