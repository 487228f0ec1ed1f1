import { parentPort } from "node:worker_threads";
import { doJob } from "./doJob.ts";
import type { Job } from "./job.ts";

parentPort!.on("message", async (job: Job) => {
  try {
    parentPort!.postMessage({ done: await doJob(job) });
  } catch (error) {
    parentPort!.postMessage({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
