import { parentPort } from "node:worker_threads";
import { doJob } from "./doJob.ts";
import type { Answered, Asked } from "./job.ts";

const answer = (said: Answered) => parentPort!.postMessage(said);

parentPort!.on("message", async ({ number, job }: Asked) => {
  try {
    answer({ number, done: await doJob(job) });
  } catch (error) {
    answer({ number, failed: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
