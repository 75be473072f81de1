import { describe, expect, it } from "vitest";
import { freeName } from "../../src/actions/build";
import { jointChange, partChange } from "../../src/actions/editPiece";

describe("changes by hand", () => {
  const list = [
    { part: "top", thickness: "30 mm" },
    { between: ["rail", "leg"], joint: { kind: "dowels" } },
  ];

  it("a part that is changed already keeps its one change", () => {
    expect(partChange(list, "top", { species: "white ash" })).toEqual([
      { in: "changes", index: 0, set: { species: "white ash" }, unset: [] },
    ]);
    expect(partChange(list, "leg", { out: true })).toEqual([
      { in: "changes", index: -1, set: { part: "leg", out: true } },
    ]);
  });

  it("a change that says nothing any more is taken out", () => {
    expect(partChange(list, "top", {}, ["thickness"])).toEqual([{ in: "changes", index: 0, remove: true }]);
    expect(partChange(list, "leg", {}, ["thickness"])).toEqual([]);
  });

  it("a joint is found by its two parts in either order", () => {
    expect(jointChange(list, ["leg", "rail"], "bridle")).toEqual([
      { in: "changes", index: 1, set: { joint: { kind: "bridle" } }, unset: [] },
    ]);
    expect(jointChange(list, ["leg", "rail"], "")).toEqual([{ in: "changes", index: 1, remove: true }]);
    expect(jointChange(list, ["leg", "top"], "")).toEqual([]);
  });

  it("a new part gets a name of its own", () => {
    expect(freeName("rail", ["rail", "rail 2"])).toBe("rail 3");
  });
});
