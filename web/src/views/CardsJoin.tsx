// Asks for the code that is shown at the desk.

import { useSignal } from "@preact/signals";
import { join, openCards } from "../actions/cards";

export function Join({ words }: { words: string }) {
  const code = useSignal("");
  return (
    <main class="card">
      <h1>A code, please</h1>
      <p role="alert">{words}.</p>
      <p>
        On the computer open the cards, press All cards, then On my phone. Each code is good for one phone.
      </p>
      <form
        class="card-note"
        onSubmit={(e) => {
          e.preventDefault();
          void join(code.value).then(async (known) => {
            if (known) await openCards();
          });
        }}
      >
        <label>
          Code
          <input
            type="text"
            autocomplete="off"
            autocapitalize="characters"
            spellcheck={false}
            value={code.value}
            onInput={(e) => {
              code.value = e.currentTarget.value;
            }}
          />
        </label>
        <button type="submit">Hand in</button>
      </form>
      <p>What you ticked on this phone is kept until then.</p>
    </main>
  );
}
