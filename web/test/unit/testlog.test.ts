import { describe, expect, it } from "vitest";
import type { JointTest } from "../../src/api/types";
import { changes, emptyEntry, entryOf, nextEntry, readEntry } from "../../src/state/tests";

const typed = {
  ...emptyEntry,
  joint: "dowels",
  species: " eastern white pine ",
  load: "96 lbf",
  lever: "12 in",
  count: "2",
  moisture: "10,5",
  sizes: { diameter: "3/8 in", spacing: "" },
};

describe("what was typed of a test", () => {
  it("is sent as typed, without what was left empty", () => {
    expect(readEntry(typed)).toEqual({
      wrong: {},
      test: {
        joint: "dowels",
        species: "eastern white pine",
        load: "96 lbf",
        lever: "12 in",
        count: 2,
        moisture: 10.5,
        sizes: { diameter: "3/8 in" },
      },
    });
  });

  it("is told field by field when it cannot be sent", () => {
    const { wrong } = readEntry({ ...emptyEntry, count: "2.5", density: "heavy", moisture: "0" });
    expect(Object.keys(wrong).sort()).toEqual(["count", "density", "joint", "load", "moisture", "species"]);
    expect(wrong.load).toContain("430 N, 96 lbf or 44 kgf");
  });

  it("stays for the next test but for what was seen", () => {
    const next = nextEntry({ ...typed, failure: "wood", note: "split", picture: "abc", withdrawn: true });
    expect(next).toEqual(typed.load === "" ? typed : { ...typed, load: "" });
  });
});

describe("a correction", () => {
  const first: JointTest = {
    id: "a",
    version: 1,
    recorded: "2026-05-03T10:00:00Z",
    joint: "dowels",
    species: "sugar pine",
    load: { text: "340 N", si: 340 },
    sizes: { diameter: { text: "8 mm", si: 0.008 } },
  };

  it("tells what it changed, and what it took away", () => {
    const second: JointTest = {
      ...first,
      version: 2,
      load: { text: "430 N", si: 430 },
      sizes: {},
      withdrawn: true,
      picture: "abc",
    };
    expect(changes(second, first)).toEqual([
      "load: 430 N, was 340 N",
      "another picture",
      "left out: yes, was nothing",
      "diameter: nothing, was 8 mm",
    ]);
    expect(changes(first, first)).toEqual([]);
  });

  it("begins with what was recorded", () => {
    expect(readEntry(entryOf(first)).test).toEqual({
      joint: "dowels",
      species: "sugar pine",
      load: "340 N",
      sizes: { diameter: "8 mm" },
    });
  });
});
