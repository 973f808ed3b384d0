import { declarations } from '../palette.js';

/** The look of the sheet: the field notebook's paper, pictures close together, what is looked at large beside them. */
export const sheetStyle = `
:root{color-scheme:light dark;${declarations('light')}}
@media screen and (prefers-color-scheme:dark){:root{${declarations('dark')}}}
*{box-sizing:border-box}
html{background:var(--paper);-webkit-text-size-adjust:100%}
body{margin:0;padding:.8rem 1rem 2rem;color:var(--ink);background:var(--paper);
font:1rem/1.45 system-ui,sans-serif;font-variant-numeric:tabular-nums}
h1,h2{font-family:"Iowan Old Style","Palatino Linotype",Palatino,"Book Antiqua",Georgia,serif;line-height:1.2}
h1{font-size:1.5rem;margin:0 0 .3rem;overflow-wrap:anywhere}
h2{font-size:1.1rem;margin:1.2rem 0 .5rem;padding-bottom:.25rem;border-bottom:2px solid var(--ink);
display:flex;flex-wrap:wrap;justify-content:space-between;align-items:baseline;gap:.3rem .8rem}
p{margin:.3rem 0;max-width:46rem}
.note{color:var(--faint);font-size:.88rem}
[hidden]{display:none!important}
button,select{font:inherit;color:inherit;background:var(--card);border:1px solid var(--faint);border-radius:4px;
padding:.3rem .7rem;min-height:2.2rem;cursor:pointer}
button:disabled{color:var(--faint);border-color:var(--rule);cursor:default}
button:focus-visible,select:focus-visible,a:focus-visible{outline:3px solid var(--caught);outline-offset:2px}
.rest{font-family:system-ui,sans-serif;font-size:.85rem;font-weight:400;display:none}
.sorts .rest{display:block}
ol{list-style:none;margin:0;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(132px,1fr));gap:8px 6px}
li{min-width:0}
.photo{display:block;width:100%;padding:3px;border:2px solid var(--rule);text-align:left;line-height:1.25;position:relative;
min-height:0;background:var(--card)}
.photo img,.photo .none{display:block;width:100%;height:auto;aspect-ratio:4/3;object-fit:contain;background:var(--paper)}
.photo .none{display:grid;place-content:center;text-align:center;font-size:.8rem;color:var(--faint)}
.photo .label{display:flex;justify-content:space-between;gap:.3rem;font-size:.78rem;padding:2px 1px 0;overflow:hidden}
.photo .n{font-weight:700}
.photo .mark{font-weight:700}
.photo .at{color:var(--faint);white-space:nowrap}
li.joined .photo::before{content:"";position:absolute;left:-10px;top:45%;width:12px;border-top:3px solid var(--faint)}
li[data-seen=animal] .photo{border:2px solid var(--caught)}li[data-seen=animal] .mark{color:var(--caught)}
li[data-seen=nothing] .photo{border:2px dashed var(--nothing)}li[data-seen=nothing] img{opacity:.5}
li[data-seen=person] .photo{border:2px dotted var(--ink)}li[data-seen=person] img{opacity:.5}
.photo.current{outline:4px solid var(--ink);outline-offset:1px;z-index:1}.photo.current img{opacity:1!important}
#stage{display:none}
.sorts #stage{display:block;background:var(--card);border:1px solid var(--rule);border-radius:6px;padding:.7rem}
#large{display:block;width:100%;max-height:50vh;object-fit:contain;background:var(--paper)}
#none{display:grid;place-content:center;min-height:8rem;color:var(--faint)}
#which{font-weight:700}#name{overflow-wrap:anywhere}
.about{display:flex;flex-wrap:wrap;gap:0 .8rem;font-size:.88rem;margin:.3rem 0}
.about a{color:inherit}
.marks{display:grid;grid-template-columns:repeat(3,1fr);gap:.4rem}
.marks button{min-height:3rem;font-weight:700;white-space:nowrap;padding:.3rem}.key{font-weight:400;font-size:.8em}
.marks [aria-pressed=true]{background:var(--ink);color:var(--paper)}
.marks [data-mark=animal]{border:2px solid var(--caught)}
.marks [data-mark=nothing]{border:2px dashed var(--nothing)}
.marks [data-mark=person]{border:2px dotted var(--ink)}
.more{display:flex;flex-wrap:wrap;gap:.4rem;margin-top:.5rem;align-items:center}
#save{font-weight:700;border:2px solid var(--ink)}
.choices{display:none;flex-wrap:wrap;gap:.3rem 1.2rem;align-items:center;margin-top:.5rem;font-size:.92rem}.sorts .choices{display:flex}
.choices label{display:flex;gap:.4rem;align-items:center}
#said{min-height:1.3em;font-size:.88rem}
#unsaved{color:var(--nothing)}
body[data-show=open] li:not([data-seen=open]),body[data-show=animal] li:not([data-seen=animal]),
body[data-show=nothing] li:not([data-seen=nothing]),body[data-show=person] li:not([data-seen=person]){display:none}
@media screen and (min-width:52rem){.sorts{display:grid;grid-template-columns:minmax(0,1fr) minmax(20rem,27rem);gap:0 1.4rem}
.sorts header{grid-column:1/-1}.sorts #stage{position:sticky;top:.8rem;align-self:start;grid-column:2;grid-row:2}
.sorts main{grid-column:1;grid-row:2}}
@media screen and (max-width:51.99rem){body{padding:.6rem .5rem}.sorts{padding-bottom:25rem}
ol{grid-template-columns:repeat(3,1fr)}h1{font-size:1.2rem}
.photo .at{display:none}
.sorts #stage{position:fixed;left:0;right:0;bottom:0;border-radius:10px 10px 0 0;padding:.4rem .5rem;z-index:2;
border-top:2px solid var(--ink)}
#large{max-height:min(13rem,27vh)}.photo{scroll-margin-bottom:25rem}.key,#burst{display:none}
.about{margin:.15rem 0;gap:0 .6rem;font-size:.82rem}#said{min-height:0}.more{margin-top:.35rem;gap:.3rem}.more button{padding:.3rem .5rem}}
@media print{:root{color-scheme:light;--paper:#fff;--card:#fff}#stage,.rest,.screen{display:none!important}
ol{grid-template-columns:repeat(5,1fr)}li{break-inside:avoid}body{padding:0;font-size:9pt}}
`.trim();
