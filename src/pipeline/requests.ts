import type { Finding } from "../model/index.ts";
import { mayStandAlike, shapeRange } from "../plate/rectify/index.ts";
import type { GroupPlate, PhotoGroup, PlateRequest } from "./group.ts";
import type { SeenPhoto } from "./lookAt.ts";

/** A plate to be read: the photos that show it, and as which plate from the left. */
export interface PlateJob extends Pick<GroupPlate, "listed" | "laneNames" | "lanesLine" | "eluents"> {
  readonly origin: number | null;
  readonly front: number | null;
  /** Whether its look is wanted. */
  readonly looks: boolean;
  readonly views: readonly { readonly photo: SeenPhoto; readonly place: number }[];
}

/** What is to be read of a group, now that its photos have been looked at. */
export function plateJobs(
  group: PhotoGroup,
  seen: readonly (SeenPhoto | null)[],
): { jobs: PlateJob[]; findings: Finding[] } {
  return group.plates === null
    ? freeJobs(
        seen.filter((p) => p !== null),
        group,
      )
    : listedJobs(group.plates, seen);
}

function listedJobs(requests: readonly PlateRequest[], seen: readonly (SeenPhoto | null)[]) {
  const findings: Finding[] = [];
  const jobs = requests.flatMap((request): PlateJob[] => {
    const views = request.shownBy.flatMap(({ photo: index, place }) => {
      const photo = seen[index];
      if (photo === null) return [];
      if (place < photo.plates.length) return [{ photo, place }];
      findings.push(tooFewPlates(photo, request.listed));
      return [];
    });
    const other = views.find((view) => !shapesAgree(views[0], view));
    if (other) findings.push(shapesDiffer(views[0].photo, other.photo));
    const { listed, laneNames, lanesLine, eluents = [], origin, front } = request;
    return views.length > 0 ? [{ listed, laneNames, lanesLine, eluents, origin, front, looks: false, views }] : [];
  });
  return { jobs, findings };
}

function shapesDiffer(one: SeenPhoto, other: SeenPhoto): Finding {
  return {
    code: "shapes-differ",
    message: `${one.file} and ${other.file} are listed as one plate, but what was found in them differs in shape.`,
    remedy: "Look at the corners in both, and drag those that are wrong; or correct run.yaml.",
    where: { photo: other.file },
  };
}

function tooFewPlates({ file, plates }: SeenPhoto, listed: number): Finding {
  return {
    code: "plate-not-found",
    message: `Plate ${listed + 1} of run.yaml was not found in this photo, which shows ${plates.length}.`,
    remedy: "Photograph the plates apart from each other, or correct run.yaml.",
    where: { photo: file },
  };
}

/** Nobody said: photos put together by name or look are one plate each where their shapes agree, else each photo stands alone. */
function freeJobs(
  photos: readonly SeenPhoto[],
  { looks = false, alike = false }: PhotoGroup,
): { jobs: PlateJob[]; findings: Finding[] } {
  const free = { listed: null, laneNames: null, lanesLine: null, eluents: [], origin: null, front: null, looks };
  const apart = () =>
    photos.flatMap((photo) => photo.plates.map((_, place) => ({ ...free, views: [{ photo, place }] })));
  if (photos.length < 2) return { jobs: apart(), findings: [] };
  const names = photos.map((p) => p.file).join(", ");
  const [first] = photos;
  if (!photos.every((p) => sameShapes(first, p))) {
    const remedy = "List the plates in run.yaml if they show one.";
    const message = `${names} ${alike ? "look" : "are named"} like one plate but differ in shape; they are read as different plates.`;
    return { jobs: apart(), findings: [{ code: "photos-not-paired", message, remedy, where: { photo: first.file } }] };
  }
  const jobs = first.plates.map((_, place) => ({ ...free, views: photos.map((photo) => ({ photo, place })) }));
  const why = alike ? ": the same things stand out on them" : ", by their names and its shape";
  const message = `${names} are taken for photos of one plate${why}.`;
  const remedy = "List the plates in run.yaml if they are not.";
  return { jobs, findings: [{ code: "photos-paired", message, remedy, where: { photo: first.file } }] };
}

function sameShapes(a: SeenPhoto, b: SeenPhoto): boolean {
  return (
    a.plates.length === b.plates.length &&
    a.plates.every((_, place) => shapesAgree({ photo: a, place }, { photo: b, place }))
  );
}

function shapesAgree(a: PlateJob["views"][number], b: PlateJob["views"][number]): boolean {
  const [p, q] = [a, b].map(({ photo: { plates, picture }, place }) =>
    shapeRange(plates[place].quad, picture.width, picture.height),
  );
  return mayStandAlike(p, q);
}
