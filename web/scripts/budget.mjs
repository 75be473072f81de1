// Fails when the built page is larger than what was promised: what a browser loads first, without fonts,
// the page of the bench cards, and the 3-D view that is loaded when a piece is opened. Sizes are those sent, after gzip.
import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";

const FIRST_LOAD = 80_000;
const CARDS = 40_000;
const VIEW_3D = 170_000;

const dist = new URL("../dist/", import.meta.url);
const packed = (name) => gzipSync(readFileSync(new URL(name, dist)), { level: 9 }).length;
const page = readFileSync(new URL("index.html", dist), "utf8");
const cards = readFileSync(new URL("cards.html", dist), "utf8");
const assets = readdirSync(new URL("assets/", dist)).map((name) => `assets/${name}`);
const code = assets.filter((name) => /\.(js|css)$/.test(name));
const first = ["index.html", ...code.filter((name) => page.includes(name))];
const bench = ["cards.html", ...code.filter((name) => cards.includes(name))];
const later = code.filter((name) => !page.includes(name) && !cards.includes(name));
const sum = (names) => names.reduce((total, name) => total + packed(name), 0);

let over = false;
for (const [title, names, limit] of [
  ["first load without fonts", first, FIRST_LOAD],
  ["bench cards without fonts", bench, CARDS],
  ["3-D view", later, VIEW_3D],
]) {
  const size = sum(names);
  console.log(`${title}: ${(size / 1000).toFixed(1)} kB of ${limit / 1000} kB (${names.join(", ")})`);
  over ||= size > limit;
}
if (over) {
  console.error("the page is over its budget");
  process.exit(1);
}
