// What the page itself has to know about lengths: the text of a length that a slider chose, and the
// same length in the other units. Reading what a person typed is the server's work.

/** Family of units in which a length is written. */
export type Family = "metric" | "inch";

const INCH = 25.4;

/** Finest mark of a rule that a slider stops at, in mm: an eighth of an inch, or the step given. */
const INCH_STEP = INCH / 8;

/**
 * Tells in which units a text gives a length. A text that names none keeps the family it was given
 * beside.
 */
export function familyOf(text: string, otherwise: Family): Family {
  if (/(mm|cm|\dm|\d\s+m)\s*$/i.test(text)) return "metric";
  if (/(in\.?|inch|inches|ft|foot|feet|["″”'′’])\s*$/i.test(text)) return "inch";
  return otherwise;
}

/** Writes millimetres: "905 mm", "12.5 mm". */
export function millimetres(mm: number): string {
  return `${Number(mm.toFixed(1))} mm`;
}

/** Writes inches to the nearest sixteenth: "35 1/2 in", "3/4 in", "0 in". */
export function inches(mm: number): string {
  const sixteenths = Math.round((Math.abs(mm) / INCH) * 16);
  const sign = mm < 0 && sixteenths > 0 ? "-" : "";
  const whole = Math.floor(sixteenths / 16);
  let top = sixteenths % 16;
  let bottom = 16;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const fraction = top === 0 ? "" : `${top}/${bottom}`;
  if (whole === 0 && fraction !== "") return `${sign}${fraction} in`;
  return `${sign}${whole}${fraction === "" ? "" : ` ${fraction}`} in`;
}

/** Writes a length in a family of units. */
export function written(mm: number, family: Family): string {
  return family === "inch" ? inches(mm) : millimetres(mm);
}

/** Writes the limits of a size: "300 to 2400 mm". */
export function range(min: number, max: number, family: Family): string {
  return `${written(min, family).replace(/ (mm|in)$/, "")} to ${written(max, family)}`;
}

/** The same length in the other family, marked as rounded where it is: "about 35 7/16 in". */
export function otherReading(mm: number, family: Family): string {
  if (family === "inch") {
    const exact = Math.abs(mm - Number(mm.toFixed(1))) < 1e-6;
    return `${exact ? "" : "about "}${millimetres(mm)}`;
  }
  const exact = Math.abs((mm / INCH) * 16 - Math.round((mm / INCH) * 16)) < 1e-6;
  return `${exact ? "" : "about "}${inches(mm)}`;
}

/** Step of a slider in mm: the step given, or an eighth of an inch where a person works in inches. */
export function sliderStep(step: number, family: Family): number {
  return family === "inch" ? INCH_STEP : step > 0 ? step : 1;
}

/**
 * The length a slider means when it stands at mm, as a person would write it. It stops on the marks of
 * the rule, counted from zero, but never outside of the limits.
 */
export function fromSlider(mm: number, min: number, max: number, step: number, family: Family): string {
  const mark = sliderStep(step, family);
  let snapped = Math.round(mm / mark) * mark;
  if (snapped > max + 1e-9) snapped = Math.floor((max + 1e-9) / mark) * mark;
  if (snapped < min - 1e-9) snapped = Math.ceil((min - 1e-9) / mark) * mark;
  if (snapped > max + 1e-9) snapped = max; // no mark lies between the limits
  return written(snapped, family);
}

/** Tells whether a text is a number without a unit, which could be either. */
export function lacksUnit(text: string): boolean {
  return /^\s*\d+([.,]\d+)?(\s+\d+\/\d+)?\s*$|^\s*\d+\/\d+\s*$/.test(text);
}
