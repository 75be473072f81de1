// A browser for the tests, and what every page must keep to: nothing on the console, no request to another
// machine, nothing that axe finds.

import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, afterEach, before } from "node:test";
import { chromium } from "playwright-core";

export const server = process.env.LONGGRAIN_URL;
if (!server)
  throw new Error("start Longgrain and give its address: LONGGRAIN_URL=http://127.0.0.1:7474 npm run e2e");

const require = createRequire(import.meta.url);
const axeSource = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

export function launch() {
  const executablePath =
    process.env.CHROMIUM ?? execFileSync("sh", ["-c", "command -v chromium"]).toString().trim();
  return chromium.launch({
    executablePath,
    args: [
      "--no-sandbox",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      // As on a machine without graphics of its own: the processor draws, both the page and the 3-D view.
      "--disable-gpu-compositing",
      "--use-angle=swiftshader",
      "--enable-unsafe-swiftshader",
      "--force-color-profile=srgb",
    ],
  });
}

/** A browser for all tests of a file, and a piece of that name on the shelf, if one is wanted; both are put away after them. */
export function setUp(name) {
  const bed = { browser: undefined, id: undefined };
  before(async () => {
    bed.browser = await launch();
    if (name) bed.id = (await createPiece(name)).id;
  });
  afterEach(async () => {
    for (const context of bed.browser.contexts()) await context.close();
  });
  after(async () => {
    if (bed.id) await putAside(bed.id).catch(() => {});
    await bed.browser?.close();
  });
  return bed;
}

export const screens = {
  wide: { width: 1280, height: 800 },
  phone: { width: 390, height: 844 },
  small: { width: 360, height: 640 },
};

/**
 * Opens a page that notes everything it should not do in faults. What a test brings about itself, such as
 * a refused save, is named in expected.
 * origin is another server than that of all tests, more what else the context is to have.
 */
export async function openPage(
  browser,
  { screen = screens.wide, scheme = "light", expected = [], origin = server, more = {} } = {},
) {
  const context = await browser.newContext({
    ...more,
    viewport: screen,
    colorScheme: scheme,
    reducedMotion: "reduce",
  });
  const page = await context.newPage();
  const faults = [];
  // What the browser says of its own drawing on a machine without graphics.
  const slow = "GPU stall due to ReadPixels";
  const note = (text) => {
    if (![slow, ...expected].some((e) => text.includes(e))) faults.push(text);
  };
  page.on("console", (m) => {
    if (m.type() === "error" || m.type() === "warning") note(`console: ${m.text()}`);
  });
  page.on("pageerror", (e) => note(`error: ${e.message}`));
  page.on("request", (r) => {
    const url = new URL(r.url());
    if (!["data:", "blob:"].includes(url.protocol) && url.origin !== new URL(origin).origin)
      note(`left the machine: ${r.url()}`);
  });
  return { page, faults };
}

/** What axe finds wrong, by WCAG 2.2 AA, as lines of text. */
export async function axe(page) {
  await page.evaluate(axeSource);
  const result = await page.evaluate(() =>
    window.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
    }),
  );
  return result.violations.map(
    (v) => `${v.id}: ${v.nodes.map((n) => `${n.target} ${n.failureSummary}`).join("; ")}`,
  );
}

/** Things to press that are smaller than a thumb, as lines of text. */
export function smallTargets(page) {
  return page.evaluate(() => {
    const least = 47.5; // 48 px, less the rounding of a browser
    const small = [];
    for (const e of document.querySelectorAll(
      "button, a.button, select, input, textarea, nav a, a.home, summary",
    )) {
      if (e.closest(".document") || e.tabIndex < 0) continue;
      const target = e.closest("label") ?? (e.closest(".chapter-head") || e);
      const box = target.getBoundingClientRect();
      if (box.width === 0 || box.width < 2) continue;
      if (box.height < least || box.width < 24)
        small.push(`${e.outerHTML.slice(0, 90)} ${box.width}x${box.height}`);
    }
    return small;
  });
}

/** How far the page can be scrolled sideways, px. */
export const sideways = (page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

const api = async (method, path, body) => {
  const response = await fetch(new URL(path, server), {
    method,
    headers: { "Content-Type": "application/json" },
    ...(body && { body: JSON.stringify(body) }),
  });
  if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${await response.text()}`);
  const text = await response.text();
  return text ? JSON.parse(text) : undefined;
};

export const pieceText = (name) => `longgrain: 1
name: ${name}
units: mm
use: table
setting: school
wood:
  species: eastern white pine
  condition: small tight knots
pattern: leg-and-apron-table
sizes:
  length: 900 mm
  width: 560 mm
  height: 500 mm
  top_thickness: 22 mm
  overhang: 40 mm
  leg: 54 mm
  apron_width: 110 mm
  apron_thickness: 23 mm
  below: low rails
`;

export const createPiece = (name) => api("POST", "/api/pieces", { text: pieceText(name) });
export const savePiece = (id, text, base) => api("PUT", `/api/pieces/${id}`, { text, base });
export const readPiece = (id) => api("GET", `/api/pieces/${id}`);
export const putAside = (id) => api("DELETE", `/api/pieces/${id}`);
export const listShelf = () => api("GET", "/api/shelf");

/** Opens a piece and waits until it is drawn. */
export async function openBench(page, id) {
  await page.goto(new URL(`/piece/${id}`, server).href);
  await page.locator(".word").first().waitFor();
  await page.locator(".hands").waitFor();
}

/** Moves a slider as a hand does, in one step. */
export const slide = (locator, value) =>
  locator.evaluate((e, v) => {
    e.value = String(v);
    e.dispatchEvent(new Event("input", { bubbles: true }));
  }, value);
