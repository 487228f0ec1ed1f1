import { useState } from "preact/hooks";
import type { Mending, ResultComponent } from "../../../model/index.ts";
import { toneChip } from "../../../report/drawing/marks.ts";
import { type Palette, toneOf } from "../../../report/drawing/palette.ts";
import { rfInWords } from "../../../report/words.ts";
import { Drawn } from "./drawn.tsx";
import { Sheet } from "./sheet.tsx";

export interface ComponentsProps {
  readonly components: readonly ResultComponent[];
  readonly palette: Palette;
  readonly onMend: (mending: Mending) => void;
}

/** The key: letter, marks and colour of each component, its Rf and tubes. A press opens what may be corrected. */
export function Components({ components, palette, onMend }: ComponentsProps) {
  const [open, setOpen] = useState<string | null>(null);
  const inHand = components.find((c) => c.id === open);
  return (
    <>
      <div class="key" role="group" aria-label="Components">
        {components.map((c) => (
          <button type="button" key={c.id} onClick={() => setOpen(c.id)} data-component={c.id}>
            <Drawn svg={toneChip(toneOf(palette, c.id))} class="chipbox" />
            <b>{c.id}</b> Rf {rfInWords(c.rf)}
            <span class="soft">{whereOf(c)}</span>
          </button>
        ))}
      </div>
      {inHand && (
        <Correct
          component={inHand}
          others={components.filter((c) => c.id !== inHand.id)}
          onMend={(mending) => {
            setOpen(null);
            onMend(mending);
          }}
          onClose={() => setOpen(null)}
        />
      )}
    </>
  );
}

function whereOf({ first, last }: ResultComponent): string {
  if (first === null || last === null) return "reference only";
  return first === last ? `tube ${first}` : `tubes ${first}–${last}`;
}

interface CorrectProps {
  readonly component: ResultComponent;
  readonly others: readonly ResultComponent[];
  readonly onMend: (mending: Mending) => void;
  readonly onClose: () => void;
}

function Correct({ component, others, onMend, onClose }: CorrectProps) {
  const [cut, setCut] = useState(component.rf.toFixed(2));
  const at = Number(cut.replace(",", "."));
  const valid = at > 0 && at < 1;
  return (
    <Sheet title={`Component ${component.id}, Rf ${rfInWords(component.rf)}`} name="component" onClose={onClose}>
      <p class="hint">
        Equal Rf is not proof of the same substance. If you know better than the plates (a co-spot, another stain), say
        so here; everything is judged anew.
      </p>
      {others.length > 0 && (
        <fieldset>
          <legend>It is the same substance as</legend>
          <div class="deeds">
            {others.map((other) => (
              <button
                type="button"
                key={other.id}
                onClick={() => onMend({ what: "components-merge", rf: [component.rf, other.rf] })}
              >
                {other.id} (Rf {rfInWords(other.rf)})
              </button>
            ))}
          </div>
        </fieldset>
      )}
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (valid) onMend({ what: "component-split", rf: component.rf, at });
        }}
      >
        <fieldset>
          <legend>It is two substances</legend>
          <div class="deeds">
            <label>
              cut at Rf
              <input inputMode="decimal" value={cut} onInput={(event) => setCut(event.currentTarget.value)} />
            </label>
            <button type="submit" disabled={!valid}>
              Split it there
            </button>
          </div>
        </fieldset>
      </form>
    </Sheet>
  );
}
