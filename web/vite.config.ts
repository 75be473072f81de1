import { defineConfig } from "vitest/config";

// Where "npm run dev" sends what is not a source file: a running Longgrain or the fake server.
const server = process.env.LONGGRAIN_URL ?? "http://127.0.0.1:7475";

export default defineConfig({
  build: {
    outDir: "dist",
    // placeholder.html is kept in the repository; scripts/clean.mjs removes the rest.
    emptyOutDir: false,
    // The content policy allows no data: addresses for fonts and style sheets.
    assetsInlineLimit: 0,
    target: "es2022",
    rolldownOptions: { input: ["index.html", "cards.html"] },
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 800,
  },
  server: {
    proxy: { "/api": server, "/paper.css": server, "/healthz": server },
  },
  test: {
    environment: "happy-dom",
    include: ["test/unit/**/*.test.ts"],
  },
});
