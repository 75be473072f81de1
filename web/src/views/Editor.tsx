// A plain field for a text of many lines, with its problems listed by line.

import { useId, useRef } from "preact/hooks";
import type { Problem } from "../api/types";
import { Problems } from "./Problems";

interface Props {
  label: string;
  text: string;
  change: (text: string) => void;
  problems: Problem[];
  title: string;
}

export function Editor({ label, text, change, problems, title }: Props) {
  const id = useId();
  const area = useRef<HTMLTextAreaElement>(null);
  return (
    <div class="editor">
      <label for={id}>{label}</label>
      <textarea
        ref={area}
        id={id}
        value={text}
        spellcheck={false}
        autocapitalize="off"
        rows={18}
        wrap="off"
        onInput={(event) => change(event.currentTarget.value)}
      />
      {problems.length > 0 && (
        <Problems
          title={title}
          problems={problems}
          show={(line) => area.current && showLine(area.current, line)}
        />
      )}
    </div>
  );
}

/** Selects a line and brings it into sight. */
function showLine(area: HTMLTextAreaElement, line: number): void {
  const lines = area.value.split("\n");
  const start = lines.slice(0, line - 1).reduce((sum, l) => sum + l.length + 1, 0);
  area.focus();
  area.setSelectionRange(start, start + (lines[line - 1] ?? "").length);
  area.scrollTop = (area.scrollHeight / lines.length) * Math.max(0, line - 4);
}
