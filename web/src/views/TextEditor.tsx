// The piece file, the second way to change a piece: everything can be said in it.

import { changeText } from "../actions/changeSize";
import * as bench from "../state/bench";
import { Editor } from "./Editor";

export function TextEditor() {
  return (
    <Editor
      label="The piece file"
      text={bench.text.value}
      change={changeText}
      problems={bench.problems.value}
      title="This cannot be planned yet. The picture shows the last that could."
    />
  );
}
