/** The look of a run on paper: black and greys, one face, lines instead of boxes. The same on a screen, laid on a white sheet. */

export const PAPERS = {
  a4: { widthMm: 210, heightMm: 297, name: 'A4' },
  letter: { widthMm: 215.9, heightMm: 279.4, name: 'letter' },
} as const;
export type Paper = keyof typeof PAPERS;

/** Margin all round, mm (ours: more than any printer leaves unprinted). */
const MARGIN_MM = 12;

const TYPE = `
*{box-sizing:border-box;margin:0;padding:0}
html{color-scheme:light;background:#fff;color:#111}
body{font:9pt/1.32 'Liberation Sans',Arial,Helvetica,sans-serif;font-variant-numeric:tabular-nums}
h1{font-size:15pt;line-height:1.15;overflow:hidden;text-overflow:ellipsis}
h2,caption{font-size:8.5pt;font-weight:700;text-align:left;padding:0 0 1mm;border-bottom:.4mm solid #111}
dt{font-weight:700}
dd{overflow-wrap:anywhere}
table{width:100%;border-collapse:collapse}
th,td{padding:.6mm 2mm .6mm 0;text-align:left;vertical-align:top;border-bottom:.15mm solid #999}
th{font-size:8pt}
svg{display:block;width:100%;height:auto}
.wide:focus-visible{outline:.6mm solid #111}
ol{list-style:none}
.happened li{display:flex;gap:3mm;padding:.35mm 0;border-bottom:.15mm solid #ccc}
.happened time{flex:none;width:11mm}
.happened span{overflow-wrap:anywhere}
.is-alarm span,.is-phase span{font-weight:700}
.is-alarm span::before{content:'! '}
.is-note span{font-style:italic}
.head{display:flex;justify-content:space-between;align-items:baseline;gap:6mm;padding-bottom:2mm;border-bottom:.8mm solid #111}
.head p{flex:none;text-align:right}
.facts{columns:2;column-gap:8mm}
.facts div,.judged div{display:flex;gap:3mm;padding:.35mm 0;border-bottom:.15mm solid #ccc;break-inside:avoid}
.facts dt,.judged dt{flex:none;width:34mm}
.sign{display:flex;gap:8mm;align-items:flex-end}
.sign p{flex:1;border-top:.3mm solid #111;padding-top:1mm}
.advice{font-size:8pt}
`;

/** What can be printed on, mm; half a millimetre is kept back, so that rounding makes no second page. */
export function fieldMm(paper: Paper): { readonly widthMm: number; readonly heightMm: number } {
  const { widthMm, heightMm } = PAPERS[paper];
  return { widthMm: widthMm - 2 * MARGIN_MM, heightMm: heightMm - 2 * MARGIN_MM - 0.5 };
}

/** Exactly one page: what does not fit was left out and counted before it came here. */
export function sheetStyle(paper: Paper): string {
  const { widthMm, heightMm } = fieldMm(paper);
  return `${TYPE}
@page{size:${PAPERS[paper].name} portrait;margin:${MARGIN_MM}mm}
h1{white-space:nowrap}
main>*{flex:none}
main{display:flex;flex-direction:column;gap:2.6mm;width:${widthMm}mm;height:${heightMm}mm;overflow:hidden}
.facts,.happened li span,.phases td{line-height:1.25}
.happened li span{white-space:nowrap;overflow:hidden;text-overflow:ellipsis}
.happenings{flex:1 1 0;min-height:0;overflow:hidden}
.sign{padding-top:8mm}
@media screen{html{background:#dde8e4}main{margin:18mm auto;outline:${MARGIN_MM}mm solid #fff;background:#fff}}
@media screen and (max-width:${PAPERS[paper].widthMm}mm){
html{background:#fff}
body{font-size:11pt}
h2,caption,.advice,th{font-size:11pt}
main{width:auto;height:auto;margin:0;padding:4mm;outline:0}
h1,.happened li span{white-space:normal}
.head{display:block}
.head p{text-align:left}
.facts{columns:1}
.facts dt,.judged dt{width:36mm}
.happenings{flex:none}
.wide{overflow-x:auto}
.wide>*{min-width:${widthMm}mm}
}
`;
}

/** As long as it has to be; on a screen first, on paper as many pages as it takes. */
export const KEPT_STYLE = `${TYPE}
@page{margin:${MARGIN_MM}mm}
body{font-size:11pt}
main{display:flex;flex-direction:column;gap:6mm;max-width:260mm;margin:0 auto;padding:8mm}
h2,caption,.advice,th{font-size:11pt}
.facts dt,.judged dt{width:48mm}
.happened time{width:16mm}
summary{min-height:12mm;display:flex;align-items:center;font-weight:700;text-decoration:underline;cursor:pointer}
a{display:inline-flex;align-items:center;min-height:17mm;padding:0 6mm;border:.8mm solid #111;border-radius:3mm;color:#111;font-weight:700;text-decoration:none}
@media screen and (max-width:160mm){.facts{columns:1}.minutes{display:block;overflow-x:auto}.wide{overflow-x:auto}.wide>*{min-width:160mm}}
@media print{main{padding:0;max-width:none}.keep{display:none}}
`;
