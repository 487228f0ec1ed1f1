import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { type FSWatcher, watch } from "chokidar";
import { JOURNAL_FILE } from "../../store/index.ts";

/** What of a run folder changed. */
export type FolderNews = "photos" | "run-file" | "journal" | "bench";

const RUN_FILE = /^run\.ya?ml$/i;
const PHOTO = /\.(jpe?g|jpe|jfif|png|tiff?|webp|hei[cf]|hif)$/i;

/**
 * Watches a run folder and the `plates` folder in it. What we write there ourselves (results, locks, temporary files) is
 * passed over.
 * @param onNews told with the path that changed, as soon as it does: a photo may still be growing
 */
export function watchRunFolder(
  folder: string,
  onNews: (news: FolderNews, path: string) => void,
): { close(): Promise<void> } {
  const home = resolve(folder);
  const passedOver = (path: string): boolean => {
    const parts = relative(home, path).split(sep);
    return parts.some((p) => p.startsWith(".")) || parts[0] === "results" || parts[0] === "..";
  };
  const watcher: FSWatcher = watch(home, { depth: 1, ignoreInitial: true, ignored: passedOver });
  const tell = (path: string) => {
    const name = basename(path);
    const inHome = dirname(path) === home;
    const inPlates = dirname(path) === join(home, "plates");
    if (inHome && name === JOURNAL_FILE) onNews("journal", path);
    else if (inHome && RUN_FILE.test(name)) onNews("run-file", path);
    else if (inHome && name === "bench.jsonl") onNews("bench", path);
    else if ((inHome || inPlates) && PHOTO.test(name)) onNews("photos", path);
  };
  watcher.on("add", tell).on("change", tell).on("unlink", tell);
  // A folder that goes away, or a limit of the system: the run in hand stays as it is.
  watcher.on("error", () => undefined);
  return { close: () => watcher.close() };
}
