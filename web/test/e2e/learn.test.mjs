// The joint bench and the lessons.

import assert from "node:assert/strict";
import { test } from "node:test";
import {
  axe,
  createPiece,
  openPage,
  putAside,
  screens,
  server,
  setUp,
  sideways,
  slide,
  smallTargets,
} from "./browser.mjs";

const bed = setUp("Compared");

const go = (page, path) => page.goto(new URL(path, server).href);

test("joints are compared for sizes typed here, and a wrong one is told beside its field", async () => {
  const { page, faults } = await openPage(bed.browser);
  await go(page, "/joints");
  await page.locator(".drawn svg").waitFor();
  const rows = page.locator(".compared-joint");
  assert.ok((await rows.count()) > 10);
  assert.match(await page.locator(".compared-joint[data-chosen=true]").first().textContent(), /N·m/);
  const before = await page.locator("#compared-title").textContent();
  await page.getByLabel("Width of the rail").fill("90");
  await page.waitForFunction(() => /unit/.test(document.querySelector("#joint-width-more").textContent));
  assert.equal(await page.locator("#compared-title").textContent(), before, "the last answer stays");
  await page.getByLabel("Width of the rail").fill("3 1/2 in");
  await page.waitForFunction((old) => document.querySelector("#compared-title").textContent !== old, before);
  const kinds = await page.getByLabel("Show", { exact: true }).locator("option").allTextContents();
  await page.getByLabel("Show", { exact: true }).selectOption(kinds[1]);
  const few = await rows.count();
  assert.ok(few > 0);
  await page.getByLabel("Show", { exact: true }).selectOption("");
  assert.ok((await rows.count()) > few);
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(faults, []);
});

test("joints are compared at a connection of a piece, and the test log is one step away", async () => {
  const { page, faults } = await openPage(bed.browser, { screen: screens.phone, scheme: "dark" });
  await go(page, `/joints/${bed.id}`);
  await page.locator(".drawn svg").waitFor();
  const connection = page.getByLabel("Connection");
  const names = await connection.locator("option").allTextContents();
  assert.ok(names.length >= 2, names.join("; "));
  await connection.selectOption(names[1]);
  await page.waitForFunction(
    (name) => document.querySelector("#compared-title").textContent === name,
    names[1],
  );
  assert.ok((await sideways(page)) <= 0);
  assert.deepEqual(await smallTargets(page), []);
  assert.deepEqual(await axe(page), []);
  await page.getByRole("link", { name: "Enter a break in the test log" }).click();
  await page.getByRole("link", { name: "Compare joints, with your own tests laid over" }).waitFor();
  assert.deepEqual(faults, []);
});

test("every lesson opens, follows its inputs, and shows formula, values and source", async () => {
  const { page, faults } = await openPage(bed.browser);
  await go(page, "/learn");
  const lessons = await page
    .locator(".lessons a")
    .evaluateAll((all) => all.map((a) => a.getAttribute("href")));
  assert.ok(lessons.length >= 5);
  for (const path of lessons) {
    await page.locator(`.lessons a[href="${path}"]`).click();
    await page.locator(`.lessons a[href="${path}"][aria-current]`).waitFor();
    await page.locator(".pictures svg").nth(1).waitFor();
    const before = await page.locator(".says").textContent();
    const picture = await page.locator(".pictures").innerHTML();
    const slider = page.locator(".learn-page .rule").first();
    await slide(slider, await slider.getAttribute("max"));
    await page.waitForFunction((old) => document.querySelector(".says").textContent !== old, before);
    assert.notEqual(await page.locator(".pictures").innerHTML(), picture, path);
    for (const step of await page.locator(".working > li").allTextContents())
      assert.match(step, /Source: ./, `${path}: ${step}`);
    assert.deepEqual(await axe(page), [], path);
  }
  assert.deepEqual(faults, []);
});

test("a lesson answers to the keyboard, on the smallest screen and in the dark", async () => {
  const { page, faults } = await openPage(bed.browser, { screen: screens.small, scheme: "dark" });
  await go(page, "/learn/year");
  await page.locator(".says").waitFor();
  const before = await page.locator(".says").textContent();
  await page.getByLabel("Width of the top, slide").focus();
  await page.keyboard.press("PageUp");
  await page.waitForFunction((old) => document.querySelector(".says").textContent !== old, before);
  assert.ok((await sideways(page)) <= 0);
  assert.deepEqual(await smallTargets(page), []);
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(faults, []);
});

test("a piece is found on the shelf by words, and its next step is one press away", async () => {
  const { page, faults } = await openPage(bed.browser);
  const other = (await createPiece("Quite another thing")).id;
  try {
    await go(page, "/");
    const pieces = page.locator(".piece");
    await page.getByRole("link", { name: "Quite another thing" }).waitFor();
    await page.getByLabel("Search the shelf").fill("another quite");
    await page.waitForFunction(() => document.querySelectorAll(".piece").length === 1);
    assert.match(await pieces.textContent(), /Next: /);
    await page.getByLabel("Search the shelf").fill("no such piece at all");
    await page.waitForFunction(() => document.querySelectorAll(".piece").length === 0);
    assert.match(await page.locator("#search-found").textContent(), /^0 of \d+ pieces/);
    await page.getByLabel("Search the shelf").fill("");
    assert.ok((await pieces.count()) >= 2);
    assert.deepEqual(await axe(page), []);
    assert.deepEqual(await smallTargets(page), []);
  } finally {
    await putAside(other);
  }
  assert.deepEqual(faults, []);
});
