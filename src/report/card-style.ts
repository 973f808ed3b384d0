import { declarations } from './palette.js';

/** A leaf of the report's field notebook: A5 on paper, one screen on a phone. */
export const cardStyle = `
:root{color-scheme:light dark;${declarations('light')}}
@media screen and (prefers-color-scheme:dark){:root{${declarations('dark')}}}
*{box-sizing:border-box}
html{background:var(--paper);-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:30rem;padding:.7rem .6rem .8rem;color:var(--ink);background:var(--paper);
font:.86rem/1.35 system-ui,sans-serif;font-variant-numeric:tabular-nums}
h1,h2{font-family:"Iowan Old Style","Palatino Linotype",Palatino,"Book Antiqua",Georgia,serif;line-height:1.15;margin:0;
overflow-wrap:anywhere}
h1{font-size:1.5rem}h2{font-size:1.05rem}
p{margin:0}
header{display:flex;flex-wrap:wrap;justify-content:space-between;align-items:baseline;gap:0 .8rem;
padding-bottom:.35rem;border-bottom:2px solid var(--ink)}
.note,.source,th span{color:var(--faint);font-size:.76rem}
table{border-collapse:collapse;width:100%;table-layout:fixed;margin:.3rem 0 .4rem}
th,td{padding:.16rem 1px;border-bottom:1px solid var(--rule);text-align:center;vertical-align:middle}
thead th{font-size:.57rem;font-weight:400;line-height:1.15;overflow-wrap:anywhere;vertical-align:bottom}
thead td{width:24%}
tbody th{text-align:left;font-size:.95rem;line-height:1.15}
tbody th span{display:block;font-weight:400;font-size:.72rem;line-height:1.15}
.source{font-style:italic}
td svg{display:block;width:100%;max-width:4.4rem;height:auto;margin:auto}
.same{opacity:.42}
.advice{padding:.1rem 0 .5rem}
.below{display:flex;gap:.8rem;align-items:flex-start}
.below section{flex:1 1 0;min-width:0}
figure{margin:0;flex:0 0 47%}
figure svg{display:block;max-width:100%;height:auto}
figcaption{font-size:.76rem;margin-top:.2rem}
.backdrop{position:absolute}
dl{margin:.3rem 0}
dt{color:var(--faint)}
dd{margin:0 0 .25rem;font-weight:600;font-size:1.1rem}
footer{margin-top:.5rem;padding-top:.35rem;border-top:1px dashed var(--faint)}
@media print{@page{size:A5;margin:8mm}:root{color-scheme:light;--paper:#fff;--card:#fff}
body{max-width:none;padding:0;font-size:9.6pt}
thead th{font-size:.66rem}td svg{max-width:18mm}tr,figure,section{break-inside:avoid}}
`.trim();
