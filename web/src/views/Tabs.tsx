// Tabs with one panel below; arrow keys go from tab to tab.

import type { ComponentChildren } from "preact";

interface Props<Id extends string> {
  label: string;
  tabs: { id: Id; title: string }[];
  chosen: Id;
  choose: (id: Id) => void;
  /** What stands at the other end of the row of tabs. */
  beside: ComponentChildren;
  children: ComponentChildren;
}

export function Tabs<Id extends string>({ label, tabs, chosen, choose, beside, children }: Props<Id>) {
  const move = (event: KeyboardEvent) => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!step) return;
    const at = tabs.findIndex((t) => t.id === chosen);
    const next = tabs[(at + step + tabs.length) % tabs.length];
    if (!next) return;
    event.preventDefault();
    choose(next.id);
    document.getElementById(`tab-${next.id}`)?.focus();
  };
  return (
    <>
      <div class="tab-row">
        <div role="tablist" aria-label={label} class="tabs" onKeyDown={move}>
          {tabs.map((tab) => (
            <button
              key={tab.id}
              type="button"
              role="tab"
              id={`tab-${tab.id}`}
              aria-selected={tab.id === chosen}
              aria-controls="tab-panel"
              tabIndex={tab.id === chosen ? 0 : -1}
              onClick={() => choose(tab.id)}
            >
              {tab.title}
            </button>
          ))}
        </div>
        {beside}
      </div>
      <div role="tabpanel" id="tab-panel" aria-labelledby={`tab-${chosen}`} class="tab-panel">
        {children}
      </div>
    </>
  );
}
