// Timber and boards: what if, faults on a picture of a board, what stays over.

import assert from "node:assert/strict";
import { after, afterEach, before, test } from "node:test";
import { axe, createPiece, launch, openBench, openPage, putAside, smallTargets } from "./browser.mjs";

let browser;
let id;

before(async () => {
  browser = await launch();
  id = (await createPiece("Boards table")).id;
});

afterEach(async () => {
  for (const context of browser.contexts()) await context.close();
});

after(async () => {
  await putAside(id).catch(() => {});
  await browser?.close();
});

const open = async (page, chapter) => {
  await page.getByRole("button", { name: chapter, exact: true }).click();
  await page.locator(".board-tools").waitFor();
};

test("another length is laid out and nothing is saved", async () => {
  const { page, faults } = await openPage(browser);
  await openBench(page, id);
  await open(page, "Timber");
  await page.getByRole("button", { name: "Another length" }).click();
  await page.getByLabel("Length", { exact: true }).last().fill("nonsense");
  await page.getByRole("button", { name: "Lay it out" }).click();
  await page.locator(".board-tools .wrong").waitFor();
  await page.getByLabel("Length", { exact: true }).last().fill("4.2 m");
  await page.getByRole("button", { name: "Lay it out" }).click();
  await page.locator(".board-tools table").waitFor();
  assert.match(await page.locator(".board-tools table").textContent(), /To buy/);
  assert.deepEqual(faults, []);
});

test("a knot is drawn, moved by keys and put back", async () => {
  const { page, faults } = await openPage(browser);
  await openBench(page, id);
  await open(page, "Boards");
  const board = page.locator('[aria-label="Boards on hand"] .row button').first();
  await board.waitFor();
  await board.click();
  const list = page.locator(".fault-list button");
  const before = await list.count();
  const picture = page.locator(".fault-picture svg");
  await picture.scrollIntoViewIfNeeded();
  const box = await picture.boundingBox();
  await page.mouse.move(box.x + 0.4 * box.width, box.y + 0.2 * box.height);
  await page.mouse.down();
  await page.mouse.move(box.x + 0.5 * box.width, box.y + 0.6 * box.height, { steps: 4 });
  await page.mouse.up();
  assert.equal(await list.count(), before + 1);
  const was = await list.last().textContent();
  await list.last().focus();
  await page.keyboard.press("ArrowRight");
  assert.notEqual(await list.last().textContent(), was);
  await page.keyboard.press("Delete");
  assert.equal(await list.count(), before);
  assert.deepEqual(
    (await axe(page)).map((v) => v.id ?? v),
    [],
  );
  assert.deepEqual(await smallTargets(page), []);
  assert.deepEqual(faults, []);
});
