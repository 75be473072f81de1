// At the desk: lets phones in, shows a code for one, and the phones that may read cards.

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { PhoneCode, PhoneState } from "../api/cards";
import * as api from "../api/cards";
import { answer } from "../state/cards";
import { tellFailure } from "../state/message";

const day = (at: string) =>
  new Intl.DateTimeFormat("en-GB", {
    day: "numeric",
    month: "long",
    hour: "2-digit",
    minute: "2-digit",
  }).format(new Date(at));

export function CardsPhone() {
  const phones = useSignal<PhoneState | null>(null);
  const code = useSignal<PhoneCode | null>(null);
  const address = useSignal("");
  const ask = async (doing: string, call: () => Promise<PhoneState>) => {
    try {
      phones.value = await call();
    } catch (cause) {
      tellFailure(doing, cause);
    }
  };
  useEffect(() => {
    void ask("The phones were not listed", api.showPhones);
  }, []);
  const now = phones.value;
  if (!now) return null;
  const makeCode = async () => {
    try {
      code.value = await api.makePhoneCode(answer.value?.id ?? "", address.value);
    } catch (cause) {
      tellFailure("No code was made", cause);
    }
  };
  return (
    <section class="card-phones" aria-labelledby="phones-title">
      <h2 id="phones-title">On my phone</h2>
      <p>
        {now.open
          ? "Phones in this network can reach the cards, with a code. They may read cards, tick and note, and nothing else."
          : "Nothing outside this computer can reach Longgrain now. Let phones in only in a network that you trust: what they send can be read by others in it."}
      </p>
      <p>
        <button
          type="button"
          aria-pressed={now.open}
          class={now.open ? "quiet" : ""}
          onClick={() => {
            code.value = null;
            void ask(now.open ? "The door was not shut" : "The door was not opened", () =>
              api.openToPhones(!now.open),
            );
          }}
        >
          {now.open ? "Shut phones out" : "Let phones in"}
        </button>
        {now.open && (
          <button type="button" onClick={() => void makeCode()}>
            Code for one phone
          </button>
        )}
      </p>
      {now.open && now.addresses.length > 1 && (
        <label>
          Network
          <select
            value={address.value || now.addresses[0]}
            onChange={(e) => {
              address.value = e.currentTarget.value;
              code.value = null;
            }}
          >
            {now.addresses.map((a) => (
              <option key={a} value={a}>
                {a}
              </option>
            ))}
          </select>
        </label>
      )}
      {code.value && (
        <div class="card-code" role="status">
          <div class="code-picture" dangerouslySetInnerHTML={{ __html: code.value.svg }} />
          <p>
            Point the camera of the phone at it, or open <strong>{code.value.address}</strong> and type{" "}
            <strong class="code-words">{code.value.code}</strong>. Good once, until {day(code.value.expires)}.
          </p>
        </div>
      )}
      {now.phones.length > 0 && (
        <ul class="card-list">
          {now.phones.map((p) => (
            <li key={p.id}>
              <span>
                <strong>{p.name}</strong>{" "}
                <span class="soft">
                  since {day(p.joined)}, last seen {day(p.seen)}, until {day(p.expires)}
                </span>
              </span>
              <button
                type="button"
                class="quiet"
                aria-label={`Forget ${p.name}`}
                onClick={() => void ask("The phone was not forgotten", () => api.revokePhone(p.id))}
              >
                Forget
              </button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
