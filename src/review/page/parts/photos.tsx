import { useMemo, useRef } from "preact/hooks";
import type { Result, ResultPhoto } from "../../../model/index.ts";
import { annotation } from "../../../report/annotation/annotationSvg.ts";
import type { Palette } from "../../../report/drawing/palette.ts";
import { lightInWords } from "../../../report/words.ts";
import type { PagePhoto, PageState } from "../../api.ts";
import { useAfterPaint } from "../state/useAfterPaint.ts";
import { sentence } from "../state/words.ts";
import { Drawn } from "./drawn.tsx";

export interface PhotosProps {
  readonly state: PageState;
  readonly palette: Palette;
  readonly onLook: (file: string) => void;
}

/** Every photo that was read, with what was read drawn over it; a press opens it. */
export function Photos({ state, palette, onLook }: PhotosProps) {
  const read = state.result?.photos.filter((p) => p.status === "read") ?? [];
  const painted = useAfterPaint();
  if (read.length === 0 || !painted) return null;
  return (
    <section class="photos" aria-labelledby="photos-h">
      <h2 id="photos-h">Photos</h2>
      <div class="wall">
        {read.map((photo) => {
          const picture = state.photos.find((p) => p.file === photo.file);
          const stain = state.platePictures.find((p) => p.file === photo.file)?.stain ?? null;
          return (
            picture && (
              <button type="button" key={photo.file} onClick={() => onLook(photo.file)} data-photo={photo.file}>
                <Overlaid result={state.result!} photo={photo} picture={picture} palette={palette} />
                <span class="file">{photo.file}</span>
                <span class="soft">
                  {lightInWords(photo.light, stain)}
                  {photo.quality?.advice ? `. ${sentence(photo.quality.advice)}` : ""}
                </span>
              </button>
            )
          );
        })}
      </div>
    </section>
  );
}

export interface OverlaidProps {
  readonly result: Result;
  readonly photo: ResultPhoto;
  readonly picture: PagePhoto;
  readonly palette: Palette;
}

/** A photo with plate, lanes, spots, origin and front drawn over it. */
export function Overlaid({ result, photo, picture, palette }: OverlaidProps) {
  const { width, height, href } = picture;
  const drawn = useRef(result);
  // Of the result only the photo's own plates are drawn: what did not change in them is not drawn anew.
  if (photo.plates.some((id) => plateOf(drawn.current, id) !== plateOf(result, id))) drawn.current = result;
  const svg = useMemo(() => {
    const over = annotation(drawn.current, photo, photo.width / width, palette).text;
    return `<svg class="drawing" viewBox="0 0 ${width} ${height}" aria-hidden="true" focusable="false"><image href="${href}" width="${width}" height="${height}"/>${over}</svg>`;
  }, [drawn.current, photo, palette, width, height, href]);
  return <Drawn svg={svg} />;
}

function plateOf({ plates }: Result, id: string) {
  return plates.find((p) => p.id === id);
}
