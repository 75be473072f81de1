// The boards on hand, each as a picture on which its faults are dragged, drawn and typed.

import { type Signal, useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { boards, saveDefects } from "../actions/boards";
import type { RackBoard, RackDefect } from "../api/types";
import * as bench from "../state/bench";
import { inside, keyed, LEAST, moved } from "../state/faults";
import { written } from "../state/length";

const kinds = ["knot", "check", "split", "wane", "pith", "stain", "nail", "other"] as const;

export function Rack() {
  const chosen = useSignal("");
  const rack = boards.value?.rack ?? [];
  const board = rack.find((b) => b.name === chosen.value);
  return (
    <section aria-label="Boards on hand">
      <h4>Boards on hand</h4>
      <p class="soft small">
        Choose a board to mark its knots, checks and splits. No part is cut from such a place.
      </p>
      <div class="row">
        {rack.map((b) => (
          <button
            key={b.name}
            type="button"
            class="quiet"
            aria-pressed={chosen.value === b.name}
            onClick={() => (chosen.value = chosen.value === b.name ? "" : b.name)}
          >
            {b.name}
            {b.used && <span class="soft small">used here</span>}
          </button>
        ))}
      </div>
      {rack.length === 0 && <p>There are none. Write them into the shop under boards.</p>}
      {board && <Faults key={board.name} board={board} />}
    </section>
  );
}

const size = (mm: number) => written(mm, bench.units.value);

function Faults({ board }: { board: RackBoard }) {
  const faults = useSignal<RackDefect[]>(board.defects);
  const picked = useSignal(-1);
  const before = board.defects;
  useEffect(() => {
    faults.value = before;
    picked.value = -1;
  }, [before]);
  const put = (i: number, d: RackDefect) => {
    faults.value = faults.value.map((old, k) => (k === i ? inside(d, board) : old));
  };
  const add = (d: RackDefect) => {
    faults.value = [...faults.value, inside(d, board)];
    picked.value = faults.value.length - 1;
  };
  const remove = (i: number) => {
    faults.value = faults.value.filter((_, k) => k !== i);
    picked.value = -1;
  };
  const middle = board.length / 2;
  const now = faults.value[picked.value];
  return (
    <div class="faults">
      <p>
        <strong>{board.name}</strong>, {size(board.length)} × {size(board.width)} × {size(board.thickness)}.
        The marked end is on the left. Drag a fault to move it, its corner to size it, or draw a new one on
        the clear wood. With keys: choose a fault in the list; arrows move it, Shift and arrows size it,
        Delete takes it away.
      </p>
      <Picture board={board} faults={faults} picked={picked} put={put} add={add} />
      <ul class="fault-list">
        {faults.value.map((d, i) => (
          <li key={i}>
            <button
              type="button"
              class="quiet"
              aria-pressed={picked.value === i}
              onClick={() => (picked.value = i)}
              onKeyDown={(e) => {
                if (e.key === "Delete" || e.key === "Backspace") remove(i);
                else {
                  const to = keyed(d, e.key, e.shiftKey);
                  if (!to) return;
                  picked.value = i;
                  put(i, to);
                }
                e.preventDefault();
              }}
            >
              {d.kind}: {size(d.from)} to {size(d.to)} along, {size(d.left)} to {size(d.right)} across
            </button>
          </li>
        ))}
      </ul>
      {now && (
        <div class="fields">
          <label>
            Kind
            <select
              value={now.kind}
              onChange={(e) =>
                put(picked.value, { ...now, kind: e.currentTarget.value as RackDefect["kind"] })
              }
            >
              {kinds.map((k) => (
                <option key={k}>{k}</option>
              ))}
            </select>
          </label>
          {(["from", "to", "left", "right"] as const).map((side) => (
            <label key={side}>
              {sides[side]}, mm
              <input
                type="text"
                inputMode="decimal"
                value={Number(now[side].toFixed(1))}
                onChange={(e) => {
                  const mm = Number(e.currentTarget.value.replace(",", "."));
                  if (Number.isFinite(mm)) put(picked.value, { ...now, [side]: mm });
                }}
              />
            </label>
          ))}
          <button type="button" class="quiet" onClick={() => remove(picked.value)}>
            Take it away
          </button>
        </div>
      )}
      <div class="row">
        <button
          type="button"
          class="quiet"
          onClick={() =>
            add({
              kind: "knot",
              from: middle - 20,
              to: middle + 20,
              left: board.width / 2 - 20,
              right: board.width / 2 + 20,
            })
          }
        >
          Add a knot
        </button>
        <button
          type="button"
          class="quiet"
          onClick={() =>
            add({ kind: "check", from: board.length - 60, to: board.length, left: 0, right: board.width })
          }
        >
          Add a check at the far end
        </button>
        <button
          type="button"
          disabled={faults.value === before}
          onClick={() => void saveDefects(board.name, faults.value)}
        >
          Save into the shop
        </button>
      </div>
    </div>
  );
}

const sides = { from: "Begins", to: "Ends", left: "From the left edge", right: "To" } as const;

interface Drag {
  how: "move" | "size" | "draw";
  at: number;
  x: number;
  y: number;
  start: RackDefect;
}

function Picture(p: {
  board: RackBoard;
  faults: Signal<RackDefect[]>;
  picked: Signal<number>;
  put: (i: number, d: RackDefect) => void;
  add: (d: RackDefect) => void;
}) {
  const svg = useRef<SVGSVGElement>(null);
  const drag = useRef<Drag | null>(null);
  const { board } = p;
  /** Where the pointer is on the board, mm: the left edge is below. */
  const at = (e: PointerEvent): [number, number] => {
    const box = svg.current?.getBoundingClientRect();
    if (!box || box.width === 0) return [0, 0];
    return [
      Math.round(((e.clientX - box.left) / box.width) * board.length),
      Math.round((1 - (e.clientY - box.top) / box.height) * board.width),
    ];
  };
  const down = (e: PointerEvent, how: Drag["how"], i: number) => {
    e.stopPropagation();
    const [x, y] = at(e);
    if (how === "draw") {
      p.add({ kind: "knot", from: x, to: x + LEAST, left: y - LEAST, right: y });
      i = p.faults.value.length - 1;
    }
    const start = p.faults.value[i];
    if (!start) return;
    p.picked.value = i;
    drag.current = { how, at: i, x, y, start };
    svg.current?.setPointerCapture(e.pointerId);
  };
  const move = (e: PointerEvent) => {
    const d = drag.current;
    if (!d) return;
    const [x, y] = at(e);
    if (d.how === "move") {
      const along = Math.min(x - d.x, board.length - d.start.to);
      p.put(d.at, moved(d.start, along, Math.min(y - d.y, board.width - d.start.right)));
    } else if (d.how === "size") {
      p.put(d.at, { ...d.start, to: d.start.to + x - d.x, left: d.start.left + y - d.y });
    } else {
      p.put(d.at, {
        ...d.start,
        from: Math.min(d.x, x),
        to: Math.max(d.x, x),
        left: Math.min(d.y, y),
        right: Math.max(d.y, y),
      });
    }
  };
  const up = () => {
    drag.current = null;
  };
  return (
    <div class="fault-picture">
      <svg
        ref={svg}
        viewBox={`0 0 ${board.length} ${board.width}`}
        preserveAspectRatio="none"
        aria-hidden="true"
        onPointerDown={(e) => down(e, "draw", -1)}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={up}
      >
        <rect class="wood" width={board.length} height={board.width} />
        {p.faults.value.map((d, i) => (
          <g key={i} data-picked={p.picked.value === i}>
            <rect
              class="fault"
              x={d.from}
              y={board.width - d.right}
              width={d.to - d.from}
              height={d.right - d.left}
              onPointerDown={(e) => down(e, "move", i)}
            />
            <rect
              class="grip"
              x={d.to - Math.min((d.to - d.from) / 3, board.length / 60)}
              y={board.width - d.left - Math.min((d.right - d.left) / 3, board.width / 6)}
              width={board.length / 50}
              height={board.width / 5}
              onPointerDown={(e) => down(e, "size", i)}
            />
          </g>
        ))}
      </svg>
    </div>
  );
}
