import { render } from "preact";
import { App } from "./app.tsx";
import { applyTheme, storedTheme } from "./parts/theme.ts";
import { fetchState, openDesk } from "./state/desk.ts";
import "./main.css";

applyTheme(storedTheme());
// The key in the link has done its work; it need not stand in the address bar and the history.
if (location.search !== "") history.replaceState(null, "", "/");

const root = document.getElementById("page")!;
try {
  const desk = openDesk(await fetchState());
  render(<App desk={desk} />, root);
  addEventListener("beforeunload", (event) => {
    if (desk.keeper.keeping.waiting.length > 0) event.preventDefault();
  });
} catch (error) {
  root.textContent = error instanceof Error ? error.message : String(error);
}
