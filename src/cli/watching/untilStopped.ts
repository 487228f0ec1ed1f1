/**
 * Waits for Ctrl-C (or a polite kill), then does what is left to do; a second Ctrl-C does not wait for that.
 * @param finish told whether to hurry
 */
export async function untilStopped(finish: () => Promise<void>): Promise<void> {
  await new Promise<void>((resolve) => {
    const stop = () => {
      for (const signal of ["SIGINT", "SIGTERM"] as const) {
        process.off(signal, stop);
        process.once(signal, () => process.exit(130));
      }
      resolve();
    };
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, stop);
  });
  await finish();
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.removeAllListeners(signal);
}
