/** Tells how far long work has come. */
export interface Progress {
  /** @param what e.g. "reading p3.jpg" */
  step(done: number, of: number, what: string): void;
  /** Wipes the line, so that other output starts clean. */
  clear(): void;
}

const SILENT: Progress = { step: () => undefined, clear: () => undefined };

/** A line that rewrites itself on a terminal; nothing at all where standard error is piped or quiet is asked for. */
export function progressOn(stream: NodeJS.WriteStream, quiet: boolean): Progress {
  if (quiet || !stream.isTTY) return SILENT;
  return {
    step: (done, of, what) => {
      const text = `${done} of ${of}  ${what}`;
      stream.write(`\r\x1b[2K${text.slice(0, Math.max(20, (stream.columns ?? 80) - 1))}`);
    },
    clear: () => {
      stream.write("\r\x1b[2K");
    },
  };
}
