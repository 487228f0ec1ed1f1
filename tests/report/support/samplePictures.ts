import sharp from "sharp";
import { projectPoint, squareToQuad } from "../../../src/math/homography4.ts";
import type { Light, Quad, Result, ResultPlate } from "../../../src/model/index.ts";
import type { ReportInput } from "../../../src/report/index.ts";

const PLATE_WIDTH = 420;
const PHOTO_WIDTH = 600;
const LOOK: Readonly<Record<Light, { layer: string; spot: string; bench: string; line: string }>> = {
  uv254: { layer: "#7fd67a", spot: "#15351f", bench: "#161338", line: "#5fae5c" },
  uv365: { layer: "#23204a", spot: "#8fc7ff", bench: "#08070f", line: "#3a3766" },
  white: { layer: "#f1dfe6", spot: "#8a5a1c", bench: "#7d8388", line: "#b9a9b0" },
};

/** Draws what the result says as flat pictures: good enough to look at the report, not to judge a reader by. */
export async function sampleInput(result: Result): Promise<ReportInput> {
  const input = undrawnInput(result);
  const straightened = [];
  const photos = [];
  for (const [i, s] of input.straightened.entries()) {
    const plate = result.plates.find((p) => p.id === s.plate)!;
    const upright: Quad = [
      [0, 0],
      [s.width, 0],
      [s.width, s.height],
      [0, s.height],
    ];
    straightened.push({ ...s, jpegBase64: await jpeg(draw(plate, s.light, upright, s.width, s.height)) });
    photos.push({ ...input.photos[i], jpegBase64: await jpeg(samplePhoto(result, s.photo, PHOTO_WIDTH)) });
  }
  return { ...input, straightened, photos };
}

/** The same with pictures of the right size but without content: quick, for tests of the structure. */
export function undrawnInput(result: Result): ReportInput {
  const read = result.photos.filter((p) => p.status === "read");
  return {
    result,
    straightened: read.map((p) => ({
      plate: p.plate!,
      photo: p.file,
      light: p.light,
      stain: p.light === "white" ? "permanganate" : null,
      width: PLATE_WIDTH,
      height: Math.round(PLATE_WIDTH * result.plates.find((q) => q.id === p.plate)!.aspect),
      jpegBase64: "/9j/",
    })),
    photos: read.map((p) => ({
      file: p.file,
      width: PHOTO_WIDTH,
      height: Math.round((p.height / p.width) * PHOTO_WIDTH),
      jpegBase64: "/9j/",
    })),
    notes: { readOn: null, version: "0.1.0", demo: true, policy: "balance", want: "C" },
  };
}

/** One of the sample's photos as SVG, `width` pixels wide. */
export function samplePhoto(result: Result, file: string, width: number): string {
  const photo = result.photos.find((p) => p.file === file);
  const plate = result.plates.find((p) => p.id === photo?.plate);
  if (!photo || !plate) throw new Error(`the sample has no photo ${file}`);
  const scale = photo.width / width;
  const quad = photo.corners[0].map(([x, y]) => [x / scale, y / scale]) as unknown as Quad;
  return draw(plate, photo.light, quad, width, Math.round(photo.height / scale));
}

function draw(plate: ResultPlate, light: Light, quad: Quad, width: number, height: number): string {
  const map = squareToQuad(quad);
  if (!map) throw new Error("the sample's corners are no quadrilateral");
  const look = LOOK[light];
  const at = (x: number, y: number) =>
    projectPoint(map, [x, y])
      .map((v) => v.toFixed(1))
      .join(" ");
  const across = (f: (u: number) => number) => Array.from({ length: 21 }, (_, i) => at(i / 20, f(i / 20))).join("L");
  const bowed = (line: ResultPlate["front"]) => (u: number) =>
    line.y + line.tilt * (u - 0.5) + line.bow * (2 * u - 1) ** 2;
  const spots = plate.lanes.flatMap((lane) =>
    lane.spots
      .filter((s) => s.lights.includes(light))
      .map((s) => {
        const ring = Array.from({ length: 24 }, (_, i) => {
          const a = (2 * Math.PI * i) / 24;
          return at(s.x + 0.62 * s.width_x * Math.cos(a), s.y + 0.62 * s.width_rf * 0.77 * Math.sin(a));
        });
        return `<path d="M${ring.join("L")}Z" fill="${look.spot}" fill-opacity="${Math.min(0.95, 0.12 + s.amount * 0.75).toFixed(2)}" filter="url(#b)"/>`;
      }),
  );
  const ticks = plate.lanes
    .map((l) => `M${at(l.x - 0.015, plate.origin.y)}L${at(l.x + 0.015, plate.origin.y)}`)
    .join("");
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><filter id="b" x="-50%" y="-50%" width="200%" height="200%"><feGaussianBlur stdDeviation="${width / 160}"/></filter><rect width="100%" height="100%" fill="${look.bench}"/><path d="M${at(0, 0)}L${at(1, 0)}L${at(1, 1)}L${at(0, 1)}Z" fill="${look.layer}"/><path d="M${at(0, 0)}L${at(1, 0)}L${across(bowed(plate.front)).split("L").reverse().join("L")}Z" fill="#ffffff" fill-opacity=".18"/><path d="M${across(bowed(plate.front))}" stroke="${look.line}" stroke-width="${width / 150}" fill="none"/><path d="${ticks}" stroke="#555" stroke-width="${width / 300}" fill="none"/>${spots.join("")}</svg>`;
}

async function jpeg(svg: string): Promise<string> {
  const { data, info } = await sharp(Buffer.from(svg)).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  const bytes = await sharp(data, { raw: { width: info.width, height: info.height, channels: 3 } })
    .jpeg({ quality: 80 })
    .toBuffer();
  return bytes.toString("base64");
}
