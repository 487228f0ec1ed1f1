import type { GroupReading, PhotoGroup } from "../../pipeline/index.ts";
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
      readonly kind: "annotate";
      /** A JPEG and the drawing to lay over it, of the same size. */
      readonly photo: Uint8Array;
      readonly svg: string;
    };

export interface JobResults {
  read: GroupReading;
  annotate: Uint8Array;
}
