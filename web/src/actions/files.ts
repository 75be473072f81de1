// Files to take along: the piece file as it lies on the bench, and everything that the server makes from a
// saved version. Allowed at any time; what was not saved is only in the piece file.

import { exportAddress, labelsAddress, workbookAddress } from "../api/client";
import * as bench from "../state/bench";

export interface FileKind {
  name: string;
  title: string;
  use: string;
}

/** The files in open formats, by the name under which the server makes them. */
export const fileKinds: FileKind[] = [
  { name: "parts.csv", title: "Parts", use: "every part with its sizes and wood (CSV)" },
  { name: "buy.csv", title: "Timber to buy", use: "for the yard (CSV)" },
  { name: "blanks.csv", title: "Rough sizes", use: "every blank before planing (CSV)" },
  { name: "cuts.csv", title: "Cuts", use: "which board gives which blank (CSV)" },
  { name: "marks.csv", title: "Marks", use: "every bore and mortise from its edges (CSV)" },
  { name: "tables.xlsx", title: "All tables", use: "one spreadsheet (XLSX)" },
  { name: "piece.step", title: "Solids", use: "every part with its cuts, exact (STEP)" },
  { name: "piece.glb", title: "Model in colour", use: "for viewers (glTF)" },
  { name: "piece.stl", title: "Surface", use: "triangles only (STL)" },
  { name: "order.ics", title: "Calendar", use: "every task at its time, for any calendar (iCalendar)" },
  { name: "picture.svg", title: "Picture", use: "the piece pulled apart, with names (SVG)" },
  { name: "plan.json", title: "The whole plan", use: "for other programs (JSON)" },
];

export const fileAddress = (kind: FileKind) => {
  const saved = bench.saved.value;
  return saved ? exportAddress(saved.id, kind.name, saved.version) : "";
};

export const bookAddress = (paper: "a4" | "letter") => {
  const saved = bench.saved.value;
  return saved ? workbookAddress(saved.id, paper, saved.version) : "";
};

/** One chapter of the book as saved, on the paper that goes with the units of the piece; "" while nothing is saved. */
export const chapterAddress = (chapter: string) => {
  const saved = bench.saved.value;
  return saved
    ? workbookAddress(saved.id, bench.units.value === "inch" ? "letter" : "a4", saved.version, { chapter })
    : "";
};

/** The workbook for a class: questions left open, answers at the end. */
export const lessonAddress = (paper: "a4" | "letter") => {
  const saved = bench.saved.value;
  return saved ? workbookAddress(saved.id, paper, saved.version, { lesson: true }) : "";
};

/** Labels lead to this page: their codes hold the address that it is seen at. */
export const labelAddress = (paper: "a4" | "letter") => {
  const saved = bench.saved.value;
  return saved ? labelsAddress(saved.id, paper, saved.version) : "";
};

/** Saves the piece file as it lies on the bench. */
export function downloadPieceFile(): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([bench.text.value], { type: "application/yaml" }));
  link.download = `${fileName(bench.pieceName.value)}.yaml`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}

function fileName(name: string): string {
  return (
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-+|-+$/g, "") || "piece"
  );
}
