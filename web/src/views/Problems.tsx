// A list of what is wrong with a text, each with its line and how to mend it.

import type { Problem } from "../api/types";

interface Props {
  title: string;
  problems: Problem[];
  /** Shows the line of a problem; without it lines are only named. */
  show?: (line: number) => void;
}

export function Problems({ title, problems, show }: Props) {
  return (
    <div class="problems" role="status">
      <p>
        <strong>{title}</strong>
      </p>
      <ul>
        {problems.map((p) => (
          <li key={`${p.at.line} ${p.at.column} ${p.code} ${p.at.path}`}>
            <Place problem={p} show={show} />
            {p.at.path && <code>{p.at.path}</code>} {p.what}
            {p.expected && <>; expected {p.expected}</>}
            {p.mend && <>. To mend it: {p.mend}</>}
          </li>
        ))}
      </ul>
    </div>
  );
}

function Place({ problem, show }: { problem: Problem; show: Props["show"] }) {
  const line = problem.at.line;
  if (!line) return null;
  if (!show) return <span class="soft">Line {line}: </span>;
  return (
    <button type="button" class="quiet" onClick={() => show(line)}>
      Line {line}
    </button>
  );
}
