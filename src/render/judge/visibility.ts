import { contributionOf, type Look, type Sums, shade } from "../layer/look.ts";
import { emptySums, readSums, type SpotSums } from "../layer/paint.ts";
import { peakConcentration, relativeConcentration } from "../layer/shape.ts";
import type { Surface } from "../layer/texture.ts";
import type { PhotoRecipe, Response, SpotRecipe } from "../recipe.ts";
import { pixelsPerMm } from "../scene/compose.ts";
import { applyMatrix, distort } from "../scene/homography.ts";
import { GLARE_TINT, glareAt, lampAt } from "../scene/lamp.ts";

/** What a photo of a plate needs to tell how well a spot shows in it. */
export interface Sight {
  readonly photo: PhotoRecipe;
  /** Plate mm to undistorted pixels. */
  readonly homography: readonly number[];
  readonly surface: Surface;
  readonly sums: SpotSums;
  readonly look: Look;
  /** Relative sd of the mean of 1 mm2 of layer, per channel. */
  readonly texture: readonly [number, number, number];
}

/** Relative sd of means over 1 mm2 of a plane about their neighbourhood of 4 mm. */
function patchSd(data: Float32Array, width: number, height: number, scale: number): number {
  const side = Math.max(1, Math.round(scale));
  const [cols, rows] = [Math.floor(width / side), Math.floor(height / side)];
  const means = new Float64Array(cols * rows);
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < cols; c++) {
      let sum = 0;
      for (let y = 0; y < side; y++) {
        const row = (r * side + y) * width + c * side;
        for (let x = 0; x < side; x++) sum += data[row + x];
      }
      means[r * cols + c] = sum / (side * side);
    }
  const squares: number[] = [];
  for (let r = 2; r < rows - 2; r++)
    for (let c = 2; c < cols - 2; c++) {
      const at = r * cols + c;
      const around = (means[at - 2] + means[at + 2] + means[at - 2 * cols] + means[at + 2 * cols]) / 4;
      squares.push((means[at] - around) ** 2 * 0.8);
    }
  // median, so that the front band and smudges do not count as texture; 0.455 is the median of chi-squared (1 df)
  squares.sort((a, b) => a - b);
  return squares.length ? Math.sqrt(squares[squares.length >> 1] / 0.455) : 0;
}

/** Relative sd of the layer over 1 mm2 in each channel under a look. */
export function textureOf(surface: Surface, look: Look): [number, number, number] {
  const ground = patchSd(surface.ground.data, surface.width, surface.height, surface.scale);
  if (look.stain === null) return [ground, ground, ground];
  const blotch = patchSd(surface.blotch.data, surface.width, surface.height, surface.scale);
  const [r, g, b] = look.logGround;
  return [Math.hypot(ground, blotch * r), Math.hypot(ground, blotch * g), Math.hypot(ground, blotch * b)];
}

function without(s: Sums, look: Look, response: Response | null, c: number): Sums {
  const own = contributionOf(look, response, c);
  return {
    absorb: Math.max(0, s.absorb - own.absorb),
    tint0: Math.min(0, s.tint0 - own.tint[0]),
    tint1: Math.min(0, s.tint1 - own.tint[1]),
    tint2: Math.min(0, s.tint2 - own.tint[2]),
    emit0: Math.max(0, s.emit0 - own.emit[0]),
    emit1: Math.max(0, s.emit1 - own.emit[1]),
    emit2: Math.max(0, s.emit2 - own.emit[2]),
  };
}

/** Contrast and contrast to noise of one spot in one photo. */
export function visibilityOf(sight: Sight, spot: SpotRecipe, response: Response | null) {
  const { photo, surface, look, camera } = { ...sight, camera: sight.photo.camera };
  const [ux, uy] = applyMatrix(sight.homography, spot.x, spot.y);
  const [px, py] = distort(ux, uy, photo.width, photo.height, photo.distortion);
  const lit = lampAt(photo.lamp, photo.width, photo.height, px, py);
  const glare = glareAt(photo.lamp, photo.width, photo.height, px, py);
  const density = pixelsPerMm(sight.homography, spot.x, spot.y);
  const top = peakConcentration(spot);
  const pair = new Float32Array(6);
  const change = [0, 0, 0];
  const ground = [0, 0, 0];
  let contrast = 0;
  let inside = 0;
  for (let j = -6; j <= 6; j++)
    for (let i = -6; i <= 6; i++) {
      const x = spot.x + (i / 4) * spot.sigmaX;
      const y = spot.y + (j / 4) * spot.sigmaUp;
      const cx = Math.floor(x * surface.scale);
      const cy = Math.floor(y * surface.scale);
      if (cx < 0 || cy < 0 || cx >= surface.width || cy >= surface.height) continue;
      const s = emptySums();
      readSums(sight.sums, cy * surface.width + cx, s);
      const c = top * relativeConcentration(spot, x, y) * surface.patches.data[cy * surface.width + cx];
      shade(look, 1, 0, 1, s, pair, 0);
      shade(look, 1, 0, 1, without(s, look, response, c), pair, 3);
      // 0.564 mm: radius of a disc of one square millimetre
      const counts = Math.hypot(x - spot.x, y - spot.y) < Math.max(0.564, spot.sigmaX / 4);
      if (counts) inside++;
      for (let ch = 0; ch < 3; ch++) {
        const gain = camera.exposure * camera.balance[ch];
        const veil = glare * GLARE_TINT[look.light][ch];
        const seen = Math.min(1, gain * (pair[ch] * lit + veil));
        const bare = Math.min(1, gain * (pair[3 + ch] * lit + veil));
        contrast = Math.max(contrast, Math.abs(seen - bare) / Math.max(bare, 2 * camera.readNoise + 0.002));
        if (counts) {
          change[ch] += seen - bare;
          ground[ch] += bare;
        }
      }
    }
  const blur2 = (camera.blur / density) ** 2;
  const soften = 1 / Math.sqrt((1 + blur2 / spot.sigmaX ** 2) * (1 + blur2 / spot.sigmaUp ** 2));
  let contrastToNoise = 0;
  for (let ch = 0; ch < 3 && inside > 0; ch++) {
    const bare = ground[ch] / inside;
    // one code of 8 bits is about 2.2 (v + 0.01) / 255 in linear light near v
    const code = (2.2 * (bare + 0.01)) / 255;
    const pixel = bare / camera.fullWell + camera.readNoise ** 2 + (code * code) / 12;
    const noise = Math.sqrt(pixel / (density * density) + (bare * sight.texture[ch]) ** 2);
    contrastToNoise = Math.max(contrastToNoise, (soften * Math.abs(change[ch] / inside)) / noise);
  }
  return { contrast: contrast * soften, contrastToNoise };
}

/**
 * True where a stronger spot of the lane leaves this one no maximum of its own: nearer than 1.6 sigma (two equal
 * Gauss peaks merge at 2), or half again as dense as this one at this one's own centre.
 * @param strengthOf peak signal per unit concentration of a spot, in the light that shows it best
 */
export function isHidden(
  spot: SpotRecipe,
  lane: readonly SpotRecipe[],
  strengthOf: (s: SpotRecipe) => number,
): boolean {
  const own = strengthOf(spot) * peakConcentration(spot);
  return lane.some((other) => {
    if (other === spot) return false;
    const peak = strengthOf(other) * peakConcentration(other);
    const there = peak * relativeConcentration(other, spot.x, spot.y);
    if (there > 1.5 * own) return true;
    const sigma = (spot.sigmaUp + spot.sigmaDown + other.sigmaUp + other.sigmaDown) / 4;
    return peak > own && Math.abs(other.y - spot.y) < 1.6 * sigma;
  });
}
