/**
 * A stroke font of our own, so that pictures carry lettering on machines without fonts. Each glyph is a list of
 * polylines on a grid 4 wide: digit pairs "xy", cap line y = 0, x-line 2, base line 6, descender 8; polylines are
 * parted by a space.
 */
const GLYPHS: Readonly<Record<string, string>> = {
  "0": "103041453616050110",
  "1": "112026 1636",
  "2": "01103041420646",
  "3": "004022324345361605",
  "4": "36300444",
  "5": "400002324345361605",
  "6": "4020020516364543321203",
  "7": "004016",
  "8": "103041423313020110 1304051636454433",
  "9": "0626444130100103143443",
  A: "062046 1434",
  B: "06003041423303 3344453606",
  C: "4130100105163645",
  D: "00204244260600",
  E: "40000646 0333",
  F: "400006 0333",
  G: "41301001051636454323",
  H: "0006 4046 0343",
  I: "1030 2026 1636",
  J: "4045361605",
  K: "0006 4003 1246",
  L: "000646",
  M: "0600234046",
  N: "06004640",
  O: "103041453616050110",
  P: "06003041423303",
  Q: "103041453616050110 2446",
  R: "06003041423303 2346",
  S: "413010010213334445361605",
  T: "0040 2026",
  U: "000516364540",
  V: "002640",
  W: "0016223640",
  X: "0046 4006",
  Y: "002340 2326",
  Z: "00400646",
  a: "4246 4332120305163645",
  b: "0006 0312324345361605",
  c: "4332120305163645",
  d: "4046 4332120305163645",
  e: "04444332120305163645",
  f: "30201116 0232",
  g: "4247381807 4332120305163645",
  h: "0006 0312324346",
  i: "2226 2020",
  j: "22271807 2020",
  k: "0006 4205 1446",
  l: "202536",
  m: "0206 03122326 23324346",
  n: "0206 0312324346",
  o: "123243453616050312",
  p: "0208 0312324345361605",
  q: "4248 4332120305163645",
  r: "0206 031232",
  s: "43321203143445361605",
  t: "10152636 0232",
  u: "0205163645 4246",
  v: "022642",
  w: "0216243642",
  x: "0246 4206",
  y: "0226 4218",
  z: "02420646",
  ".": "2626",
  ",": "2617",
  ":": "2323 2626",
  "-": "0343",
  "+": "0343 2125",
  "=": "0242 0444",
  "?": "01103041422324 2626",
  "/": "4006",
  "(": "30212536",
  ")": "10212516",
  _: "0646",
  "'": "2021",
  "#": "1016 3036 0242 0444",
  " ": "",
};
const UNKNOWN = "0040460600";
const CAP = 6;
const GAP = 1.9;
const BLANK = 2;

interface Glyph {
  readonly strokes: readonly (readonly (readonly [number, number])[])[];
  readonly width: number;
}

function glyphOf(char: string): Glyph {
  const code = GLYPHS[char] ?? UNKNOWN;
  if (code === "") return { strokes: [], width: BLANK };
  const strokes = code
    .split(" ")
    .map((line) => (line.match(/../g) ?? []).map((p): [number, number] => [Number(p[0]), Number(p[1])]));
  const xs = strokes.flat().map(([x]) => x);
  const min = Math.min(...xs);
  return {
    strokes: strokes.map((s) => s.map(([x, y]): [number, number] => [x - min, y])),
    width: Math.max(...xs) - min,
  };
}

/** Accents are dropped and dashes made plain; every other sign the font lacks is drawn as a box. */
function lettersOf(text: string): Glyph[] {
  const plain = text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replace(/[‐-―−]/g, "-");
  return [...plain].map(glyphOf);
}

/** Width of a line of stroke text of the given cap height, same unit. */
export function strokeTextWidth(text: string, height: number): number {
  const glyphs = lettersOf(text);
  const units = glyphs.reduce((sum, g) => sum + g.width + GAP, glyphs.length > 0 ? -GAP : 0);
  return (units * height) / CAP;
}

/**
 * A line of text as SVG path data, centred on x, its cap height `height` centred on y.
 * To be stroked with round caps and joins, about a seventh of `height` wide.
 */
export function strokeText(text: string, x: number, y: number, height: number): string {
  const scale = height / CAP;
  let left = x - strokeTextWidth(text, height) / 2;
  const top = y - height / 2;
  const parts: string[] = [];
  for (const glyph of lettersOf(text)) {
    for (const stroke of glyph.strokes) {
      const points = stroke.map(([gx, gy]) => `${(left + gx * scale).toFixed(1)} ${(top + gy * scale).toFixed(1)}`);
      const dot = points.length === 2 && points[0] === points[1];
      parts.push(dot ? `M${points[0]}h.01` : `M${points.join("L")}`);
    }
    left += (glyph.width + GAP) * scale;
  }
  return parts.join("");
}
