import { vi } from "vitest";
import { program } from "../../src/cli/program.ts";

/** Runs the program in this process; what it said and how it ended. */
export async function inProcess(...args: string[]): Promise<{ out: string; err: string; status: number }> {
  let out = "";
  let err = "";
  const stdout = vi.spyOn(process.stdout, "write").mockImplementation((text) => {
    out += text;
    return true;
  });
  const stderr = vi.spyOn(process.stderr, "write").mockImplementation((text) => {
    err += text;
    return true;
  });
  process.exitCode = undefined;
  try {
    await program().parseAsync(["node", "platepool", ...args]);
    return { out, err, status: Number(process.exitCode ?? 0) };
  } finally {
    stdout.mockRestore();
    stderr.mockRestore();
  }
}
