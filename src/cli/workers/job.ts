import type { GroupReading, PhotoGroup, Told } from "../../pipeline/index.ts";
import type { PhotoFile } from "../../store/index.ts";

/** Work for another thread: plain data both ways. */
export type Job =
  | {
      readonly kind: "read";
      readonly group: PhotoGroup;
      readonly photos: readonly PhotoFile[];
      readonly pictures: boolean;
    }
  | {
      /** As `read`, but the thread keeps the decoded photos, so that the next time is quick. */
      readonly kind: "read-kept";
      /** Names the group and the bytes of its photos. */
      readonly key: string;
      readonly group: PhotoGroup;
      readonly photos: readonly PhotoFile[];
      readonly told: Told;
      readonly pictures: boolean;
    }
  | {
      /** What mending a kept group takes, done for nothing: a thread is slow at what it does for the first time. */
      readonly kind: "rehearse";
      readonly key: string;
    }
  | {
      /** Whether a photo is whole: null where it is, else the code of what is wrong. */
      readonly kind: "check";
      readonly photo: PhotoFile;
    }
  | {
      readonly kind: "annotate";
      /** A JPEG and the drawing to lay over it, of the same size. */
      readonly photo: Uint8Array;
      readonly svg: string;
    };

export interface JobResults {
  read: GroupReading;
  "read-kept": GroupReading;
  rehearse: null;
  check: string | null;
  annotate: Uint8Array;
}

/** What a thread is asked. */
export interface Asked {
  readonly number: number;
  readonly job: Job;
}

/** What a thread answers, under the number that it was asked. */
export type Answered = { readonly number: number } & (
  | { readonly done: JobResults[keyof JobResults] }
  | { readonly failed: string }
);
