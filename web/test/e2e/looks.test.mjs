// Looking at the piece: put together step by step, through the year, along the grain, and one thing chosen everywhere.

import assert from "node:assert/strict";
import { test } from "node:test";
import { axe, openBench, openPage, screens, setUp, sideways, smallTargets } from "./browser.mjs";
import { difference } from "./pictures.mjs";

const bed = setUp("Looked at");

const show = (page, what) => page.getByLabel("Show", { exact: true }).selectOption({ label: what });
const words = (page) => page.locator(".look-words").textContent();
const caption = (page) => page.locator(".caption").textContent();
const canvas = (page) => page.locator("canvas");
const rest = 1500; // ms after which nothing more is drawn
const picture = async (page) => {
  await page.waitForTimeout(rest);
  return canvas(page).screenshot();
};

test("the order of assembly is played in steps, forward and back, by buttons and by keys", async () => {
  const { page, faults } = await openPage(bed.browser);
  await openBench(page, bed.id);
  const whole = await picture(page);
  await show(page, "how it goes together");
  assert.match(await words(page), /^Step 1 of \d+: .* onto /);
  const first = await picture(page);
  assert.ok((await difference(bed.browser, first, whole)).dots > 200);
  assert.deepEqual(await axe(page), []);
  assert.equal(
    await page.getByRole("button", { name: "Play putting together" }).count(),
    0,
    "less motion is wanted",
  );
  const slider = page.getByLabel("How far: putting together");
  await slider.focus();
  await page.keyboard.press("ArrowRight");
  assert.match(await words(page), /^Step 2 of/);
  await page.getByRole("button", { name: "One step on" }).click();
  assert.match(await words(page), /^Step 3 of/);
  await page.getByRole("button", { name: "One step back" }).click();
  await page.getByRole("button", { name: "One step back" }).click();
  assert.equal((await difference(bed.browser, await picture(page), first)).dots, 0);
  await slider.press("End");
  assert.equal(await words(page), "All together.");
  await show(page, "the piece");
  assert.equal((await difference(bed.browser, await picture(page), whole)).dots, 0);
  assert.deepEqual(faults, []);
});

test("where motion is welcome the assembly plays by itself and stops at its end or when it is told to", async () => {
  const { page, faults } = await openPage(bed.browser);
  await page.emulateMedia({ reducedMotion: "no-preference" });
  await openBench(page, bed.id);
  await show(page, "how it goes together");
  await page.waitForFunction(() => /^Step [2-9] of/.test(document.querySelector(".look-words").textContent));
  await page.getByRole("button", { name: "Stop putting together" }).click();
  const stopped = await words(page);
  await page.waitForTimeout(2000);
  assert.equal(await words(page), stopped);
  assert.deepEqual(faults, []);
});

test("the year swells the top and says by how much and how much larger it is drawn", async () => {
  const { page, faults } = await openPage(bed.browser);
  await openBench(page, bed.id);
  await show(page, "what the year does");
  assert.match(
    await words(page),
    /^July: wood at [\d.]+ %, the top is [\d.]+ mm wider .* Drawn \d+ times as large/,
  );
  const july = await picture(page);
  for (let i = 0; i < 6; i++) await page.getByRole("button", { name: "One month back" }).click();
  assert.match(await words(page), /^January: .* narrower/);
  assert.ok((await difference(bed.browser, await picture(page), july)).dots > 200);
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(faults, []);
});

test("one looks along the grain of the part that is chosen", async () => {
  const { page, faults } = await openPage(bed.browser);
  await openBench(page, bed.id);
  await page.getByRole("tab", { name: "Parts" }).click();
  await page.locator(".part", { hasText: "apron front" }).first().click();
  const before = await picture(page);
  await page.locator(".from select").selectOption({ label: "along the grain" });
  const along = await picture(page);
  assert.ok((await difference(bed.browser, along, before)).dots > 200);
  await page.locator(".from select").selectOption({ label: "the corner" });
  assert.equal((await difference(bed.browser, await picture(page), before)).dots, 0);
  assert.deepEqual(faults, []);
});

test("a joint is the same in the list, in the picture, and in the words and drawings of a chapter", async () => {
  const { page, faults } = await openPage(bed.browser);
  await openBench(page, bed.id);
  const joint = "apron front to leg front left";
  await page.getByRole("tab", { name: "Parts" }).click();
  await page.getByRole("button", { name: joint }).click();
  assert.match(await caption(page), new RegExp(`B1 and A1.*${joint}: \\d+ × `));
  await page.getByRole("button", { name: "Marking" }).click();
  const named = page.locator(`.document [data-joint="${joint}"]`).first();
  await named.waitFor();
  assert.equal(await named.getAttribute("aria-pressed"), "true");
  const other = page
    .locator(".document button[data-joint]", { hasText: "apron left to leg front left" })
    .first();
  await other.click();
  assert.match(await caption(page), /apron left to leg front left/);
  assert.equal(await named.getAttribute("aria-pressed"), "false");

  await page.getByRole("button", { name: "The piece", exact: true }).click();
  const label = page.locator('.document svg [data-part="F1"]').first();
  await label.focus();
  await page.keyboard.press("Enter");
  assert.match(await caption(page), /F1 top/);
  assert.equal(await label.getAttribute("aria-pressed"), "true");
  assert.match(await page.locator(".part[aria-pressed=true]").first().textContent(), /top/);
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(faults, []);
});

test("a joint is picked by its dot while one sees through the wood", async () => {
  const { page, faults } = await openPage(bed.browser);
  await openBench(page, bed.id);
  await page.locator(".from select").selectOption({ label: "above" });
  await page.getByLabel("See through the wood").check();
  await page.waitForTimeout(rest);
  // From above the four corners hold the dots of legs and aprons: one of them lies under this search.
  const box = await canvas(page).boundingBox();
  let found = "";
  for (let x = 0.2; x < 0.5 && !/to leg/.test(found); x += 0.012)
    for (let y = 0.15; y < 0.45 && !/to leg/.test(found); y += 0.03) {
      await page.mouse.click(box.x + box.width * x, box.y + box.height * y);
      found = await caption(page);
    }
  assert.match(found, /to leg/);
  assert.deepEqual(faults, []);
});

for (const [name, screen] of Object.entries({ phone: screens.phone, small: screens.small }))
  test(`on a phone a chapter has most of the screen and its verdicts in sight: ${name}`, async () => {
    const { page, faults } = await openPage(bed.browser, { screen, scheme: "dark" });
    await openBench(page, bed.id);
    await page.getByRole("tab", { name: "Chapters" }).click();
    await page.getByRole("button", { name: "Does it hold" }).click();
    const verdict = page.locator(".document td[data-head=Verdict]").first();
    await verdict.waitFor();
    await page.waitForTimeout(300);
    const stuck = await page.locator(".always").evaluate((e) => e.getBoundingClientRect().height);
    assert.ok(
      stuck <= screen.height * 0.34,
      `${stuck} of ${screen.height} px are taken by what stays in sight`,
    );
    await verdict.scrollIntoViewIfNeeded();
    const at = await verdict.boundingBox();
    assert.ok(at.x >= 0 && at.x + at.width <= screen.width, `the verdict ends at ${at.x + at.width} px`);
    assert.ok((await sideways(page)) <= 0);
    await page.getByRole("button", { name: "Larger picture" }).click();
    await page.locator(".hands").waitFor();
    assert.deepEqual(await smallTargets(page), []);
    assert.deepEqual(await axe(page), []);
    await page.getByRole("button", { name: "Smaller picture" }).click();
    await page.locator(".hands").waitFor({ state: "hidden" });
    assert.deepEqual(faults, []);
  });
