// The saved versions of the piece on the bench.

import { useEffect } from "preact/hooks";
import { layOut, lookAtVersions, versions } from "../actions/versions";
import * as bench from "../state/bench";
import { Dialog } from "./Dialog";
import { day } from "./day";

export function Versions({ close }: { close: () => void }) {
  useEffect(() => void lookAtVersions(), []);
  const all = versions.value;
  return (
    <Dialog title="Versions" close={close}>
      {all === null && <p class="soft">Fetching the versions …</p>}
      <ul class="versions">
        {(all ?? []).map((v) => (
          <li key={v.version}>
            <span>
              <strong>Version {v.version}</strong>
              {v.version === bench.saved.value?.version && ", on the bench"}
              <br />
              <span class="soft small">
                {day(v.saved)}
                {v.note && `: ${v.note}`}
              </span>
            </span>
            <button
              type="button"
              class="quiet"
              onClick={() => {
                close();
                void layOut(v.version);
              }}
            >
              Open again<span class="unseen">, version {v.version}</span>
            </button>
          </li>
        ))}
      </ul>
    </Dialog>
  );
}
