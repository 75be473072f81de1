// Short names for what goes over the wire; schema.ts is made from the server's description of it.

import type { components } from "./schema";

type Schemas = components["schemas"];

export type Pattern = Schemas["PatternInfo"];
export type Shelf = Schemas["Shelf"];
export type ShelfPiece = Schemas["ShelfPiece"];
export type DeletedPiece = Schemas["DeletedPiece"];
export type Piece = Schemas["Piece"];
export type SavedPiece = Schemas["SavedPiece"];
export type PieceVersion = Schemas["PieceVersion"];
export type Shop = Schemas["Shop"];
export type PlanBody = Schemas["PlanBody"];
export type PlanAnswer = Schemas["PlanAnswer"];
export type MendAnswer = Schemas["MendAnswer"];
export type Mend = Schemas["Mend"];
export type PlannedPiece = Schemas["PlannedPiece"];
export type PieceSize = Schemas["PieceSize"];
export type ScenePart = Schemas["ScenePart"];
export type Feature = Schemas["Feature"];
export type ChapterInfo = Schemas["ChapterInfo"];
export type Verdict = Schemas["Verdict"];
export type Problem = Schemas["Problem"];
