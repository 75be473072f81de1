// A piece built part by part on the page: parts, named dimensions, a span, a mirror, connections; moved, deleted, stepped back.

import assert from "node:assert/strict";
import { after, afterEach, before, test } from "node:test";
import { axe, launch, openPage, putAside, screens, server, sideways, smallTargets } from "./browser.mjs";

let browser;
const made = [];

before(async () => {
  browser = await launch();
});

afterEach(async () => {
  for (const context of browser.contexts()) await context.close();
});

after(async () => {
  for (const id of made) await putAside(id).catch(() => {});
  await browser?.close();
});

const tab = (page, name) => page.getByRole("tab", { name }).click();
const part = (page, name) =>
  page.locator(".part:not(.joint)", { has: page.getByText(name, { exact: true }) });
const open = (page, summary) => page.locator("summary", { hasText: summary }).first().click();
const fill = async (page, label, text) => {
  const field = page.getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press("Tab");
};
const pieceFile = async (page) => {
  await tab(page, "Text");
  const text = await page.getByLabel("The piece file").inputValue();
  await tab(page, "Parts");
  return text;
};

async function startEmpty(page) {
  await page.goto(server);
  await page.getByRole("button", { name: "Start an empty piece" }).click();
  await page.getByRole("tab", { name: "Parts" }).waitFor();
  made.push(new URL(page.url()).pathname.split("/").at(-1));
  await tab(page, "Parts");
}

async function addPart(page, name, role, length, width, thickness) {
  await fill(page, "name", name);
  await page.getByLabel("Role of the part").selectOption(role);
  await fill(page, "new length", length);
  await fill(page, "new width", width);
  await fill(page, "new thickness", thickness);
  await page.getByRole("button", { name: "Add it" }).click();
  await part(page, name).waitFor();
}

test("a bench is built from nothing", async () => {
  const { page, faults } = await openPage(browser, { expected: ["status of 422"] });
  await startEmpty(page);

  await open(page, "Dimensions");
  await fill(page, "new dimension", "long");
  await fill(page, "is", "1 m");
  await page.getByRole("button", { name: "Name it" }).click();
  await page.getByLabel("long", { exact: true }).waitFor();

  await open(page, "Add a part");
  await addPart(page, "end left", "side", "420 mm", "280 mm", "28 mm");
  await page.getByLabel("Length runs").selectOption("z");
  await page.getByLabel("Width runs").selectOption("y");
  await page.locator(".part-editor").getByText("Copy it").click();
  await fill(page, "mirror at", "long / 2");
  await fill(page, "word of the name", "left");
  await fill(page, "becomes", "right");
  await page.getByRole("button", { name: "Make the copy" }).click();
  await part(page, "end right").waitFor();

  await addPart(page, "rail", "rail", "300 mm", "140 mm", "28 mm");
  await page.getByLabel("Width runs").selectOption("z");
  await page.locator(".part-editor").getByText("Reach between two parts").click();
  await page.getByLabel("From", { exact: true }).selectOption("end left");
  await page.getByLabel("To", { exact: true }).selectOption("end right");
  await page.getByRole("button", { name: "Reach between them" }).click();
  await page.getByText("Reaches between").waitFor();
  await page.locator(".part-editor").getByText("Lay a side beside another part").click();
  await page.getByLabel("Its side").selectOption("front");
  await page.getByLabel("Other part", { exact: true }).selectOption("end left");
  await fill(page, "distance", "126 mm");
  await page.getByRole("button", { name: "Lay it there" }).click();
  await page.getByText("126 mm in").waitFor();

  await open(page, "Connect two faces");
  for (const end of ["end left", "end right"]) {
    await page.getByLabel("One part").selectOption("rail");
    await page.getByLabel("The other part").selectOption(end);
    await page.getByRole("button", { name: "Connect them" }).click();
    await page.locator(".said-list li", { hasText: `rail to ${end}` }).waitFor();
  }
  await page.locator(".verdict .word").waitFor();
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(await smallTargets(page), []);

  // The dimension changes and all follow.
  await fill(page, "long", "1200 mm");
  await part(page, "rail").filter({ hasText: "1144" }).waitFor();
  const text = await pieceFile(page);
  assert.match(text, /dimensions:\n {2}long: 1200 mm\n/);
  assert.match(text, /between: \[end left, end right\]/);
  assert.match(text, /mirror: \{across: x, at: long \/ 2\}/);

  // What cannot be is told beside its field; the last plan stays.
  await fill(page, "long", "1200 mn");
  await page.locator(".field-by-hand .wrong").first().waitFor();
  assert.equal(await part(page, "rail").count(), 1);
  await fill(page, "long", "1200 mm");
  await page.locator(".field-by-hand .wrong").first().waitFor({ state: "detached" });
  assert.deepEqual(faults, []);
});

test("a part is moved by keys, deleted and brought back, on a phone", async () => {
  const { page, faults } = await openPage(browser, { screen: screens.phone, expected: ["status of 422"] });
  await startEmpty(page);
  await open(page, "Add a part");
  await addPart(page, "board", "shelf", "400 mm", "200 mm", "20 mm");
  await page.getByRole("group", { name: "Move board" }).getByRole("button", { name: "up" }).click();
  await page.waitForFunction(() =>
    [...document.querySelectorAll(".part-editor input")].some((e) => e.value === "10 mm"),
  );
  assert.match(await pieceFile(page), /at: \[0 mm, 0 mm, 10 mm\]/);
  await open(page, "Add a part");
  await addPart(page, "other", "shelf", "300 mm", "200 mm", "20 mm");
  assert.deepEqual(await axe(page), []);
  assert.deepEqual(await smallTargets(page), []);
  assert.equal(await sideways(page), 0);
  await page.getByRole("button", { name: "Delete other" }).click();
  await part(page, "other").waitFor({ state: "detached" });
  await page.getByRole("button", { name: "Step back" }).click();
  await part(page, "other").waitFor();
  assert.deepEqual(faults, []);
});
