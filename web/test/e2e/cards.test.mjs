// The bench cards on a phone, in a browser, against servers of their own: they are killed while somebody works.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, afterEach, before, beforeEach, test } from "node:test";
import { fileURLToPath } from "node:url";
import { axe, launch, openPage, pieceText, screens, sideways } from "./browser.mjs";

const program =
  process.env.LONGGRAIN_BIN ?? fileURLToPath(new URL("../../../bin/longgrain", import.meta.url));

/** A server of its own, which can be killed and started again on the same port and data. */
class Bench {
  data = mkdtempSync(join(tmpdir(), "cards-"));
  port = 0;

  async start() {
    this.child = spawn(program, [
      "serve",
      "--data",
      this.data,
      "--address",
      `127.0.0.1:${this.port}`,
      "--phone-address",
      "127.0.0.1:0",
    ]);
    this.address = await new Promise((found, failed) => {
      let told = "";
      this.child.stdout.on("data", (text) => {
        told += text;
        const at = /http:\/\/[^/\s]+/.exec(told);
        if (at) found(at[0]);
      });
      this.child.on("exit", () => failed(new Error(`the server did not start: ${told}`)));
    });
    this.port = new URL(this.address).port;
    return this;
  }

  /** Ends it as a power cut does. */
  async kill() {
    if (this.child.exitCode !== null || this.child.signalCode !== null) return;
    const gone = new Promise((r) => this.child.on("exit", r));
    this.child.kill("SIGKILL");
    await gone;
  }

  async ask(method, path, body) {
    const answer = await fetch(this.address + path, {
      method,
      headers: { "Content-Type": "application/json" },
      ...(body && { body: JSON.stringify(body) }),
    });
    assert.ok(answer.ok, `${method} ${path}: ${answer.status}`);
    return answer.json();
  }

  /** The tasks that the server knows as done. */
  async done(id) {
    const { deck } = await this.ask("GET", `/api/pieces/${id}/cards?now=2026-12-31T12:00`);
    return deck.cards.filter((c) => c.done).map((c) => c.tasks[0].id);
  }
}

let browser;
let bench;
let id;

before(async () => {
  browser = await launch();
});

beforeEach(async () => {
  bench = await new Bench().start();
  id = (await bench.ask("POST", "/api/pieces", { text: pieceText("Bench table") })).id;
});

afterEach(async () => {
  for (const context of browser.contexts()) await context.close();
  await bench.kill();
  rmSync(bench.data, { recursive: true, force: true });
});

after(async () => {
  await browser?.close();
});

const gone = ["ERR_CONNECTION_REFUSED", "Failed to load resource: net::ERR_FAILED"];

async function openCards(options = {}) {
  const opened = await openPage(browser, {
    screen: screens.phone,
    origin: bench.address,
    ...options,
    more: { hasTouch: true, isMobile: true, ...options.more },
  });
  await opened.page.goto(`${bench.address}/cards/${id}${options.hash ?? ""}`);
  await opened.page.locator(".card h1").waitFor();
  return opened;
}

const title = (page) => page.locator(".card h1").textContent();
const press = (page, name) => page.locator(".card-bar").getByRole("button", { name, exact: true }).click();
const counted = (page, n) =>
  page.waitForFunction(
    (n) => document.querySelector(".card-head .soft")?.textContent.includes(` ${n} of `),
    n,
  );
const sent = (page) => page.waitForFunction(() => !document.body.textContent.includes("to be sent"));

/** Moves a finger sideways over the card. */
const swipe = (page, by) =>
  page.locator("main.card").evaluate((main, by) => {
    const at = (x) => [new Touch({ identifier: 1, target: main, clientX: x, clientY: 300 })];
    const h1 = main.querySelector("h1");
    h1.dispatchEvent(
      new TouchEvent("touchstart", { bubbles: true, touches: at(200), changedTouches: at(200) }),
    );
    h1.dispatchEvent(new TouchEvent("touchend", { bubbles: true, changedTouches: at(200 + by) }));
  }, by);

/** What stands at the foot of the screen and is smaller than a thumb in a glove. */
const smallAtFoot = (page) =>
  page.locator(".card-bar button").evaluateAll((all) =>
    all
      .map((e) => [e.textContent, e.getBoundingClientRect()])
      .filter(([, box]) => box.height < 63.5 || box.width < 63.5 || box.bottom > innerHeight + 1)
      .map(([text, box]) => `${text} ${box.width}x${box.height} to ${box.bottom}`),
  );

test("cards are turned, started, noted and ticked off, and the next one lies on top", async () => {
  const { page, faults } = await openCards();
  assert.match(await title(page), /^1 Buy timber/);
  assert.deepEqual(await smallAtFoot(page), []);
  await page.keyboard.press("ArrowRight");
  assert.match(await title(page), /^2 Cut the boards/);
  await page.locator(".card-figure svg").first().waitFor();
  await swipe(page, -120);
  assert.match(await title(page), /^3 /);
  await swipe(page, 120);
  await swipe(page, 30); // a finger that only trembled
  await press(page, "Back");
  assert.match(await title(page), /^1 Buy timber/);
  await press(page, "Start");
  await page.getByText("Under way").waitFor();
  await press(page, "Stop");
  await page.getByText("Begun").waitFor();
  await press(page, "Note");
  await page.getByLabel("Note", { exact: true }).last().fill("the yard had no 1x5");
  await page.getByRole("button", { name: "Keep" }).click();
  await page.getByText("the yard had no 1x5").waitFor();
  await page.getByRole("checkbox").first().check();
  await press(page, "Done");
  await counted(page, 1);
  await sent(page);
  assert.match(await title(page), /Cut the boards/);
  assert.deepEqual(await bench.done(id), ["buy"]);
  await page.getByRole("button", { name: "Not done" }).click();
  await counted(page, 0);
  await press(page, "Done");
  await counted(page, 1);
  await page.goto(`${bench.address}/cards/${id}`);
  await page.locator(".card h1").waitFor();
  assert.match(await title(page), /Cut the boards/, "the next open card lies on top after a reload");
  assert.ok(faults.length === 0, faults.join("\n"));
});

test("cards keep to WCAG and to the screen, in light and dark, at 360 px", async () => {
  for (const [screen, scheme] of [
    [screens.phone, "light"],
    [screens.small, "dark"],
    [screens.wide, "light"],
  ]) {
    const { page, faults } = await openCards({ screen, scheme });
    for (const task of ["cut", "joints-1", "glue-1", "step-6", "top"]) {
      await page.evaluate((task) => {
        location.hash = `#card-${task}`;
      }, task);
      await page.waitForFunction((task) => location.hash === `#card-${task}`, task);
      await page.locator(".card h1").waitFor();
      assert.deepEqual(await axe(page), [], `${task} on ${screen.width}, ${scheme}`);
      assert.ok((await sideways(page)) <= 0, `${task} can be pushed sideways at ${screen.width} px`);
      assert.deepEqual(await smallAtFoot(page), []);
    }
    await page.getByRole("button", { name: "All cards" }).click();
    await page.getByRole("heading", { name: "On my phone" }).waitFor();
    assert.deepEqual(await axe(page), []);
    assert.ok((await sideways(page)) <= 0);
    assert.deepEqual(faults, []);
  }
});

test("nothing is lost when the server is killed: three ticks, a reload without it, and they are there when it is back", async () => {
  const { page, faults } = await openCards({ expected: gone });
  await page.waitForFunction(
    async () => (await caches.keys()).length > 0 && (await caches.match("/cards")) !== undefined,
  );
  await bench.kill();
  for (let n = 1; n <= 3; n++) {
    await press(page, "Done");
    await counted(page, n);
  }
  await page.getByText("3 entries wait to be sent").waitFor();
  await page.reload();
  await page.locator(".card h1").waitFor();
  await counted(page, 3);
  await page.getByText("These cards are those of the last visit").waitFor();
  await page.getByText("3 entries wait to be sent").waitFor();
  await page.locator(".card-bar").getByRole("button", { name: "Next" }).click();
  await page.locator(".card-figure svg").first().waitFor();
  await bench.start();
  await sent(page);
  await counted(page, 3);
  assert.equal((await bench.done(id)).length, 3);
  assert.deepEqual(faults, []);
});

test("over plain http the loaded page works on without the server, and a closed page sends later", async () => {
  const { page, faults } = await openCards({ expected: gone, more: { serviceWorkers: "block" } });
  await page.waitForLoadState("networkidle");
  await bench.kill();
  await press(page, "Done");
  await page.getByText("1 entry waits to be sent").waitFor();
  await page.evaluate(() => {
    location.hash = "#card-joints-1";
  });
  await page.locator(".card-figure svg").nth(2).waitFor();
  const context = page.context();
  await page.close();
  await bench.start();
  assert.deepEqual(await bench.done(id), []);
  const again = await context.newPage();
  await again.goto(`${bench.address}/cards/${id}`);
  await again.locator(".card h1").waitFor();
  await counted(again, 1);
  await sent(again);
  assert.deepEqual(await bench.done(id), ["buy"]);
  assert.deepEqual(
    faults.filter((f) => !f.includes("Service Worker registration blocked")),
    [],
  );
});

test("a timer outlives a reload, rings, and is quiet when it is told", async () => {
  const { page, faults } = await openCards({ hash: "#card-glue-1" });
  await page.clock.install();
  await page.reload();
  await page.getByRole("button", { name: /^Start 8 min: Close the joint/ }).click();
  await page
    .getByRole("timer")
    .getByText(/^(8:00|7:)/)
    .waitFor();
  await page.clock.fastForward("05:00");
  await page.reload();
  await page
    .getByRole("timer")
    .getByText(/^(3:00|2:)/)
    .waitFor();
  await press(page, "Next");
  await page.getByRole("timer").waitFor();
  await page.clock.fastForward("03:01");
  await page.getByText("The glue takes now").waitFor();
  assert.deepEqual(await axe(page), []);
  await page.getByRole("button", { name: "Quiet" }).click();
  await page.getByText("The glue takes now").waitFor({ state: "detached" });
  assert.deepEqual(faults, []);
});

test("an alarm sounds", async () => {
  const { page } = await openCards({ hash: "#card-glue-1" });
  await page.evaluate(() => {
    const start = OscillatorNode.prototype.start;
    globalThis.heard = 0;
    OscillatorNode.prototype.start = function (...at) {
      globalThis.heard++;
      return start.apply(this, at);
    };
  });
  await page.getByRole("button", { name: /Close the joint$/ }).click();
  await page.evaluate(() => {
    const shift = Date.now;
    Date.now = () => shift() + 9 * 60_000;
  });
  await page.waitForFunction(() => globalThis.heard >= 2);
  await page.getByRole("button", { name: "Quiet" }).click();
  const heard = await page.evaluate(() => globalThis.heard);
  await page.waitForTimeout(2000);
  assert.equal(await page.evaluate(() => globalThis.heard), heard);
});

test("two phones tick the same card: the second is told, and the first tick stays", async () => {
  const [a, b] = [await openCards(), await openCards()];
  await press(a.page, "Done");
  await sent(a.page);
  await press(b.page, "Done");
  await b.page.getByText(/was ticked off before.*at the desk.*yours was not counted/).waitFor();
  assert.deepEqual(await axe(b.page), []);
  await counted(b.page, 1);
  const work = await bench.ask("GET", `/api/pieces/${id}/work?now=2026-12-31T12:00`);
  assert.equal(work.done, 1);
  assert.deepEqual([...a.faults, ...b.faults], []);
});

test("a phone comes in with a code, may tick and nothing else, and can be forgotten", async () => {
  const desk = await openCards({ screen: screens.wide });
  await desk.page.getByRole("button", { name: "All cards" }).click();
  await desk.page.getByText("Nothing outside this computer can reach Longgrain now").waitFor();
  await desk.page.getByRole("button", { name: "Let phones in" }).click();
  await desk.page.getByRole("button", { name: "Code for one phone" }).click();
  const code = await desk.page.locator(".code-words").textContent();
  await desk.page.locator(".code-picture svg").waitFor();
  assert.deepEqual(await axe(desk.page), []);
  const [door] = (await bench.ask("GET", "/api/phones")).addresses;

  const expected = ["status of 401", "status of 403"];
  const phone = await openPage(browser, {
    screen: screens.phone,
    origin: door,
    expected,
    more: { hasTouch: true, isMobile: true },
  });
  await phone.page.goto(`${door}/cards/${id}`);
  await phone.page.getByRole("heading", { name: "A code, please" }).waitFor();
  assert.deepEqual(await axe(phone.page), []);
  await phone.page.getByLabel("Code").fill("2222-2222");
  await phone.page.getByRole("button", { name: "Hand in" }).click();
  await phone.page.getByText("this code is not known").waitFor();
  await phone.page.goto(`${door}/cards/${id}#code=${code}`);
  await phone.page.reload();
  await phone.page.locator(".card-bar").waitFor();
  assert.doesNotMatch(phone.page.url(), /code/);
  await press(phone.page, "Done");
  await sent(phone.page);
  assert.deepEqual(await bench.done(id), ["buy"]);
  const statuses = await phone.page.evaluate(async () =>
    Promise.all(
      ["/api/shop", "/api/phones", "/api/shelf", "/piece/x"].map(async (p) => (await fetch(p)).status),
    ),
  );
  assert.deepEqual(statuses, [403, 403, 403, 403]);
  await phone.page.getByRole("button", { name: "All cards" }).click();
  assert.equal(await phone.page.getByRole("heading", { name: "On my phone" }).count(), 0);
  await phone.page.getByRole("button", { name: "Back to the card" }).click();

  await desk.page.reload();
  await desk.page.getByRole("button", { name: "All cards" }).click();
  await desk.page.getByRole("button", { name: "Forget phone 1" }).click();
  await desk.page.getByRole("button", { name: "Forget phone 1" }).waitFor({ state: "detached" });
  await press(phone.page, "Done");
  await phone.page.getByRole("heading", { name: "A code, please" }).waitFor();
  const { code: second } = await bench.ask("POST", "/api/phones/code", { piece: id });
  await phone.page.getByLabel("Code").fill(second.toLowerCase());
  await phone.page.getByRole("button", { name: "Hand in" }).click();
  await phone.page.locator(".card-bar").waitFor();
  await sent(phone.page);
  assert.equal((await bench.done(id)).length, 2, "what was ticked while it was not known is sent then");
  assert.deepEqual([...desk.faults, ...phone.faults], []);
});

test("a label leads to the card of its part", async () => {
  const { page, faults } = await openCards({ hash: "#part-F1" });
  await page.locator(".card-parts").getByText("F1").waitFor();
  assert.match(await title(page), /F1/);
  assert.deepEqual(faults, []);
});

test("the file of all cards works from the disk and its ticks are brought back", async () => {
  const { page, faults } = await openCards();
  await page.getByRole("button", { name: "All cards" }).click();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("link", { name: "Carry all cards away" }).click(),
  ]);
  const path = join(bench.data, "cards.html");
  await download.saveAs(path);
  assert.ok(readFileSync(path, "utf8").startsWith("<!doctype html>"));

  const carried = await openPage(browser, { screen: screens.phone, scheme: "dark", origin: "file://" });
  await carried.page.goto(`file://${path}`);
  await carried.page.getByRole("button", { name: "Done", exact: true }).click();
  await carried.page.getByRole("button", { name: "Start", exact: true }).click();
  await carried.page.getByRole("button", { name: "Note" }).click();
  await carried.page.getByLabel("Note", { exact: true }).fill("blade is dull");
  await carried.page.getByRole("button", { name: "Keep" }).click();
  assert.deepEqual(await axe(carried.page), []);
  assert.ok((await sideways(carried.page)) <= 0);
  await carried.page.reload();
  await carried.page.getByText("1 of ").waitFor();
  await carried.page.getByText("Noted: blade is dull").waitFor();
  await carried.page.getByRole("button", { name: "Copy my ticks" }).click();
  const ticks = await carried.page.getByLabel("My ticks").inputValue();
  assert.deepEqual(
    carried.faults.filter((f) => !f.includes("left the machine: file://")),
    [],
  );

  await page.getByText("Bring ticks back").click();
  await page.getByLabel(/Copy my ticks/).fill("{}");
  await page.getByRole("button", { name: "Bring back" }).click();
  await page.getByText("does not come from a carried file").waitFor();
  for (const _ of [1, 2]) {
    await page.getByLabel(/Copy my ticks/).fill(ticks);
    await page.getByRole("button", { name: "Bring back" }).click();
    await page.getByText("3 entries brought back").waitFor();
  }
  await counted(page, 1);
  await sent(page);
  const { deck } = await bench.ask("GET", `/api/pieces/${id}/cards?now=2026-12-31T12:00`);
  const cut = deck.cards.find((c) => c.tasks[0].id === "cut");
  assert.equal(cut.tasks[0].note, "blade is dull", "brought back twice, kept once");
  assert.deepEqual(faults, []);
});
