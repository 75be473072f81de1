// A sheet laid over the page. Escape and its button put it away, and the focus goes back to where it was.

import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";
import { Icon } from "./Icon";

export function Dialog({
  title,
  close,
  children,
}: {
  title: string;
  close: () => void;
  children: ComponentChildren;
}) {
  const id = useId();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    dialog.current?.showModal();
    return () => {
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog ref={dialog} aria-labelledby={id} onClose={close}>
      <div class="dialog-head">
        <h2 id={id}>{title}</h2>
        <button type="button" class="quiet" onClick={close}>
          <Icon name="close" /> Close
        </button>
      </div>
      {children}
    </dialog>
  );
}
