import { useEffect, useState } from "preact/hooks";

/** False until the page has been drawn for the first time: what is below the fold can wait for that. */
export function useAfterPaint(): boolean {
  const [painted, setPainted] = useState(false);
  useEffect(() => {
    let timer = 0;
    const frame = requestAnimationFrame(() => {
      timer = setTimeout(() => setPainted(true)) as unknown as number;
    });
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(timer);
    };
  }, []);
  return painted;
}
