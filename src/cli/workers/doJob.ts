import { composeSvg, decodePhoto } from "../../codec/index.ts";
import { PlatepoolError } from "../../model/index.ts";
import { readGroup } from "../../pipeline/index.ts";
import { type PhotoFile, readPhotoBytes } from "../../store/index.ts";
import type { Job, JobResults } from "./job.ts";
import { readKept, rehearse } from "./keptGroups.ts";

/** Does one job, in whichever thread it is called. */
export async function doJob(job: Job): Promise<JobResults[keyof JobResults]> {
  switch (job.kind) {
    case "read": {
      const byName = new Map(job.photos.map((p) => [p.file, p]));
      return readGroup(job.group, (file) => readPhotoBytes(byName.get(file)!), { pictures: job.pictures });
    }
    case "read-kept":
      return readKept(job);
    case "rehearse":
      return rehearse(job.key);
    case "check":
      return faultOf(job.photo);
    case "annotate":
      return composeSvg(job.photo, job.svg);
  }
}

async function faultOf(photo: PhotoFile): Promise<string | null> {
  try {
    await decodePhoto(await readPhotoBytes(photo), photo.file, { maxLongSide: 400 });
    return null;
  } catch (error) {
    if (error instanceof PlatepoolError) return error.code;
    throw error;
  }
}
