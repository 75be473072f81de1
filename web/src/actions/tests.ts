// What is done with the test log: look, enter a break, correct one, read its history, take in a table, add a
// photograph. Entering is allowed at any time; what is wrong is told beside its field.

import * as api from "../api/client";
import { Conflict, Refused, Unreachable } from "../api/client";
import type { LoggedTest } from "../api/types";
import { lost } from "../state/connection";
import { tell, tellFailure } from "../state/message";
import * as tests from "../state/tests";

export async function lookAtTests(): Promise<void> {
  try {
    const [log, form, report] = await Promise.all([
      api.listTests(),
      tests.form.value ?? api.openTestForm(),
      api.reportTests(),
    ]);
    tests.log.value = log;
    tests.form.value = form;
    tests.report.value = report;
    const last = log.at(-1);
    // A row of tests is much alike: begin with the last one's joint and rig.
    if (tests.entry.value === tests.emptyEntry && last)
      tests.entry.value = { ...tests.nextEntry(tests.entryOf(last)), tested: today() };
    else if (tests.entry.value === tests.emptyEntry)
      tests.entry.value = { ...tests.emptyEntry, tested: today() };
  } catch (cause) {
    if (cause instanceof Unreachable) lost();
    else tellFailure("The test log could not be shown", cause);
  }
}

const today = () =>
  new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", year: "numeric" }).format(new Date());

export function type(change: Partial<tests.Entry>): void {
  tests.entry.value = { ...tests.entry.value, ...change };
}

export function typeSize(name: string, text: string): void {
  type({ sizes: { ...tests.entry.value.sizes, [name]: text } });
}

/** Records what was typed, or saves it as a correction. Tells whether it was saved. */
export async function saveTest(): Promise<boolean> {
  const { test, wrong } = tests.readEntry(tests.entry.value);
  tests.wrong.value = wrong;
  if (Object.keys(wrong).length > 0 || tests.saving.value) return false;
  const old = tests.correcting.value;
  tests.saving.value = true;
  try {
    const kept = old
      ? await api.correctTest(old.id, { ...test, base: old.version })
      : await api.recordTest(test);
    tests.correcting.value = null;
    tests.entry.value = {
      ...tests.nextEntry(tests.entry.value),
      tested: old ? today() : (test.tested ?? ""),
    };
    await lookAtTests();
    const book = kept.predicted ? ` The book gave ${kept.predicted.text}.` : "";
    tell({
      text: old
        ? "The correction is saved; the old record stays readable."
        : `The test is in the log.${book}`,
    });
    return true;
  } catch (cause) {
    if (cause instanceof Conflict) {
      tell({
        text: "This test was corrected in between, in another tab or by somebody else. Look at its history, then correct it again.",
        bad: true,
      });
      tests.correcting.value = null;
      await lookAtTests();
    } else if (cause instanceof Refused && Object.keys(cause.places).length > 0)
      tests.wrong.value = cause.places;
    else tellFailure("The test was not saved", cause);
    return false;
  } finally {
    tests.saving.value = false;
  }
}

export function correct(test: LoggedTest): void {
  tests.correcting.value = test;
  tests.entry.value = tests.entryOf(test);
  tests.wrong.value = {};
}

export function giveUpCorrection(): void {
  const old = tests.correcting.value;
  tests.correcting.value = null;
  tests.wrong.value = {};
  if (old) tests.entry.value = { ...tests.nextEntry(tests.entryOf(old)), tested: today() };
}

export async function lookAtTestVersions(id: string): Promise<void> {
  tests.versions.value = null;
  try {
    tests.versions.value = await api.listTestVersions(id);
  } catch (cause) {
    tellFailure("The history could not be shown", cause);
  }
}

export async function takeTable(file: File): Promise<void> {
  tests.tableProblems.value = null;
  try {
    const answer = await api.importTests(file);
    if (answer.problems.length > 0) {
      tests.tableProblems.value = { problems: answer.problems, more: answer.more };
      return;
    }
    await lookAtTests();
    tell({ text: answer.added === 1 ? "1 test is in the log." : `${answer.added} tests are in the log.` });
  } catch (cause) {
    tellFailure("The table was not taken in", cause);
  }
}

/** Longest side of a photograph that is kept, px: enough to see how a joint broke. */
const LONGEST = 1600;

/**
 * Keeps a photograph with the test. It is drawn anew and smaller first, so that a phone's picture is not too large
 * and does not tell where it was taken.
 */
export async function addPicture(file: File): Promise<void> {
  let small: Blob;
  try {
    small = await shrink(file);
  } catch {
    tests.wrong.value = {
      ...tests.wrong.value,
      picture: "this file is no picture that the browser can read",
    };
    return;
  }
  try {
    const { id } = await api.sendPicture(small);
    type({ picture: id });
    const { picture: _, ...others } = tests.wrong.value;
    tests.wrong.value = others;
  } catch (cause) {
    tellFailure("The picture was not kept", cause);
  }
}

async function shrink(file: File): Promise<Blob> {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((resolve, reject) =>
    canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error("no picture"))), "image/jpeg", 0.85),
  );
}
