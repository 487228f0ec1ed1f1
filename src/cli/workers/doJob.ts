import { composeSvg, decodePhoto } from "../../codec/index.ts";
import { readGroup } from "../../pipeline/index.ts";
import { readPhotoBytes } from "../../store/index.ts";
import type { Job, JobResults } from "./job.ts";

/** Does one job, in whichever thread it is called. */
export async function doJob(job: Job): Promise<JobResults[keyof JobResults]> {
  if (job.kind === "read") {
    const byName = new Map(job.photos.map((p) => [p.file, p]));
    return readGroup(job.group, (file) => readPhotoBytes(byName.get(file)!), { pictures: job.pictures });
  }
  const { picture } = await decodePhoto(job.photo, "photo", { maxLongSide: Number.POSITIVE_INFINITY });
  return composeSvg(picture, job.svg);
}
