// Makes src/api/schema.ts from the OpenAPI document of a running server: LONGGRAIN_URL=... npm run types
import { writeFileSync } from "node:fs";
import openapi, { astToString } from "openapi-typescript";

const server = process.env.LONGGRAIN_URL ?? "http://127.0.0.1:7474";
const nodes = await openapi(new URL("/openapi.json", server));
const head = "// Made by `npm run types` from the OpenAPI document of the server. Do not change by hand.\n";
writeFileSync(new URL("../src/api/schema.ts", import.meta.url), head + astToString(nodes));
