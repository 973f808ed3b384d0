/**
 * Colours that readers with any common colour vision can tell apart: Okabe & Ito 2008, "Color Universal Design (CUD):
 * how to make figures and presentations that are friendly to colorblind people". Each also has a shape of its own
 * wherever it is used. On a dark ground their lighter ones stand in: sky blue for blue, orange for vermillion.
 */
const okabeIto = {
  black: '#000000',
  orange: '#e69f00',
  skyBlue: '#56b4e9',
  bluishGreen: '#009e73',
  yellow: '#f0e442',
  blue: '#0072b2',
  vermillion: '#d55e00',
  reddishPurple: '#cc79a7',
} as const;

/** What each colour stands for, on paper and in the dark. */
const roles = {
  paper: ['#fbf8ef', '#1d1f1b'],
  card: ['#fffdf7', '#262924'],
  ink: ['#2a2a22', '#e9e6d8'],
  faint: ['#67655a', '#a9a797'],
  rule: ['#d9d3bf', '#41443b'],
  area: ['#8b8675', '#9a9787'],
  caught: [okabeIto.blue, okabeIto.skyBlue],
  nothing: [okabeIto.vermillion, okabeIto.orange],
  ignored: ['#67655a', '#a9a797'],
  recommended: [okabeIto.bluishGreen, okabeIto.bluishGreen],
  best: [okabeIto.reddishPurple, okabeIto.reddishPurple],
  margin: ['#e3b9a6', '#5d4338'],
} as const;

export type Role = keyof typeof roles;

/** A colour for SVG: the page's own, or that of paper where a figure stands alone. */
export function colour(role: Role): string {
  return `var(--${role}, ${roles[role][0]})`;
}

/** The declarations a page makes the colours with. */
export function declarations(ground: 'light' | 'dark'): string {
  const place = ground === 'light' ? 0 : 1;
  return Object.entries(roles)
    .map(([role, pair]) => `--${role}:${pair[place]}`)
    .join(';');
}
