import { Worker } from "node:worker_threads";
import type { Job, JobResults } from "./job.ts";

/** A few threads that do jobs; at most one job is in flight in each, so that memory does not grow with the run. */
export interface WorkerPool {
  run<K extends keyof JobResults>(job: Job & { kind: K }): Promise<JobResults[K]>;
  close(): Promise<void>;
}

interface Task {
  readonly job: Job;
  readonly resolve: (value: JobResults[keyof JobResults]) => void;
  readonly reject: (error: Error) => void;
}

/** A thread with the worker that lies beside this file: JavaScript in dist; in src TypeScript, which tsx must translate. */
function startWorker(): Worker {
  if (!import.meta.url.endsWith(".ts")) return new Worker(new URL("./worker.js", import.meta.url));
  const worker = JSON.stringify(new URL("./worker.ts", import.meta.url).href);
  const tsx = JSON.stringify(import.meta.resolve("tsx/esm/api"));
  return new Worker(`import(${tsx}).then((tsx) => (tsx.register(), import(${worker})))`, { eval: true });
}

/** @param size number of threads; 1 does everything in this one and starts none */
export function openPool(size: number): WorkerPool {
  return size <= 1 ? thisThread() : openThreads(size);
}

function thisThread(): WorkerPool {
  let last: Promise<unknown> = Promise.resolve();
  return {
    run<K extends keyof JobResults>(job: Job & { kind: K }) {
      const next = last.then(async () => (await import("./doJob.ts")).doJob(job) as Promise<JobResults[K]>);
      last = next.catch(() => undefined);
      return next;
    },
    close: async () => undefined,
  };
}

/** @param size number of threads, one at the least; this one stays free */
export function openThreads(size: number): WorkerPool {
  const waiting: Task[] = [];
  const idle: Worker[] = [];
  const all = new Set<Worker>();
  const busy = new Map<Worker, Task>();

  const next = () => {
    while (waiting.length > 0) {
      const worker = idle.pop() ?? (all.size < size ? start() : undefined);
      if (worker === undefined) return;
      const task = waiting.shift()!;
      busy.set(worker, task);
      worker.postMessage(task.job);
    }
  };
  const start = (): Worker => {
    const worker = startWorker();
    all.add(worker);
    worker.on("message", (said: { done: JobResults[keyof JobResults] } | { failed: string }) => {
      const task = busy.get(worker)!;
      busy.delete(worker);
      idle.push(worker);
      if ("done" in said) task.resolve(said.done);
      else task.reject(new Error(said.failed));
      next();
    });
    // A thread that dies (out of memory, say) takes its job with it, not the run.
    const died = (error: Error) => {
      all.delete(worker);
      busy.get(worker)?.reject(error);
      busy.delete(worker);
      next();
    };
    worker.on("error", died);
    worker.on("exit", () => all.has(worker) && died(new Error("a worker thread ended early")));
    return worker;
  };

  return {
    run<K extends keyof JobResults>(job: Job & { kind: K }) {
      return new Promise<JobResults[K]>((resolve, reject) => {
        waiting.push({ job, resolve: resolve as Task["resolve"], reject });
        next();
      });
    },
    close: async () => {
      const ending = [...all];
      all.clear();
      await Promise.all(ending.map((w) => w.terminate()));
    },
  };
}
