import { useLayoutEffect, useRef, useState, type RefObject } from 'react';

/** Inner size of an element in whole CSS pixels, kept up to date; null before it is known. */
export function useBox(): [
  RefObject<HTMLDivElement | null>,
  { readonly width: number; readonly height: number } | null,
] {
  const ref = useRef<HTMLDivElement>(null);
  const [box, setBox] = useState<{ width: number; height: number } | null>(null);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return undefined;
    const watch = new ResizeObserver(() =>
      setBox({ width: Math.round(element.clientWidth), height: Math.round(element.clientHeight) }),
    );
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return [ref, box];
}
