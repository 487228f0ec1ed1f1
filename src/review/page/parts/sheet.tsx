import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Icon } from "./icon.tsx";

export interface SheetProps {
  readonly title: string;
  readonly name: string;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}

/** Something laid over the page; Escape and the cross put it away, and the focus returns to where it was. */
export function Sheet({ title, name, onClose, children }: SheetProps) {
  const ref = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const dialog = ref.current!;
    const before = document.activeElement;
    if (!dialog.open) dialog.showModal();
    return () => {
      dialog.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={ref}
      class={`sheet ${name}`}
      aria-labelledby={`${name}-h`}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <div class="sheethead">
        <h2 id={`${name}-h`}>{title}</h2>
        <button type="button" class="close" aria-label="Close" onClick={onClose}>
          <Icon name="close" />
        </button>
      </div>
      {children}
    </dialog>
  );
}
