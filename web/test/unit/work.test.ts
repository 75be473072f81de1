import { beforeEach, describe, expect, it } from "vitest";
import type { WorkEvent } from "../../src/api/types";
import { addWaiting, listWaiting, removeWaiting } from "../../src/state/waiting";
import { shopClock, stateAfter } from "../../src/state/work";

const event = (task: string, action: WorkEvent["action"]): WorkEvent => ({
  id: `${task}-${action}-000000`,
  task,
  action,
  at: "2026-10-20T18:30",
});

describe("the work at the bench", () => {
  beforeEach(() => localStorage.clear());

  it("is told on the clock of the shop, whatever the zone", () => {
    expect(shopClock(new Date(2026, 0, 5, 7, 4))).toBe("2026-01-05T07:04");
  });

  it("shows what was done before the server has answered", () => {
    expect(stateAfter("open", "cut", [event("cut", "start")])).toBe("running");
    expect(stateAfter("open", "cut", [event("cut", "start"), event("cut", "stop")])).toBe("started");
    expect(stateAfter("running", "cut", [event("cut", "done")])).toBe("done");
    expect(stateAfter("done", "cut", [event("cut", "undo")])).toBe("open");
    expect(stateAfter("open", "cut", [event("mill-1", "done"), event("cut", "note")])).toBe("open");
  });

  // Without a data base in the browser, as here; the browser tests go the other way.
  it("keeps what was not sent through a closed tab, piece by piece", async () => {
    await addWaiting("table", [event("cut", "done")]);
    await addWaiting("table", [event("mill-1", "start")]);
    expect(await listWaiting("table")).toEqual([event("cut", "done"), event("mill-1", "start")]);
    expect(await listWaiting("bench")).toEqual([]);
    await removeWaiting("table", [event("cut", "done")]);
    expect(await listWaiting("table")).toEqual([event("mill-1", "start")]);
  });

  it("leaves out what is no event", async () => {
    localStorage.setItem("longgrain.work.table", '[{"id":1},null,"x"]');
    expect(await listWaiting("table")).toEqual([]);
    localStorage.setItem("longgrain.work.table", "{broken");
    expect(await listWaiting("table")).toEqual([]);
  });
});
