import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const css = readFileSync("src/style/tokens.css", "utf8");

/** The two colours of a token, light and dark. */
function token(name: string): [string, string] {
  const value = new RegExp(`--${name}: light-dark\\((#[0-9a-f]{6}), (#[0-9a-f]{6})\\)`).exec(css);
  if (!value?.[1] || !value[2]) throw new Error(`no token ${name}`);
  return [value[1], value[2]];
}

/** Relative luminance by WCAG 2.2. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => {
    const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p) as [number, number];
  return (x + 0.05) / (y + 0.05);
}

const words = 4.5; // WCAG 2.2, 1.4.3
const lines = 3; // WCAG 2.2, 1.4.11
const pairs: [string, string, number][] = [
  ...[
    "bench",
    "sheet",
    "sheet-low",
    "good-pale",
    "watch-pale",
    "bad-pale",
    "unknown-pale",
    "blue-pale",
  ].flatMap((ground): [string, string, number][] => [
    ["ink", ground, words],
    ["ink-soft", ground, words],
  ]),
  ["on-pine", "pine", words],
  ["on-pine", "pine-line", words],
  ["on-pencil", "pencil", words],
  ["blue", "sheet", words],
  ["blue", "bench", words],
  ["blue", "blue-pale", words],
  ["blue", "pine", lines],
  ["good", "good-pale", words],
  ["watch", "watch-pale", words],
  ["bad", "bad-pale", words],
  ["bad", "sheet", words],
  ["unknown", "unknown-pale", words],
  ["edge", "sheet", lines],
  ["edge", "sheet-low", lines],
  ["ink-accent", "sheet", words],
];

describe("colours", () => {
  it.each(pairs)("%s can be read on %s", (front, ground, least) => {
    const [f, g] = [token(front), token(ground)];
    expect(contrast(f[0], g[0])).toBeGreaterThanOrEqual(least);
    expect(contrast(f[1], g[1])).toBeGreaterThanOrEqual(least);
  });
});
