// A question that has to be answered before anything else: a dialog. The answer that
// changes nothing stands out.
import { useEffect, useId, useRef } from "preact/hooks";
import type { ComponentChildren } from "preact";

export function Ask({ title, yes, no, onYes, onNo, children }: {
  title: string;
  yes: string;
  no: string;
  onYes: () => void;
  onNo: () => void;
  children: ComponentChildren;
}) {
  const at = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => at.current!.showModal(), []);
  return (
    <dialog class="ask" ref={at} aria-labelledby={id} onCancel={onNo}>
      <h2 id={id}>{title}</h2>
      {children}
      <p class="row">
        <button type="button" class="go" onClick={onNo}>
          {no}
        </button>
        <button type="button" class="button" onClick={onYes}>
          {yes}
        </button>
      </p>
    </dialog>
  );
}
