import type { RefObject } from 'preact';
import { useEffect, useState } from 'preact/hooks';

/** The width of an element in whole pixels, as it is and becomes; 0 until it is known. */
export function useWidth(ref: RefObject<HTMLElement>): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = ref.current;
    if (!element) return;
    const observer = new ResizeObserver(() => setWidth(Math.floor(element.clientWidth)));
    observer.observe(element);
    return () => observer.disconnect();
  }, [ref]);
  return width;
}
