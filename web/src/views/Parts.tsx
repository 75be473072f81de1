// The parts in words: what the picture shows, for eyes and for ears. A part chosen here is marked there.

import type { ScenePart } from "../api/types";
import * as bench from "../state/bench";
import { written } from "../state/length";
import { chosenJoint, pickJoint, pickPart } from "../state/looks";
import { Build } from "./Build";
import { HandList } from "./HandList";
import { PartEditor } from "./PartEditor";

/** "724 × 95 × 22 mm" */
export function sizeOf(part: ScenePart): string {
  const [l, w, t] = part.size.map((mm) => written(mm, bench.units.value));
  if (bench.units.value === "inch") return `${l} × ${w} × ${t}`;
  const bare = (s: string | undefined) => (s ?? "").replace(" mm", "");
  return `${bare(l)} × ${bare(w)} × ${t}`;
}

export function Parts() {
  const parts = bench.good.value?.scene?.parts ?? [];
  return (
    <>
      <p class="soft small">
        Length along the grain × width × thickness. Choose a part to mark it in the picture.
      </p>
      <Build />
      <HandList />
      <ul class="parts">
        {parts.map((part) => (
          <Part key={part.id} part={part} />
        ))}
      </ul>
      <Joints />
    </>
  );
}

/** The joints in words: those of the chosen part, or all. */
function Joints() {
  const all = bench.good.value?.scene?.joints ?? [];
  const own = all.filter((j) => j.parts.includes(bench.picked.value));
  const shown = own.length > 0 ? own : all;
  const chosen = chosenJoint.value;
  if (all.length === 0) return null;
  return (
    <>
      <h3 class="joints-title">{own.length > 0 ? `Joints of ${bench.picked.value}` : "Joints"}</h3>
      <ul class="parts">
        {shown.map((joint) => (
          <li key={joint.name}>
            <button
              type="button"
              class="part joint"
              aria-pressed={joint === chosen}
              onClick={() => pickJoint(joint.name)}
            >
              <strong>{joint.parts.join(" ")}</strong>
              <span>{joint.name}</span>
              <span class="soft">{joint.words}</span>
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

function Part({ part }: { part: ScenePart }) {
  const chosen = bench.picked.value === part.id;
  return (
    <li>
      <button type="button" class="part" aria-pressed={chosen} onClick={() => pickPart(part.id)}>
        <strong>{part.id}</strong>
        <span>{part.name}</span>
        <span class="soft">{sizeOf(part)}</span>
      </button>
      {chosen && (
        <div class="part-more">
          <p>
            {part.species}
            {part.kind && `, ${part.kind}`}
          </p>
          <PartEditor part={part} />
          {part.features.length > 0 && (
            <ul>
              {part.features.map((f) => (
                <li key={f.id}>
                  {f.words || f.kind}
                  {f.mate && `, for ${f.mate}`}
                </li>
              ))}
            </ul>
          )}
        </div>
      )}
    </li>
  );
}
