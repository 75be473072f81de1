// The places where the piece does not fit, in words. One that is chosen is marked in the picture.

import type { ScenePlace } from "../api/types";
import * as bench from "../state/bench";

/** Names a place: what is wrong and where; two places may read alike but for the part. */
const nameOf = (place: ScenePlace) => `${place.part}: ${place.what}`;

/** The place that is chosen, if it is still there. */
export const chosenPlace = (): ScenePlace | undefined =>
  bench.good.value?.scene?.places.find((p) => nameOf(p) === bench.place.value);

export function Misfits() {
  const places = bench.good.value?.scene?.places ?? [];
  if (places.length === 0) return null;
  const chosen = chosenPlace();
  return (
    <details class="misfits">
      <summary>{places.length === 1 ? "1 place does not fit" : `${places.length} places do not fit`}</summary>
      <ul>
        {places.map((place) => (
          <li key={nameOf(place)}>
            <button
              type="button"
              class="part"
              aria-pressed={place === chosen}
              onClick={() => {
                bench.place.value = place === chosen ? "" : nameOf(place);
              }}
            >
              <strong>{place.part}</strong>
              <span>{place.what}</span>
            </button>
            {place === chosen && <p class="part-more">{place.advice}</p>}
          </li>
        ))}
      </ul>
    </details>
  );
}
