import { declarations } from './palette.js';

/** The look of a field notebook: cream paper, a ruled margin, ink. Always on paper in print. */
export const style = `
:root{color-scheme:light dark;${declarations('light')}}
@media screen and (prefers-color-scheme:dark){:root{${declarations('dark')}}}
*{box-sizing:border-box}
html{background:var(--paper);-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:62rem;padding:1.2rem 1.2rem 3rem;color:var(--ink);background:var(--paper);
font:1rem/1.5 system-ui,sans-serif;font-variant-numeric:tabular-nums}
h1,h2,h3{font-family:"Iowan Old Style","Palatino Linotype",Palatino,"Book Antiqua",Georgia,serif;line-height:1.2;
break-after:avoid;text-wrap:balance}
h1{font-size:1.9rem;margin:0 0 .2rem}
h2{font-size:1.35rem;margin:2.4rem 0 .8rem;padding-bottom:.3rem;border-bottom:2px solid var(--ink)}
h3{font-size:1.05rem;margin:1.4rem 0 .5rem}
p{margin:.5rem 0;max-width:44rem}
header{padding:.9rem 0 1rem;border-bottom:1px dashed var(--faint)}
.note{color:var(--faint);font-size:.9rem}
.words{font-size:1.08rem}
a{color:inherit;text-underline-offset:.15em}nav{margin-top:1rem}.jump a{margin-right:.5rem}
.dials,.pair,.pictures,.legend{display:flex;flex-wrap:wrap;gap:.8rem}
figure{margin:0;break-inside:avoid}
figure svg,figure img{display:block;max-width:100%;height:auto}
figcaption{font-size:.85rem;line-height:1.35;margin-top:.25rem}
h4{margin:1.1rem 0 .5rem;font-size:.95rem;break-after:avoid}
.dials figure{width:168px;text-align:center}
.dials figcaption,.pictures figcaption{color:var(--faint)}
.pair figure,.card{background:var(--card);border:1px solid var(--rule);border-radius:4px;padding:.6rem}
.pair figure{flex:1 1 290px;max-width:460px}
.pair figure svg,.card svg{width:100%}
.pair figcaption{font-weight:600;margin-bottom:.3rem}
.card{max-width:480px}
.strip svg{width:100%}
.strip .narrow{display:none}
.legend{list-style:none;margin:.4rem 0 1rem;padding:0;font-size:.85rem;gap:.3rem 1.1rem}
.legend li{display:flex;align-items:center;gap:.4rem}
.pictures{gap:.7rem}
.pictures figure{width:calc((100% - 1.4rem)/3);max-width:320px}
.pictures img{width:100%;border:1px solid var(--rule)}.pictures .close{margin-top:2px}
table{border-collapse:collapse;font-size:.92rem;max-width:100%}
th,td{text-align:right;padding:.3rem .6rem;border-bottom:1px solid var(--rule);vertical-align:top}
th:first-child,td:first-child{text-align:left;padding-left:0}
td{white-space:nowrap}
th.text,td.text{text-align:left}td:first-child,td.text{white-space:normal}
thead th{color:var(--faint);font-weight:600}
tr,.together{break-inside:avoid}
td .note{font-size:inherit}th .note{font-weight:400}.told td{white-space:normal}.told td:first-child{min-width:5rem}
.backdrop{position:absolute}
dt{font-weight:600;margin-top:.6rem}dd{margin:.15rem 0 0 1.2rem;max-width:42rem}
.scroll{overflow-x:auto}
tr:has(+.more) td{border-bottom:0;padding-bottom:0}.more td:first-child{padding-left:1.2rem;color:var(--faint)}
details summary{cursor:pointer;margin:.6rem 0}
@media screen and (min-width:56rem){body{padding-left:4.2rem;
background:linear-gradient(90deg,transparent 2.6rem,var(--margin) 2.6rem,var(--margin) calc(2.6rem + 2px),transparent calc(2.6rem + 2px))}}
@media screen and (max-width:38rem){body{padding:.8rem .5rem 2rem}h1{font-size:1.5rem}
.strip .wide{display:none}.strip .narrow{display:block}
.dials{justify-content:space-around;gap:.4rem}.dials figure{width:calc(50% - .4rem)}.dials svg{margin:auto}
.pictures figure{width:calc(50% - .35rem)}table{font-size:.84rem}th,td{padding:.3rem .35rem;overflow-wrap:anywhere}td{white-space:normal}.sites th,.sites td,td.text{overflow-wrap:break-word}}
@media print{@page{size:A4;margin:14mm}:root{color-scheme:light;--paper:#fff;--card:#fff}.card{max-width:105mm}
body{max-width:none;padding:0;font-size:10.5pt}
.pictures figure{width:31%}h2{margin-top:1.4rem}details{display:none}}
`.trim();
