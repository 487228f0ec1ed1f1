import { useEffect, useState } from "preact/hooks";
import type { Desk, View } from "./desk.ts";

/** What the desk knows, renewed whenever it changes. */
export function useView(desk: Desk): View {
  const [view, setView] = useState(desk.view);
  useEffect(() => {
    setView(desk.view);
    return desk.subscribe(() => setView(desk.view));
  }, [desk]);
  return view;
}
