import { DRAWING_CSS, THEME, themeDeclarations } from "./drawing/style.ts";

/** Style sheet of the report: light, dark where the reader prefers it, and always light on paper (A4). */
export const REPORT_CSS = `
:root{color-scheme:light dark;${themeDeclarations(THEME.light)}}
@media screen and (prefers-color-scheme:dark){:root{${themeDeclarations(THEME.dark)}}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,-apple-system,"Segoe UI","Noto Sans",Ubuntu,Cantarell,"Helvetica Neue",sans-serif}
main{max-width:1088px;margin:0 auto;padding:1.6rem 24px 3rem}
h1{font-size:1.5rem;line-height:1.25;font-weight:650;margin:0;overflow-wrap:anywhere}
h2{font-size:1.08rem;line-height:1.3;font-weight:650;margin:0}
p{margin:.5rem 0}
.top{margin-bottom:1.4rem}
.top p{margin:.15rem 0 0;color:var(--soft);font-size:.875rem}
nav{display:flex;flex-wrap:wrap;gap:.1rem 1.1rem;margin-top:.5rem;font-size:.875rem}
a{color:var(--link);text-underline-offset:.18em;text-decoration-thickness:1px}
nav a{padding:.2rem 0}
:focus-visible{outline:2px solid var(--link);outline-offset:2px}
.demo{display:inline-block;border:1px solid var(--edge);border-radius:4px;padding:0 .45em;color:var(--ink)}
section{margin:0 0 2.4rem}
section+section{border-top:1px solid var(--line);padding-top:1.2rem}
.head{display:grid;grid-template-columns:minmax(11rem,1fr) 2.4fr;gap:.2rem 1.5rem;margin-bottom:1rem;align-items:baseline}
.hint{margin:0;color:var(--soft);font-size:.875rem;max-width:46rem}
.summary{font-size:1.19rem;line-height:1.45;margin:1.1rem 0 .4rem;max-width:54rem;text-wrap:pretty}
.decided{margin:0 0 1rem;border-left:4px solid var(--edge);padding:.1rem 0 .1rem .7rem;max-width:54rem;font-weight:600}
.proof{margin:0 0 .9rem;color:var(--soft);font-size:.875rem;max-width:54rem}
.key{list-style:none;display:flex;flex-wrap:wrap;gap:.25rem 1.4rem;margin:.6rem 0 0;padding:0;font-size:.875rem}
.ring{display:inline-block;width:.85em;height:.85em;border:1.5px dashed var(--edge);border-radius:50%;margin-right:.4em;vertical-align:-.08em}
.badge{display:inline-block;min-width:1.25em;line-height:1.25em;border-radius:50%;background:var(--doubt);color:var(--paper);font-weight:700;font-size:.8em;text-align:center;margin:0 .4em}
.key .badge{margin-left:0}
figure{margin:0}
.strips{margin-bottom:1.3rem;break-inside:avoid}
.photos{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,27rem),1fr));gap:1.2rem;align-items:start}
.photo .drawing{border-radius:3px;background:var(--card)}
.photo,tr,li,.cautions div{break-inside:avoid}
figcaption{font-size:.8125rem;color:var(--soft);margin-top:.35rem;overflow-wrap:anywhere}
.file{font-weight:600;color:var(--ink);overflow-wrap:anywhere}
table{width:100%;border-collapse:collapse;font-size:.9rem;font-variant-numeric:tabular-nums}
th,td{text-align:left;vertical-align:baseline;padding:.38rem .9rem .38rem 0;border-bottom:1px solid var(--line);overflow-wrap:break-word;unicode-bidi:isolate}
thead th{white-space:nowrap;color:var(--soft);font-weight:500;font-size:.8125rem}
tbody th{font-weight:650;white-space:nowrap}
.n{white-space:nowrap}
.why{color:var(--soft);max-width:28rem}
td[data-label=Tubes]{min-width:4.6em}
.nowrap{white-space:nowrap;margin-right:.5em}
.tag{border:1px solid var(--edge);border-radius:4px;padding:0 .35em;font-size:.8em;font-weight:500}
.advice,.doubts{margin:0;padding-left:1.3rem;max-width:50rem}
.advice li,.doubts li{margin:.35rem 0}
.picture{min-width:12rem}
td .drawing{margin-top:.25rem}
.cautions{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,20rem),1fr));gap:.7rem 1.8rem;margin:0 0 .8rem;font-size:.9rem}
.cautions dt{font-weight:650}
.cautions dd{margin:0;color:var(--soft)}
footer{color:var(--soft);font-size:.8125rem;border-top:1px solid var(--line);padding-top:.8rem}
.fit-mid,.fit-slim{display:none}
${DRAWING_CSS}
@media screen and (max-width:860px){
.fit-wide,.fit-slim{display:none}.fit-mid{display:block}
.head{grid-template-columns:1fr}
}
@media screen and (max-width:560px){
.fit-wide,.fit-mid{display:none}.fit-slim{display:block}
main{padding:1rem 16px 2rem}
.summary{font-size:1.06rem}
.stack,.stack tbody,.stack tr{display:block}
.stack thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.stack tr{display:flex;flex-wrap:wrap;gap:.1rem 1.1rem;padding:.55rem 0;border-bottom:1px solid var(--line)}
.stack th,.stack td{display:block;border:0;padding:0;white-space:normal}
.stack th[data-label]::before,.stack td[data-label]::before{content:attr(data-label) " ";color:var(--soft);font-weight:400;font-size:.8125rem}
.stack .why,.stack .picture{flex-basis:100%;max-width:none}
.stack .why:empty{display:none}
}
@page{size:A4;margin:13mm 12mm}
@media print{
nav{display:none}
:root{color-scheme:light}
body{font-size:10.5pt;background:#fff;-webkit-print-color-adjust:exact;print-color-adjust:exact}
main{max-width:none;padding:0}
.fit-wide,.fit-slim{display:none}.fit-mid{display:block}
section{margin-bottom:1.2rem}
.head,#cautions{break-inside:avoid}
h2,.head{break-after:avoid}
thead{display:table-header-group}
tbody tr:nth-child(-n+2){break-after:avoid}
.photos{grid-template-columns:1fr 1fr}
.strips{margin-bottom:.5rem}
.photo .drawing{max-height:98mm;background:none}
table{font-size:9.5pt}
th,td{padding:.24rem .7rem .24rem 0}
.head{grid-template-columns:1fr}
}
`;
