// The test log: what the server sent, and what a person typed of one test.

import { computed, signal } from "@preact/signals";
import type { JointTest, LoggedTest, NewTest, Problem, TestForm, TestReport } from "../api/types";

export const log = signal<LoggedTest[] | null>(null);
export const form = signal<TestForm | null>(null);
export const report = signal<TestReport | null>(null);
export const versions = signal<JointTest[] | null>(null);
export const tableProblems = signal<{ problems: Problem[]; more: number } | null>(null);

/** What was typed of a test, each value as text; sizes by their names. */
export interface Entry {
  joint: string;
  species: string;
  count: string;
  sizes: Record<string, string>;
  lever: string;
  direction: string;
  load: string;
  failure: string;
  tested: string;
  glue: string;
  cure_hours: string;
  moisture: string;
  density: string;
  group: string;
  note: string;
  picture: string;
  withdrawn: boolean;
}

export const emptyEntry: Entry = {
  joint: "",
  species: "",
  count: "",
  sizes: {},
  lever: "",
  direction: "",
  load: "",
  failure: "",
  tested: "",
  glue: "",
  cure_hours: "",
  moisture: "",
  density: "",
  group: "",
  note: "",
  picture: "",
  withdrawn: false,
};

export const entry = signal<Entry>(emptyEntry);
/** What is wrong with what was typed, by field: "load", "sizes.diameter". */
export const wrong = signal<Record<string, string>>({});
/** The test that is being corrected; null while a new one is entered. */
export const correcting = signal<LoggedTest | null>(null);
export const saving = signal(false);

/** The kind of joint that was typed, when the book knows it. */
export const kind = computed(() => form.value?.kinds.find((k) => k.name === entry.value.joint) ?? null);

/** A test of the log as it would be typed again. */
export function entryOf(test: JointTest): Entry {
  const text = (n: number | undefined) => (n ? String(n) : "");
  return {
    joint: test.joint,
    species: test.species,
    count: text(test.count),
    sizes: Object.fromEntries(Object.entries(test.sizes ?? {}).map(([name, size]) => [name, size.text])),
    lever: test.lever?.text ?? "",
    direction: test.direction ?? "",
    load: test.load.text,
    failure: test.failure ?? "",
    tested: test.tested ?? "",
    glue: test.glue ?? "",
    cure_hours: text(test.cure_hours),
    moisture: text(test.moisture),
    density: text(test.density),
    group: test.group ?? "",
    note: test.note ?? "",
    picture: test.picture ?? "",
    withdrawn: test.withdrawn ?? false,
  };
}

/** The next test of a row: the same joint in the same rig, nothing of what was seen when it broke. */
export const nextEntry = (e: Entry): Entry => ({
  ...e,
  load: "",
  failure: "",
  note: "",
  picture: "",
  withdrawn: false,
});

const numbers = ["count", "density", "moisture", "cure_hours"] as const;

/** Reads what was typed. Lengths and forces are read by the server; plain numbers must be numbers. */
export function readEntry(e: Entry): { test: NewTest; wrong: Record<string, string> } {
  const faults: Record<string, string> = {};
  const test: NewTest = { joint: e.joint.trim(), species: e.species.trim(), load: e.load.trim() };
  if (!test.joint) faults.joint = "choose a kind of joint, or write what it is";
  if (!test.species) faults.species = "write the wood, such as eastern white pine";
  if (!test.load) faults.load = "write the largest load with its unit, such as 430 N, 96 lbf or 44 kgf";
  for (const name of numbers) {
    const text = e[name].trim().replace(",", ".");
    if (text === "") continue;
    const value = Number(text);
    if (!(value > 0)) faults[name] = "write a number above 0, or leave it empty";
    else if (name === "count" && !Number.isInteger(value)) faults[name] = "write a whole number";
    else test[name] = value;
  }
  for (const name of ["lever", "direction", "failure", "tested", "glue", "group", "note", "picture"] as const)
    if (e[name].trim() !== "") test[name] = e[name].trim();
  const sizes = Object.entries(e.sizes).filter(([, text]) => text.trim() !== "");
  if (sizes.length > 0) test.sizes = Object.fromEntries(sizes);
  if (e.withdrawn) test.withdrawn = true;
  return { test, wrong: faults };
}

const names: Record<string, string> = {
  cure_hours: "hours of cure",
  tested: "day",
  withdrawn: "left out",
};

/** What a correction changed, in words: "load: 430 N, was 340 N". */
export function changes(now: JointTest, before: JointTest): string[] {
  const a = entryOf(now);
  const b = entryOf(before);
  const flat = (e: Entry): Record<string, string> => {
    const { sizes, withdrawn, ...rest } = e;
    return { ...rest, withdrawn: withdrawn ? "yes" : "", ...sizes };
  };
  const after = flat(a);
  const was = flat(b);
  const out: string[] = [];
  for (const name of new Set([...Object.keys(after), ...Object.keys(was)])) {
    const x = after[name] ?? "";
    const y = was[name] ?? "";
    if (x === y) continue;
    const title = names[name] ?? name;
    if (name === "picture") out.push(x === "" ? "picture taken off" : "another picture");
    else out.push(`${title}: ${x || "nothing"}, was ${y || "nothing"}`);
  }
  return out;
}
