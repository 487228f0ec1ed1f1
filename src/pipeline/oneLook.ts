import type { Quad } from "../model/index.ts";
import { outlinesIn, refinedOutline } from "../plate/locate/index.ts";
import { judgeQuality } from "../plate/quality/index.ts";
import { mayBeOnePlate, shapeRange } from "../plate/rectify/index.ts";
import { halfTurned, likeness, lookAtOutline, lookSize, surveyOf } from "../plate/register/index.ts";
import { turnQuad } from "../plate/upright/index.ts";
import type { RejectedPhoto, SeenPhoto } from "./lookAt.ts";
import { alikeByTurn, clearTurn, type Outlined } from "./photoTies.ts";

/** How many of the outlines that are most alike at first sight are looked at well. */
const LOOKED_AT = 6;
/** How alike a plate must be with another outline, and how much more so than with its own. */
const LEAST = 0.28;
const BETTER = 0.12;
/** Photos so alike are not doubted: a sheet around the plate leaves about 0.3. */
const PLAIN = 0.4;
/** An outline under 254 nm that is as sure is not doubted. */
const SURE = 0.5;

/**
 * Photos that are said to show one plate, so that the same things must stand out within its outlines: where they do not, another
 * outline is sought in either photo with which they do. So a sheet of paper that lies under the plate, and shows better under the
 * lamp than the plate does, is put right by another photo.
 * @param looks one a photo; those that show several plates or none are left as they are
 */
export function agreeOnLook<T extends SeenPhoto | RejectedPhoto>(looks: readonly T[]): (T | SeenPhoto)[] {
  const agreed: (T | SeenPhoto)[] = [...looks];
  const first = agreed.findIndex((look) => alone(look) !== null);
  for (let i = first + 1; first >= 0 && i < agreed.length; i++) {
    const [head, photo] = [alone(agreed[first])!, alone(agreed[i])];
    if (photo === null) continue;
    const before = alikeByTurn(outlined(head), outlined(photo));
    if (clearTurn(before) !== null && Math.max(...before) >= PLAIN) continue;
    const order = [i, first].filter((which) => !plainlyGreen(which === i ? photo : head));
    for (const which of order) {
      const [kept, doubted] = which === i ? [head, photo] : [photo, head];
      const better = likeliestOutline(kept, doubted);
      if (!better || better.alike < Math.max(LEAST, Math.max(...before) + BETTER)) continue;
      agreed[which] = withOutline(doubted, better.quad);
      break;
    }
  }
  return agreed;
}

/** What glows green is seldom taken for anything but what it is. */
function plainlyGreen({ light, plates }: SeenPhoto): boolean {
  return light === "uv254" && plates[0].sureness > SURE;
}

function alone(look: SeenPhoto | RejectedPhoto): SeenPhoto | null {
  return "plates" in look && look.plates.length === 1 ? look : null;
}

function outlined({ picture, plates }: SeenPhoto): Outlined {
  return { picture, quad: plates[0].quad };
}

function withOutline(photo: SeenPhoto, quad: Quad): SeenPhoto {
  const [plate] = photo.plates;
  return { ...photo, plates: [{ ...plate, quad, quality: judgeQuality(photo.picture, quad, photo.scale) }] };
}

/** The outline in a photo that is clearly most like the plate of another, of a shape that it may have; null: none is. */
function likeliestOutline(head: SeenPhoto, photo: SeenPhoto): { quad: Quad; alike: number } | null {
  const [{ quad: known }] = head.plates;
  const shape = shapeRange(known, head.picture.width, head.picture.height);
  const size = lookSize(known);
  const seen = lookAtOutline(head.picture, known, size);
  const survey = surveyOf(photo.picture);
  const { width, height } = photo.picture;
  const outlines = outlinesIn(photo.picture).filter((quad) => mayBeOnePlate(shapeRange(quad, width, height), shape));
  const glances = outlines.map((quad) => {
    const ways = [survey(quad, size), survey(turnQuad(quad, 1), size)].filter((look) => look !== null);
    const looks = [...ways, ...ways.map(halfTurned)];
    return { quad, alike: Math.max(0, ...looks.map((look) => likeness(seen, look))) };
  });
  let best: { quad: Quad; alike: number } | null = null;
  for (const glance of glances.sort((a, b) => b.alike - a.alike).slice(0, LOOKED_AT)) {
    const quad = refinedOutline(photo.picture, glance.quad);
    const alike = alikeByTurn(outlined(head), { picture: photo.picture, quad });
    if (clearTurn(alike) === null || Math.max(...alike) <= (best?.alike ?? 0)) continue;
    best = { quad, alike: Math.max(...alike) };
  }
  return best;
}
