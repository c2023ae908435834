import { type ComponentChildren, render } from "preact";
import { useLayoutEffect, useState } from "preact/hooks";

/** Where the foot of the pane shows what a section can do. */
export const ACTS = "acts";

/** Shows something of a section in the bar at the foot, which is always in view. */
export function InFoot({ children }: { readonly children: ComponentChildren }): null {
  const [place] = useState(() => {
    const made = document.createElement("div");
    made.className = "acts";
    return made;
  });
  useLayoutEffect(() => {
    document.getElementById(ACTS)?.append(place);
    return () => {
      render(null, place);
      place.remove();
    };
  }, [place]);
  useLayoutEffect(() => {
    render(<>{children}</>, place);
  });
  return null;
}
