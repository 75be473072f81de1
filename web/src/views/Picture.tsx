// The piece in space, always in sight: turned by hand or by keys, pulled apart, seen through, a part named.
// The code that draws is loaded when it is first needed.

import { useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { pictureAddress } from "../api/client";
import * as bench from "../state/bench";
import { chosenJoint, large, pickJoint, pickPart, stands } from "../state/looks";
import { dark, still, wide } from "../state/screen";
import type { From } from "../view3d/orbit";
import type { View } from "../view3d/view";
import { Icon } from "./Icon";
import { Looks } from "./Looks";
import { chosenPlace } from "./Misfits";
import { sizeOf } from "./Parts";

const places: [From, string][] = [
  ["corner", "the corner"],
  ["front", "the front"],
  ["side", "the side"],
  ["top", "above"],
  ["below", "below"],
  ["grain", "along the grain"],
];

export function Picture() {
  const canvas = useRef<HTMLCanvasElement>(null);
  const view = useSignal<View | null>(null);
  const failed = useSignal(false);
  const paper = useSignal("");

  useEffect(() => {
    let left = false;
    void import("../view3d/view")
      .then(({ View }) => {
        if (left || !canvas.current) return;
        view.value = new View(
          canvas.current,
          (part, joint) => (joint ? pickJoint(joint) : pickPart(part)),
          () => wide.value,
        );
      })
      .catch((cause: unknown) => {
        console.warn("no 3-D here", cause);
        failed.value = true;
      });
    const toPaper = () => {
      paper.value = view.peek()?.picture() ?? "";
    };
    addEventListener("beforeprint", toPaper);
    return () => {
      left = true;
      removeEventListener("beforeprint", toPaper);
      view.peek()?.dispose();
      view.value = null;
    };
  }, [view, failed, paper]);

  useSignalEffect(() => {
    const scene = bench.good.value?.scene;
    if (!scene) return;
    view.value?.setParts(scene.parts);
    view.value?.setJoints(scene.joints);
  });
  useSignalEffect(() => {
    const answer = bench.good.value;
    const bent = bench.bendCase.value ? (answer?.bent ?? null) : null;
    if (answer?.scene) view.value?.setBent(bent);
  });
  useSignalEffect(() => {
    const swings = bench.swings.value && bench.bendCase.value !== "" && !still.value;
    view.value?.setSwinging(swings);
  });
  useSignalEffect(() => view.value?.setStands(stands.value));
  useSignalEffect(() => view.value?.setJoint(chosenJoint.value ?? null));
  useSignalEffect(() => view.value?.setApart(bench.apart.value));
  useSignalEffect(() => view.value?.setSeeThrough(bench.seeThrough.value));
  useSignalEffect(() => view.value?.setPicked(bench.picked.value));
  useSignalEffect(() => view.value?.setPlace(chosenPlace() ?? null));
  useSignalEffect(() => {
    void dark.value;
    if (view.value && canvas.current) view.value.setColors(colorsOf(canvas.current));
  });

  return (
    <>
      <div class="picture-box">
        {failed.value ? (
          <Flat />
        ) : (
          // biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: the canvas takes keys, and its parts are listed in words.
          <canvas
            ref={canvas}
            tabIndex={0}
            role="application"
            aria-label="The piece in 3-D. Arrow keys turn it, plus and minus come closer and go back, Home shows it from the corner. The list of parts says the same in words."
          />
        )}
        {paper.value && <img class="paper-only" src={paper.value} alt="The piece" />}
        <Caption />
        {!failed.value && view.value && <Hands view={view.value} />}
        <button
          type="button"
          class="quiet larger"
          aria-pressed={large.value}
          onClick={() => {
            large.value = !large.peek();
          }}
        >
          <Icon name={large.value ? "up" : "open"} />
          {large.value ? "Smaller" : "Larger"}
          <span class="unseen"> picture</span>
        </button>
      </div>
      {!failed.value && <Looks />}
    </>
  );
}

/** Buttons for what a hand can do by dragging. */
function Hands({ view }: { view: View }) {
  return (
    <div class="hands">
      <div class="pair">
        <button type="button" class="quiet" onClick={() => view.turn(-Math.PI / 8, 0)}>
          <Icon name="left" />
          <span class="unseen">Turn to the left</span>
        </button>
        <button type="button" class="quiet" onClick={() => view.turn(Math.PI / 8, 0)}>
          <Icon name="right" />
          <span class="unseen">Turn to the right</span>
        </button>
      </div>
      <label class="from">
        <span>From</span>
        <select
          onChange={(event) => {
            view.lookFrom(event.currentTarget.value as From);
          }}
        >
          {places.map(([place, title]) => (
            <option key={place} value={place}>
              {title}
            </option>
          ))}
        </select>
      </label>
      <div class="pair">
        <button type="button" class="quiet" onClick={() => view.closer(1.25)}>
          <Icon name="closer" />
          <span class="unseen">Closer</span>
        </button>
        <button type="button" class="quiet" onClick={() => view.closer(0.8)}>
          <Icon name="farther" />
          <span class="unseen">Farther</span>
        </button>
      </div>
    </div>
  );
}

/** Names the part or the joint that was picked. */
function Caption() {
  const joint = chosenJoint.value;
  const part = bench.good.value?.scene?.parts.find((p) => p.id === bench.picked.value);
  return (
    <p class="caption" role="status">
      {joint ? (
        <>
          <strong>{joint.parts.join(" and ")}</strong> {joint.name}
          {joint.words && `: ${joint.words}`}
        </>
      ) : part ? (
        <>
          <strong>{part.id}</strong> {part.name}, {sizeOf(part)}
        </>
      ) : (
        <span class="soft">
          Drag to turn it, press a part to name it.
          <span class="wide-only">&nbsp;Squares on the floor are 100 mm.</span>
        </span>
      )}
    </p>
  );
}

/** What is shown where the browser cannot draw in 3-D. */
function Flat() {
  const saved = bench.saved.value;
  return (
    <div class="flat">
      {saved && <img src={pictureAddress(saved.id, saved.version)} alt="The piece as it was last saved" />}
      <p class="soft small">
        This browser cannot draw in 3-D, so the picture shows the piece as it was last saved.
      </p>
    </div>
  );
}

/** Colours for the view, from the page's own. */
function colorsOf(element: Element) {
  const style = getComputedStyle(element);
  const color = (name: string) => style.getPropertyValue(name).trim();
  return {
    line: color("--view-line"),
    ghostLine: color("--view-ghost-line"),
    floor: color("--view-floor"),
    picked: color("--view-picked"),
    cut: color("--view-cut"),
    fault: color("--view-fault"),
  };
}
