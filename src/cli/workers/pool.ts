import { Worker } from "node:worker_threads";
import { layOutThreads } from "./engine.ts";
import type { Answered, Asked, Job, JobResults } from "./job.ts";

/** A few threads that do jobs; only few are begun in each, so that memory does not grow with the run. */
export interface WorkerPool {
  run<K extends keyof JobResults>(job: Job & { kind: K }): Promise<JobResults[K]>;
  close(): Promise<void>;
}

interface Task {
  readonly job: Job;
  readonly resolve: (value: JobResults[keyof JobResults]) => void;
  readonly reject: (error: Error) => void;
}

/** A thread with the worker: as `npm run build` bundles it; in src TypeScript beside this file, which tsx must translate. */
function startWorker(): Worker {
  layOutThreads();
  if (!import.meta.url.endsWith(".ts")) return new Worker(new URL("./workers/worker.js", import.meta.url));
  const worker = JSON.stringify(new URL("./worker.ts", import.meta.url).href);
  const tsx = JSON.stringify(import.meta.resolve("tsx/esm/api"));
  return new Worker(`import(${tsx}).then((tsx) => (tsx.register(), import(${worker})))`, { eval: true });
}

/**
 * Jobs that a thread has begun: while sharp decodes or packs pictures of one, it measures another. A decode is asked for in steps between
 * which the thread may measure for long: with fewer it waited for the fourth photo.
 */
const BEGUN = 4;

/** @param size number of threads; 1 does everything in this one and starts none */
export function openPool(size: number): WorkerPool {
  return size <= 1 ? thisThread() : openThreads(size);
}

function thisThread(): WorkerPool {
  const waiting: Task[] = [];
  let begun = 0;
  const next = () => {
    while (begun < BEGUN && waiting.length > 0) {
      const { job, resolve, reject } = waiting.shift()!;
      begun++;
      import("./doJob.ts")
        .then(({ doJob }) => doJob(job))
        .then(resolve, reject)
        .finally(() => {
          begun--;
          next();
        });
    }
  };
  return { run: queued(waiting, next), close: async () => undefined };
}

/** Takes jobs into `waiting`, oldest first. */
function queued(waiting: Task[], next: () => void): WorkerPool["run"] {
  return <K extends keyof JobResults>(job: Job & { kind: K }) =>
    new Promise<JobResults[K]>((resolve, reject) => {
      waiting.push({ job, resolve: resolve as Task["resolve"], reject });
      next();
    });
}

/**
 * @param size number of threads, one at the least; this one stays free
 * @param most jobs begun in each; with 1 a thread answers in the order it was asked
 */
export function openThreads(size: number, most = BEGUN): WorkerPool {
  const waiting: Task[] = [];
  const threads = new Map<Worker, Map<number, Task>>();
  let asked = 0;

  /** The thread with the fewest jobs begun, or a new one while all have some; none where all are full. */
  const freest = (): Worker | undefined => {
    const [best] = [...threads].sort(([, a], [, b]) => a.size - b.size);
    if (threads.size < size && (best === undefined || best[1].size > 0)) return start();
    return best[1].size < most ? best[0] : undefined;
  };
  const next = () => {
    while (waiting.length > 0) {
      const worker = freest();
      if (worker === undefined) return;
      const task = waiting.shift()!;
      threads.get(worker)!.set(++asked, task);
      worker.postMessage({ number: asked, job: task.job } satisfies Asked);
    }
  };
  const start = (): Worker => {
    const worker = startWorker();
    const begun = new Map<number, Task>();
    threads.set(worker, begun);
    worker.on("message", (said: Answered) => {
      const task = begun.get(said.number)!;
      begun.delete(said.number);
      if ("done" in said) task.resolve(said.done);
      else task.reject(new Error(said.failed));
      next();
    });
    // A thread that dies (out of memory, say) takes its jobs with it, not the run.
    const died = (error: Error) => {
      threads.delete(worker);
      for (const task of begun.values()) task.reject(error);
      begun.clear();
      next();
    };
    worker.on("error", died);
    worker.on("exit", () => threads.has(worker) && died(new Error("a worker thread ended early")));
    return worker;
  };

  return {
    run: queued(waiting, next),
    close: async () => {
      const ending = [...threads.keys()];
      threads.clear();
      await Promise.all(ending.map((w) => w.terminate()));
    },
  };
}
