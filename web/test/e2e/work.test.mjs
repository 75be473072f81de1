// The list of work at the bench, in a browser, against a running Longgrain.

import assert from "node:assert/strict";
import { after, afterEach, before, beforeEach, test } from "node:test";
import {
  axe,
  createPiece,
  launch,
  openBench,
  openPage,
  putAside,
  screens,
  server,
  sideways,
  smallTargets,
} from "./browser.mjs";

let browser;
let id;

before(async () => {
  browser = await launch();
});

beforeEach(async () => {
  id = (await createPiece("Work table")).id;
});

afterEach(async () => {
  for (const context of browser.contexts()) await context.close();
  await putAside(id).catch(() => {});
});

after(async () => {
  await browser?.close();
});

async function openOrder(page) {
  await openBench(page, id);
  const tab = page.getByRole("tab", { name: "Chapters" });
  if (await tab.isVisible()) await tab.click();
  await page.getByRole("button", { name: "Order of work" }).click();
  await page.locator(".work-list .task").first().waitFor();
}

const state = (page) => page.locator(".work-list [role=status]").textContent();
const done = (page, n) =>
  page.waitForFunction(
    (n) => document.querySelector(".work-list [role=status]")?.textContent.startsWith(`${n} of `),
    n,
  );

test("a task is started, stopped, noted, ticked off and taken back, and the rest is planned again", async () => {
  const { page, faults } = await openPage(browser);
  await openOrder(page);
  assert.match(await state(page), /^0 of \d+ tasks done\. Ends /);
  const buy = page.locator(".task", { hasText: "buy timber" }).first();
  await buy.getByRole("button", { name: /^Start/ }).click();
  await buy.getByRole("button", { name: /^Stop/ }).click();
  await buy.getByRole("button", { name: /^Go on/ }).waitFor();
  await buy.getByRole("button", { name: /^Note/ }).click();
  await page.getByLabel("Note", { exact: true }).fill("the yard had no 1x5");
  await page.getByRole("button", { name: "Keep" }).click();
  await page.getByText("Noted: the yard had no 1x5").waitFor();
  await buy.getByRole("button", { name: /^Done/ }).click();
  await done(page, 1);
  assert.deepEqual(await axe(page), []);
  await page.reload();
  await openOrder(page);
  await done(page, 1);
  await page.getByLabel("Show days that are done").check();
  const again = page.locator(".task", { hasText: "buy timber" }).first();
  await again.getByRole("button", { name: /^Not done/ }).click();
  await done(page, 0);
  const calendar = await page.getByRole("link", { name: "Calendar of what is left" }).getAttribute("href");
  const text = await (await fetch(new URL(calendar, server))).text();
  assert.match(text, /^BEGIN:VCALENDAR\r\n/);
  assert.deepEqual(faults, []);
});

test("what is ticked off without network is sent when it is back", async () => {
  const { page, faults } = await openPage(browser, {
    screen: screens.phone,
    expected: ["ERR_INTERNET_DISCONNECTED"],
  });
  await openOrder(page);
  await page.context().setOffline(true);
  const buy = page.locator(".task", { hasText: "buy timber" }).first();
  await buy.getByRole("button", { name: /^Done/ }).click();
  await page.getByText("1 entry waits to be sent").waitFor();
  await page.context().setOffline(false);
  await done(page, 1);
  assert.doesNotMatch(await state(page), /to be sent/);
  assert.ok((await sideways(page)) <= 0);
  assert.deepEqual(await smallTargets(page), []);
  assert.deepEqual(faults, []);
});
