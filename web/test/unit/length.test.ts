import { describe, expect, it } from "vitest";
import {
  familyOf,
  fromSlider,
  inches,
  lacksUnit,
  millimetres,
  otherReading,
  range,
} from "../../src/state/length";

describe("the text of a length", () => {
  it.each([
    [900, "900 mm"],
    [12.5, "12.5 mm"],
    [12.54, "12.5 mm"],
    [0, "0 mm"],
  ])("writes %f mm as %s", (mm, text) => expect(millimetres(mm)).toBe(text));

  it.each([
    [25.4, "1 in"],
    [19.05, "3/4 in"],
    [901.7, "35 1/2 in"],
    [0, "0 in"],
    [25.4 / 16, "1/16 in"],
    [25.4 * (1 + 14 / 16), "1 7/8 in"],
    [25.3, "1 in"],
    [-19.05, "-3/4 in"],
  ])("writes %f mm in inches as %s", (mm, text) => expect(inches(mm)).toBe(text));

  it.each([
    ["900 mm", "metric"],
    ["90cm", "metric"],
    ["1.2 m", "metric"],
    ["35 1/2 in", "inch"],
    ['3/4"', "inch"],
    ["2' 3 1/2\"", "inch"],
    ["1 foot", "inch"],
    ["1½″", "inch"],
  ] as const)("finds the units of %s", (text, family) => {
    expect(familyOf(text, family === "inch" ? "metric" : "inch")).toBe(family);
  });

  it("keeps the units it was given beside when a text names none", () => {
    expect(familyOf("900", "metric")).toBe("metric");
    expect(familyOf("900", "inch")).toBe("inch");
    expect(familyOf("", "inch")).toBe("inch");
  });

  it("says when the other reading is rounded", () => {
    expect(otherReading(900, "metric")).toBe("about 35 7/16 in");
    expect(otherReading(25.4, "metric")).toBe("1 in");
    expect(otherReading(19.05, "inch")).toBe("about 19.1 mm");
    expect(otherReading(25.4, "inch")).toBe("25.4 mm");
  });

  it("writes limits with one unit", () => {
    expect(range(300, 2400, "metric")).toBe("300 to 2400 mm");
    expect(range(304.8, 2438.4, "inch")).toBe("12 to 96 in");
  });
});

describe("a slider", () => {
  it("stops on the marks of a rule", () => {
    expect(fromSlider(903, 300, 2400, 5, "metric")).toBe("905 mm");
    expect(fromSlider(902, 300, 2400, 5, "metric")).toBe("900 mm");
    expect(fromSlider(902, 300, 2400, 5, "inch")).toBe("35 1/2 in");
  });

  it("stays within the limits", () => {
    expect(fromSlider(12, 12, 60, 5, "metric")).toBe("15 mm");
    expect(fromSlider(62, 12, 62, 5, "metric")).toBe("60 mm");
    expect(fromSlider(300, 300, 2400, 5, "inch")).toBe("11 7/8 in");
    expect(fromSlider(13, 12, 13, 50, "metric")).toBe("13 mm");
  });
});

describe("a number without a unit", () => {
  it.each(["900", " 35 1/2 ", "3/4", "12.5"])("%s could be either", (text) =>
    expect(lacksUnit(text)).toBe(true),
  );
  it.each(["900 mm", "", "abc", "35 in"])("%s is something else", (text) =>
    expect(lacksUnit(text)).toBe(false),
  );
});
