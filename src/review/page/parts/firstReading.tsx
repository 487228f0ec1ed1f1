import { useMemo } from "preact/hooks";
import type { Result, ResultPhoto } from "../../../model/index.ts";
import { paletteOf } from "../../../report/drawing/palette.ts";
import { lightInWords } from "../../../report/words.ts";
import type { PageState } from "../../api.ts";
import { sentence } from "../state/words.ts";
import { Overlaid } from "./photos.tsx";

/** The folder as it is being read for the first time: each photo with what was found in it, as soon as it is. */
export function FirstReading({ state }: { readonly state: PageState }) {
  const { reading, soFar, expected } = state;
  const palette = useMemo(() => paletteOf([]), []);
  return (
    <section class="first" aria-labelledby="first-h">
      <h2 id="first-h">{reading.of === 0 ? "Looking into the folder…" : "Reading the photos"}</h2>
      <p class="howfar">
        <progress value={reading.done} max={Math.max(1, reading.of)} aria-labelledby="first-h" />
        <span role="status">
          {reading.done} of {reading.of}
        </span>
      </p>
      <p class="hint">Tubes and pools need all plates: they appear when the last photo has been read.</p>
      <div class="wall">
        {expected.map((file) => {
          const photo = soFar?.photos.find((p) => p.file === file);
          const picture = state.photos.find((p) => p.file === file);
          return photo === undefined ? (
            <figure key={file} class="ahead" data-ahead={file}>
              <div class="blank">not read yet</div>
              <figcaption>
                <span class="file">{file}</span>
              </figcaption>
            </figure>
          ) : (
            <figure key={photo.file} data-read={photo.file}>
              {picture ? (
                <Overlaid {...{ result: soFar!, photo, picture, palette }} />
              ) : (
                <div class="blank">no picture</div>
              )}
              <figcaption>
                <span class="file">{photo.file}</span>
                <span class={photo.status === "rejected" ? "verdict bad" : "verdict"}>{verdict(photo, soFar!)}</span>
              </figcaption>
            </figure>
          );
        })}
      </div>
    </section>
  );
}

/** "254 nm: 8 lanes, 14 spots. The photo is blurred." */
function verdict(photo: ResultPhoto, { plates }: Result): string {
  if (photo.status === "rejected") return `Not read: ${photo.reason}`;
  const shown = plates.filter((p) => photo.plates.includes(p.id));
  const lanes = shown.flatMap((p) => p.lanes);
  const spots = lanes.reduce((n, lane) => n + lane.spots.length, 0);
  const assumed = (["origin", "front"] as const).filter((line) => shown.some((p) => p[line].source === "assumed"));
  const parts = [
    `${lightInWords(photo.light, null)}: ${count(lanes.length, "lane")}, ${count(spots, "spot")}`,
    ...(assumed.length > 0 ? [`${assumed.join(" and ")} not seen, assumed`] : []),
    ...(photo.quality?.advice ? [photo.quality.advice] : []),
  ];
  return parts.map(sentence).join(". ");
}

function count(n: number, noun: string): string {
  return `${n} ${noun}${n === 1 ? "" : "s"}`;
}
