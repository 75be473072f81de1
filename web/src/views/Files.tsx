// What to print and to take along.

import {
  bookAddress,
  downloadPieceFile,
  fileAddress,
  fileKinds,
  labelAddress,
  lessonAddress,
} from "../actions/files";
import { savePiece } from "../actions/savePiece";
import * as bench from "../state/bench";
import { Dialog } from "./Dialog";

export function Files({ close }: { close: () => void }) {
  const version = bench.saved.value?.version;
  return (
    <Dialog title="Print and files" close={close}>
      {bench.dirty.value ? (
        <div class="question">
          <p>These are made from version {version}, as saved. What you changed since is not in them.</p>
          <button type="button" onClick={() => void savePiece()}>
            Save first
          </button>
        </div>
      ) : (
        <p class="soft">Made from version {version}.</p>
      )}
      <h3>The workbook</h3>
      <p>Everything for the bench, with drawings to scale and full-size templates (PDF).</p>
      <div class="row">
        <a class="button" href={bookAddress("a4")} download="">
          Workbook on A4
        </a>
        <a class="button" href={bookAddress("letter")} download="">
          Workbook on Letter
        </a>
        <a class="button quiet" href={labelAddress("a4")} download="">
          Labels on A4
        </a>
        <a class="button quiet" href={labelAddress("letter")} download="">
          Labels on Letter
        </a>
        <button
          type="button"
          class="quiet"
          onClick={() => {
            close();
            setTimeout(() => print(), 50);
          }}
        >
          Print this page
        </button>
      </div>
      <p>
        For a class, with questions left open and the answers at the end. One chapter alone: open it, and
        print it below.
      </p>
      <div class="row">
        <a class="button quiet" href={lessonAddress("a4")} download="">
          Lesson on A4
        </a>
        <a class="button quiet" href={lessonAddress("letter")} download="">
          Lesson on Letter
        </a>
      </div>
      <h3>Files</h3>
      <ul class="files">
        <li>
          <button type="button" class="quiet" onClick={downloadPieceFile}>
            Piece file
          </button>
          <span class="soft">to keep, to send, to take in elsewhere (as it lies on the bench)</span>
        </li>
        {fileKinds.map((kind) => (
          <li key={kind.name}>
            <a class="button quiet" href={fileAddress(kind)} download="">
              {kind.title}
            </a>
            <span class="soft">{kind.use}</span>
          </li>
        ))}
      </ul>
    </Dialog>
  );
}
