// Empties dist before a build, but for the placeholder that the repository keeps.
import { readdirSync, rmSync } from "node:fs";

const dist = new URL("../dist/", import.meta.url);
for (const name of readdirSync(dist)) {
  if (name !== "placeholder.html") rmSync(new URL(name, dist), { recursive: true });
}
