// A drawing that the server made. It may be wider than its place, and can then be slid by hand and by keys.

import { useEffect, useRef } from "preact/hooks";

export function Drawing({ svg, label }: { svg: string; label: string }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = box.current;
    if (!element) return;
    element.tabIndex = 0;
    element.setAttribute("role", "group");
    element.setAttribute("aria-label", label);
  }, [label]);
  // The server writes this: it escapes every word, and its policy forbids scripts.
  return <div ref={box} class="document picture drawn" dangerouslySetInnerHTML={{ __html: svg }} />;
}
