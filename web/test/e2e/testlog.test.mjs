// The test log in a browser, against a running Longgrain with a log of its own: nothing that is logged goes away.

import assert from "node:assert/strict";
import { after, afterEach, before, test } from "node:test";
import { axe, launch, openPage, screens, server, sideways, smallTargets } from "./browser.mjs";

let browser;

before(async () => {
  browser = await launch();
});

afterEach(async () => {
  for (const context of browser.contexts()) await context.close();
});

after(async () => {
  await browser?.close();
});

const refusal = "the server responded with a status of 422";

async function openLog(options) {
  const opened = await openPage(browser, options);
  await opened.page.goto(new URL("/tests", server).href);
  await opened.page.getByRole("heading", { name: "Enter a break" }).waitFor();
  return opened;
}

const field = (page, name) => page.getByLabel(name, { exact: true });
const logged = async () => (await fetch(new URL("/api/tests", server))).json();
const put = (page) => page.getByRole("button", { name: "Put it in the log" }).click();

/** Fills in two dowels with every size that the book asks for. */
async function fillDowels(page) {
  await field(page, "Kind of joint").fill("dowels");
  await field(page, "Wood").fill("eastern white pine");
  for (const [name, text] of Object.entries({
    "How many": "2",
    "Rail width": "3 1/2 in",
    "Rail thickness": "19 mm",
    Diameter: "8 mm",
    "Depth in rail": "20 mm",
    "Depth in leg": "20 mm",
    Spacing: "2 in",
    Lever: "12 in",
  }))
    await field(page, name).fill(text);
  await field(page, "How it was loaded").selectOption("open");
}

test("a break is entered, what is wrong is told beside each field, and the next one is quick", async () => {
  const { page, faults } = await openLog({ expected: [refusal] });
  const before = (await logged()).length;
  await fillDowels(page);
  await field(page, "Largest load").fill("100");
  await field(page, "Lever").fill("twelve");
  await put(page);
  await page.locator("[aria-invalid=true]").nth(1).waitFor();
  const told = await page.locator(".field .wrong").allTextContents();
  assert.ok(
    told.some((t) => /no unit.*430 N|no unit.*950 N/.test(t)),
    `the load is told as ${told}`,
  );
  assert.equal((await logged()).length, before);
  assert.equal(await page.evaluate(() => document.activeElement?.getAttribute("aria-invalid")), "true");

  await field(page, "Largest load").fill("100 lbf");
  await field(page, "Lever").fill("12 in");
  await field(page, "What gave way").selectOption("wood");
  await put(page);
  await page.getByText(/The test is in the log\. The book gave \d+ N/).waitFor();
  // The same joint in the same rig: only the load is asked for again.
  assert.equal(await field(page, "Largest load").inputValue(), "");
  assert.equal(await field(page, "Diameter").inputValue(), "8 mm");
  assert.equal(
    await page.evaluate(() => document.activeElement === document.querySelector("form input")),
    true,
  );
  for (const load of ["46 kgf", "430 N", "0.41 kN"]) {
    await field(page, "Largest load").fill(load);
    const count = (await logged()).length;
    await page.keyboard.press("Enter");
    await page.waitForFunction(
      (n) => document.querySelectorAll(".tests > li").length >= Math.min(n, 20),
      count + 1,
    );
    await page.waitForFunction(() => document.querySelector("form input").value === "");
  }
  const all = await logged();
  assert.equal(all.length, before + 4);
  assert.equal(all.at(-1).load.text, "0.41 kN");
  assert.deepEqual(all.at(-1).lacks, []);
  await page.getByText(/dowels in softwood, pulled or bent: by \d+ tests/).waitFor();
  assert.ok((await page.locator(".chart svg circle, .chart svg path").count()) >= 4);
  const drawn = await page.locator(".chart svg").first().boundingBox();
  assert.ok(drawn.width > 500 && drawn.height > 60, `the drawing is ${drawn.width} by ${drawn.height}`);
  assert.deepEqual(faults, []);
});

test("a correction is a new version, and the old record stays readable", async () => {
  const { page, faults } = await openLog();
  await fillDowels(page);
  await field(page, "Largest load").fill("340 N");
  await put(page);
  await page.getByText(/The test is in the log/).waitFor();
  const number = (await logged()).length;
  await page.getByRole("button", { name: `Correct test ${number}`, exact: true }).click();
  await page.getByRole("heading", { name: `Correct test ${number}` }).waitFor();
  assert.equal(await field(page, "Largest load").inputValue(), "340 N");
  await field(page, "Largest load").fill("430 N");
  await field(page, "Note").fill("read the scale wrong");
  await page.getByRole("button", { name: "Save the correction" }).click();
  await page.getByText(/correction is saved/).waitFor();
  await page.getByRole("button", { name: `History of test ${number}` }).click();
  const dialog = page.getByRole("dialog", { name: `History of test ${number}` });
  await dialog.getByText("load: 430 N, was 340 N").waitFor();
  await dialog.getByText("note: read the scale wrong, was nothing").waitFor();
  assert.equal(await dialog.locator(".past > li").count(), 2);
  await page.keyboard.press("Escape");
  await dialog.waitFor({ state: "hidden" });

  await page.getByRole("button", { name: `Correct test ${number}`, exact: true }).click();
  await page.getByLabel("Leave this test out").check();
  await page.getByRole("button", { name: "Save the correction" }).click();
  await page.getByText("Left out.").first().waitFor();
  assert.equal((await logged()).at(-1).withdrawn, true);
  assert.deepEqual(faults, []);
});

test("a photograph is made smaller, kept and shown", async () => {
  const { page, faults } = await openLog();
  const big = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(3000, 2000);
    const draw = canvas.getContext("2d");
    draw.fillStyle = "tan";
    draw.fillRect(0, 0, 3000, 2000);
    const bytes = new Uint8Array(await (await canvas.convertToBlob({ type: "image/png" })).arrayBuffer());
    return [...bytes];
  });
  await page.getByLabel("Photograph of the broken joint").setInputFiles({
    name: "broken.png",
    mimeType: "image/png",
    buffer: Buffer.from(big),
  });
  await page.locator(".photo").waitFor();
  await page.waitForFunction(() => document.querySelector(".photo").naturalWidth === 1600);
  await fillDowels(page);
  await field(page, "Largest load").fill("420 N");
  await put(page);
  await page.getByText(/The test is in the log/).waitFor();
  const number = (await logged()).length;
  await page.getByRole("link", { name: `Photograph of test ${number}` }).waitFor();
  const kept = await fetch(new URL(`/api/pictures/${(await logged()).at(-1).picture}`, server));
  assert.equal(kept.headers.get("content-type"), "image/jpeg");
  assert.match(kept.headers.get("content-security-policy"), /sandbox/);

  await page.getByLabel("Photograph of the broken joint").setInputFiles({
    name: "broken.png",
    mimeType: "image/png",
    buffer: Buffer.from("no picture"),
  });
  await page.getByText("this file is no picture").waitFor();
  assert.deepEqual(faults, []);
});

test("a table is taken in whole, or its problems are told row by row", async () => {
  const { page, faults } = await openLog();
  const before = (await logged()).length;
  const choose = (text) =>
    page.getByLabel("Table of tests").setInputFiles({
      name: "log.csv",
      mimeType: "text/csv",
      buffer: Buffer.from(text),
    });
  await choose("joint,species,load,lever\ndowels,sugar pine,950 N,300 mm\ntenon,sugar pine,212,12\n");
  await page.getByText("Nothing of this table was taken in").waitFor();
  assert.equal(await page.locator(".problems li").count(), 2);
  assert.match(await page.locator(".problems li").first().textContent(), /Line 3: .*load.*no unit/);
  assert.equal((await logged()).length, before);
  await choose(
    "joint;species;load;lever\ndowels;sugar pine;950 N;300 mm\ntenon;sugar pine;212 lbf;12 in\nbiscuit;sugar pine;96 kgf;0,3 m\n".replace(
      "0,3",
      "0.3",
    ),
  );
  await page.getByText("3 tests are in the log.").waitFor();
  assert.equal((await logged()).length, before + 3);
  assert.equal(await page.locator(".problems").count(), 0);
  assert.deepEqual(faults, []);
});

for (const [name, screen] of Object.entries(screens))
  for (const scheme of ["light", "dark"])
    test(`the log on a ${name} screen, ${scheme}, keeps to what axe asks and fits`, async () => {
      const { page, faults } = await openLog({ screen, scheme, expected: [refusal] });
      await page.locator(".tests > li").first().waitFor();
      await field(page, "Largest load").fill("100");
      await put(page);
      await page.locator("[aria-invalid=true]").first().waitFor();
      assert.deepEqual(await axe(page), []);
      assert.equal(await sideways(page), 0);
      assert.deepEqual(await smallTargets(page), []);
      await page
        .getByRole("button", { name: /^History of test/ })
        .first()
        .click();
      await page.locator(".past > li").first().waitFor();
      assert.deepEqual(await axe(page), []);
      assert.deepEqual(faults, []);
    });

test("the log is reached and used by keys alone", async () => {
  const { page, faults } = await openPage(browser);
  await page.goto(new URL("/", server).href);
  const link = page.getByRole("link", { name: "Test log" });
  await link.waitFor();
  await link.focus();
  await page.keyboard.press("Enter");
  await page.getByRole("heading", { name: "Enter a break" }).waitFor();
  await page.locator(".tests > li").first().waitFor();
  const before = (await logged()).length;
  const focused = () => page.evaluate(() => document.activeElement?.id ?? "");
  const load = await field(page, "Largest load").getAttribute("id");
  for (let i = 0; i < 12 && (await focused()) !== load; i++) await page.keyboard.press("Tab");
  assert.equal(await focused(), load);
  await page.keyboard.type("400 N");
  await page.keyboard.press("Enter");
  await page.getByText(/The test is in the log/).waitFor();
  assert.equal((await logged()).length, before + 1);
  assert.equal(await focused(), load);
  assert.deepEqual(faults, []);
});
