// A pattern's piece changed part by part: the change is in the text, survives another size, and says when it no longer fits.

import assert from "node:assert/strict";
import { test } from "node:test";
import { axe, openBench, openPage, screens, setUp, sideways, smallTargets } from "./browser.mjs";

const bed = setUp("Table by hand");

const tab = (page, name) => page.getByRole("tab", { name }).click();
const choosePart = async (page, name) => {
  await tab(page, "Parts");
  await page.locator(".part:not(.joint)", { hasText: name }).click();
  await page.locator(".part-editor").waitFor();
};
const pieceFile = async (page) => {
  await tab(page, "Text");
  return page.getByLabel("The piece file").inputValue();
};

test("a rail in another wood and a joint of another kind survive a change of size", async () => {
  const { page, faults } = await openPage(bed.browser);
  await openBench(page, bed.id);
  await choosePart(page, "apron front");
  await page.getByLabel("Wood", { exact: true }).selectOption("white ash");
  await page.locator(".by-hand li", { hasText: "white ash" }).waitFor();
  await page.getByLabel("Joint with leg front left").selectOption("mortise and tenon");
  await page.locator(".by-hand li", { hasText: "mortise and tenon" }).waitFor();
  await page.getByLabel("thickness", { exact: true }).fill("26 mm");
  await page.getByLabel("thickness", { exact: true }).press("Tab");
  await page.locator(".by-hand li", { hasText: "was 23 mm" }).waitFor();
  assert.equal(await page.locator(".by-hand li").count(), 2);
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(await smallTargets(page), []);

  await tab(page, "Sizes");
  await page.getByLabel("Length", { exact: true }).fill("1100 mm");
  await page.getByLabel("Length", { exact: true }).press("Tab");
  await page.locator(".caption, .verdict p").first().waitFor();
  const text = await pieceFile(page);
  assert.match(text, /part: apron front, species: white ash, thickness: 26 mm|part: apron front.*white ash/);
  await tab(page, "Parts");
  await page.locator(".by-hand li", { hasText: "was 23 mm" }).waitFor();

  // Taken out again, and stepped back.
  await page.getByRole("button", { name: "Take it out apron front to leg front left" }).click();
  await page.locator(".by-hand li", { hasText: "mortise and tenon" }).waitFor({ state: "detached" });
  await tab(page, "Sizes");
  await page.getByRole("button", { name: "Step back" }).click();
  await tab(page, "Parts");
  await page.locator(".by-hand li", { hasText: "mortise and tenon" }).waitFor();
  assert.deepEqual(faults, []);
});

test("a change says when it no longer fits, and the last plan stays", async () => {
  const { page, faults } = await openPage(bed.browser, { screen: screens.phone, scheme: "dark" });
  await openBench(page, bed.id);
  await choosePart(page, "low rail front");
  await page.getByRole("button", { name: "Leave it out low rail front" }).click();
  await page.locator(".by-hand li", { hasText: "left out" }).waitFor();
  await tab(page, "Sizes");
  await page.getByLabel("nothing", { exact: true }).check();
  await tab(page, "Parts");
  await page
    .locator(".by-hand .wrong", { hasText: 'the piece has no part "low rail front" at these sizes' })
    .waitFor();
  assert.equal((await page.locator(".parts > li").count()) > 8, true);
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(await smallTargets(page), []);
  assert.equal(await sideways(page), 0);
  await page.getByRole("button", { name: "Take it out low rail front" }).click();
  await page.locator(".by-hand").waitFor({ state: "detached" });
  await page.locator(".word").first().waitFor();
  assert.deepEqual(faults, []);
});
