import type { Bin } from "./calibrationError.ts";

/** Okabe and Ito's colours, safe for the colour-blind; shapes differ as well. */
const STYLES = [
  { colour: "#0072B2", shape: "circle" },
  { colour: "#E69F00", shape: "square" },
  { colour: "#009E73", shape: "triangle" },
] as const;

/** Share of tubes that were right against the confidence they were given; the area of a mark grows with their number. */
export function reliabilityDiagram(
  series: readonly { readonly name: string; readonly error: number; readonly bins: readonly Bin[] }[],
): string {
  const size = 360;
  const left = 56;
  const top = 20;
  const x = (v: number) => (left + v * size).toFixed(1);
  const y = (v: number) => (top + (1 - v) * size).toFixed(1);
  const ticks = [0, 0.2, 0.4, 0.6, 0.8, 1];
  const most = Math.max(...series.flatMap((s) => s.bins.map((b) => b.count)), 1);
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${left + size + 190} ${top + size + 56}" font-family="sans-serif" font-size="13" fill="#222">`,
    "<title>Confidence of tubes against the share that was right</title>",
    '<rect width="100%" height="100%" fill="#fff"/>',
    ...ticks.flatMap((t) => [
      `<path d="M${x(0)} ${y(t)}H${x(1)}M${x(t)} ${y(0)}V${y(1)}" stroke="#e4e4e4"/>`,
      `<text x="${x(t)}" y="${top + size + 18}" text-anchor="middle">${t}</text>`,
      `<text x="${left - 8}" y="${Number(y(t)) + 4}" text-anchor="end">${t}</text>`,
    ]),
    `<path d="M${x(0)} ${y(0)}L${x(1)} ${y(1)}" stroke="#888" stroke-dasharray="5 4"/>`,
    `<text x="${x(0.5)}" y="${top + size + 42}" text-anchor="middle">confidence given</text>`,
    `<text transform="translate(15 ${y(0.5)}) rotate(-90)" text-anchor="middle">share that was right</text>`,
  ];
  series.forEach(({ name, error, bins }, i) => {
    const { colour, shape } = STYLES[i % STYLES.length];
    const shown = bins.filter((b) => b.count >= 5);
    parts.push(
      `<path d="M${shown.map((b) => `${x(b.confidence)} ${y(b.right)}`).join("L")}" fill="none" stroke="${colour}" stroke-width="1.5"/>`,
    );
    for (const b of shown)
      parts.push(mark(shape, Number(x(b.confidence)), Number(y(b.right)), 3 + 8 * Math.sqrt(b.count / most), colour));
    const row = top + 24 + 24 * i;
    parts.push(mark(shape, left + size + 26, row - 4, 6, colour));
    parts.push(`<text x="${left + size + 40}" y="${row}">${name}: off by ${error.toFixed(3)}</text>`);
  });
  parts.push(`<text x="${left + size + 20}" y="${top + 110}" fill="#555">dashed: as it should be</text>`, "</svg>");
  return `${parts.join("\n")}\n`;
}

function mark(shape: (typeof STYLES)[number]["shape"], x: number, y: number, r: number, colour: string): string {
  const paint = `fill="${colour}" fill-opacity="0.75" stroke="#fff"`;
  const f = (v: number) => v.toFixed(1);
  if (shape === "circle") return `<circle cx="${f(x)}" cy="${f(y)}" r="${f(r)}" ${paint}/>`;
  if (shape === "square")
    return `<rect x="${f(x - r * 0.9)}" y="${f(y - r * 0.9)}" width="${f(1.8 * r)}" height="${f(1.8 * r)}" ${paint}/>`;
  return `<path d="M${f(x)} ${f(y - r)}L${f(x + r)} ${f(y + 0.8 * r)}H${f(x - r)}Z" ${paint}/>`;
}
