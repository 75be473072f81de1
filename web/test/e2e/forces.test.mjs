// What a part carries, and the load that comes and goes, in a browser against a running Longgrain.

import assert from "node:assert/strict";
import { test } from "node:test";
import { axe, openBench, openPage, screens, setUp, sideways, smallTargets } from "./browser.mjs";

const bed = setUp("Test table");

const drawing = (page) => page.locator(".forces svg > title");

for (const [screen, scheme] of [
  ["wide", "light"],
  ["wide", "dark"],
  ["phone", "dark"],
  ["small", "light"],
]) {
  test(`a part and a load are chosen by keys and the forces are drawn: ${screen}, ${scheme}`, async () => {
    const { page, faults } = await openPage(bed.browser, { screen: screens[screen], scheme });
    await openBench(page, bed.id);
    if (screen !== "wide") await page.getByRole("tab", { name: /Chapters/ }).click();
    await page.getByRole("button", { name: "Does it hold" }).click();
    await page.locator(".document table").first().waitFor();
    await page.getByRole("button", { name: "What a part carries" }).focus();
    await page.keyboard.press("Enter");
    await drawing(page).waitFor({ state: "attached" });
    const part = page.getByRole("combobox", { name: "Part", exact: true });
    const before = await part.inputValue();
    await part.focus();
    await page.keyboard.press("Home"); // the first of the list: a leg
    await page.waitForFunction(() =>
      /Forces along the leg/.test(document.querySelector(".forces svg > title")?.textContent),
    );
    assert.notEqual(await part.inputValue(), before);
    const load = page.getByRole("combobox", { name: "Under", exact: true });
    const [hardest, other] = await load.locator("option").allTextContents();
    await load.selectOption(other);
    await page.locator(".forces [role=status]", { hasText: other }).waitFor();
    assert.notEqual(hardest, other);
    await page.getByText("The same in words").click();
    assert.match(await page.locator(".forces dd").first().textContent(), /Above the line: .*Below it: /);
    assert.deepEqual(await axe(page), []);
    assert.deepEqual(await smallTargets(page), []);
    assert.equal(await sideways(page), 0);
    if (process.env.PICTURES)
      await page.locator(".forces").screenshot({ path: `${process.env.PICTURES}/${screen}-${scheme}.png` });
    await page.getByRole("button", { name: "Put away" }).click();
    assert.equal(await drawing(page).count(), 0);
    assert.deepEqual(faults, []);
  });
}

test("the load comes and goes only when that is asked for, and stops where it is", async () => {
  const context = await bed.browser.newContext({ viewport: screens.wide });
  const page = await context.newPage();
  await openBench(page, bed.id);
  await page.getByLabel("Show", { exact: true }).selectOption({ label: "how it bends" });
  await page.locator(".look-words", { hasText: /Drawn \d+ times/ }).waitFor();
  await page.waitForTimeout(1500); // after which nothing more is drawn
  const look = () => page.locator("canvas").screenshot();
  const still = await look();
  await page.waitForTimeout(700);
  assert.deepEqual(await look(), still, "nothing moves by itself");
  await page.getByRole("button", { name: /^Play/ }).click();
  await page.waitForTimeout(700);
  assert.notDeepEqual(await look(), still);
  await page.getByRole("button", { name: /^Pause/ }).click();
  await page.waitForTimeout(1500);
  const stopped = await look();
  await page.waitForTimeout(700);
  assert.deepEqual(await look(), stopped);
});
