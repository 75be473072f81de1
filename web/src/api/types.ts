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
export type PlannedPiece = Schemas["PlannedPiece"];
export type PieceSize = Schemas["PieceSize"];
export type ScenePart = Schemas["ScenePart"];
export type ScenePlace = Schemas["ScenePlace"];
export type Bent = Schemas["Bent"];
export type BentPart = Schemas["BentPart"];
export type Feature = Schemas["Feature"];
export type ChapterInfo = Schemas["ChapterInfo"];
export type Verdict = Schemas["Verdict"];
export type Problem = Schemas["Problem"];
export type NewTest = Schemas["NewTest"];
export type Correction = Schemas["Correction"];
export type JointTest = Schemas["JointTest"];
export type LoggedTest = Schemas["LoggedTest"];
export type TestForm = Schemas["TestForm"];
export type TestReport = Schemas["TestReport"];
export type TestGroup = Schemas["TestGroup"];
export type ImportedTests = Schemas["ImportedTests"];
export type KeptPicture = Schemas["KeptPicture"];
export type BoardsAnswer = Schemas["BoardsAnswer"];
export type BoardsBody = Schemas["BoardsBody"];
export type BoardsSummary = Schemas["BoardsSummary"];
export type WhatIf = Schemas["WhatIf"];
export type RackBoard = Schemas["RackBoard"];
export type RackDefect = Schemas["RackDefect"];
export type ChangedDefects = Schemas["ChangedDefects"];
export type DoneJob = Schemas["DoneJob"];
export type WorkEvent = Schemas["WorkEvent"];
export type WorkAnswer = Schemas["WorkAnswer"];
export type WorkDay = Schemas["WorkDay"];
export type WorkTask = Schemas["WorkTask"];
