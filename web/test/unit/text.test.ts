import { beforeEach, describe, expect, it } from "vitest";
import { newPieceText, renamed } from "../../src/actions/shelf";
import { dropDraft, findDraft, keepDraft } from "../../src/state/draft";
import { pieceAddress, routeOf } from "../../src/state/route";

describe("a piece file", () => {
  it("begins with a name that may hold any sign", () => {
    expect(newPieceText('Ann\'s "low" table: #2', "leg-and-apron-table", "mm")).toBe(
      'longgrain: 1\nname: "Ann\'s \\"low\\" table: #2"\nunits: mm\npattern: leg-and-apron-table\n',
    );
  });

  const copy = (name: string) => `${name}, copy`;
  it.each([
    ["longgrain: 1\nname: Play table\nunits: mm\n", 'longgrain: 1\nname: "Play table, copy"\nunits: mm\n'],
    ["name: Play table  # for Ann\n", 'name: "Play table, copy"\n'],
    ['name: "A \\"b\\""\n', 'name: "A \\"b\\", copy"\n'],
    ["name: 'it''s'\n", 'name: "it\'s, copy"\n'],
    ["longgrain: 1\nparts:\n  - name: leg\n", 'longgrain: 1\nparts:\n  - name: leg\nname: "Piece, copy"\n'],
  ])("is renamed for a copy", (text, want) => expect(renamed(text, copy)).toBe(want));
});

describe("what was typed and not saved", () => {
  beforeEach(() => localStorage.clear());
  const draft = { text: "name: x", typed: { length: "9" }, base: 3, at: 1 };

  it("is found again", () => {
    keepDraft("a", draft);
    expect(findDraft("a")).toEqual(draft);
    expect(findDraft("b")).toBeNull();
    dropDraft("a");
    expect(findDraft("a")).toBeNull();
  });

  it("is ignored when it cannot be read", () => {
    for (const broken of ["", "{", "3", '{"text":1}']) {
      localStorage.setItem("longgrain.draft.a", broken);
      expect(findDraft("a")).toBeNull();
    }
  });
});

describe("addresses", () => {
  it("lead to their pages and back", () => {
    expect(routeOf("/")).toEqual({ page: "shelf" });
    expect(routeOf("/shop")).toEqual({ page: "shop" });
    expect(routeOf(pieceAddress("a b/c"))).toEqual({ page: "piece", id: "a b/c" });
    expect(routeOf("/elsewhere")).toEqual({ page: "lost" });
  });
});
