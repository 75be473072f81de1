// Files to take along: the piece file as it lies on the bench, and everything that the server makes from a
// saved version. Allowed at any time; what was not saved is only in the piece file.

import { exportAddress, workbookAddress } from "../api/client";
import * as bench from "../state/bench";

export interface FileKind {
  name: string;
  title: string;
  use: string;
}

/** The open formats, by the name under which the server makes them. */
export const fileKinds: FileKind[] = [
  { name: "cutlist.csv", title: "Cut list", use: "for a spreadsheet (CSV)" },
  { name: "piece.dxf", title: "Drawings", use: "for drawing programs (DXF)" },
  { name: "piece.step", title: "Solid parts", use: "for modelling programs (STEP)" },
  { name: "piece.glb", title: "The piece in 3-D", use: "to show it elsewhere (glTF)" },
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
