/** Where the page asks what else stands in clip.json. */
const ABOUT = 'Look and label, “About this clip”';

/** What the command line calls options, as this page calls the fields; a test holds that each is still said. */
export const CALLED: readonly [RegExp, string][] = [
  [/^--from:/, 'Out from:'],
  [/^--until:/, 'Out until:'],
  [/^--clock: expected what the camera's clock is/, 'The camera’s clock: expected what it is'],
  [/^--clock:/, 'The camera’s clock:'],
  [/name the camera(?: that took them)? with --camera/, 'describe it in Camera and keep it'],
  [/ \(--camera says otherwise\)/, ''],
  [/is it the right --camera\?/, 'is it described rightly in Camera?'],
  [
    /say with --clock what that is ahead of UTC, such as --clock \+01:00, or --clock Z/,
    'say below what that is ahead of UTC, such as +01:00, or Z',
  ],
  [/say with --photos how many/, 'say in “photos a trigger” how many'],
  [/add --from and --until/, 'say from when until when it was out'],
  [/\(--from and --until say better\)/, '(“out from” and “until” say better)'],
  [/\(--from says better\)/, '(“out from” says better)'],
  [/\(--until says better\)/, '(“until” says better)'],
  [/--from and --until say when/, '“out from” and “until” say when'],
  [/with (--from|--until) when/, 'in the other field when'],
  [/that of --from/, '“out from”'],
  [/leave (--from|--until) out/, 'leave the field empty'],
  [
    /: give --camera FILE, or write them into "controls"/,
    '; keep your own here first, and say that its dials are as you kept them',
  ],
  [/ \(--worth \d+\)/, ''],
  [/tune looks through it with --doubts, and plan always/, 'Coming days looks through it'],
  [/, tune advises /, ', Answer advises '],
  [/the report and --json list/, 'are listed here'],
  [/say it in clip\.json, "start": "[^"]+", and where, "place"/, `say it, and where, in ${ABOUT}`],
  [/mend "start" in clip\.json/, `mend it in ${ABOUT}`],
  [/say it in clip\.json: conditions(?:\.wind)?/, `say it in ${ABOUT}`],
  [/note conditions\.[^;]* in clip\.json/, `say it in ${ABOUT}`],
  [/write (?:"place": \{[^}]*\}|start and place|start|place) into clip\.json/, `say it in ${ABOUT}`],
  [/put "burst" right in camera\.json/, 'put its photos a trigger right in Camera'],
  [
    /mend the stamps or the order, or say how many were taken evenly a second/,
    'choose “Evenly” below, and say how many were taken a second',
  ],
  [/ \(labels\.json: foliage\)/, ' in Mask and foliage'],
];

/** A line of the command line's, for whoever has never seen one. */
export function inOwnWords(line: string): string {
  return CALLED.reduce((text, [option, words]) => text.replace(option, words), line);
}
