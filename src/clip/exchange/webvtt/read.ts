import { clock, plural } from '../../../base/figures.js';
import { parseJson } from '../../../base/json.js';
import { Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import { readText } from '../../../files/read-json.js';
import { causeNames, type Labels, labelsSchema, type Stretch } from '../../../score/labels.js';
import type { Incoming, Wanted } from '../format.js';
import { Within } from '../within.js';
import { cuesOf } from './cues.js';
import { type Said, saidIn } from './payload.js';
import { OWN_NOTE, type OwnNote } from './write.js';

const EXPECTED = 'cues in WebVTT';
/** A million cues take less, and twice as much would not fit into one string. */
const MOST_BYTES = 128 * 2 ** 20;

const ownSchema = labelsSchema.pick({ reviewed: true, mask: true, foliage: true });

/** Labels in the making. */
interface Gathered {
  visits: Labels['visits'];
  ignored: NonNullable<Labels['ignored']>;
  causes: NonNullable<Labels['causes']>;
}

/** How a place in the labels is found again: the number in the identifier that this program gave. */
const OWN_ID = /^(?:visit|ignored|cause) (\d+)$/;

/** The cues of a file as the labels of a clip, whose start is theirs. */
export async function readWebVtt(file: string, { clip, allReviewed }: Wanted): Promise<Incoming> {
  if (file.trim() === '') throw new Problem('usage', 'expected the name of a file, found an empty one');
  const { cues, notes } = cuesOf(await readText(file, EXPECTED, MOST_BYTES), file);
  const within = new Within(clip.seconds);
  const labels: Gathered = { visits: [], ignored: [], causes: [] };
  let visitsOutside = false;
  let longer = 0;
  for (const { id, line, start, end, payload } of inOrder(cues)) {
    const stretch = within.fit(start, end);
    const said = saidIn(payload);
    if (!said) {
      throw new Problem(
        'bad-field',
        `${file}: line ${line + 1}: the cue ${quoted(id)}: expected lines as this program writes them, found ${quoted(payload)}; mend count, box or name`,
      );
    }
    if (said.kind === 'visit' && said.leftOut > 0) longer++;
    visitsOutside ||= !stretch && said.kind === 'visit';
    if (stretch) add(labels, stretch, said, `${file}: line ${line + 1}`);
  }
  const own = ownIn(notes, file);
  const { reviewed, ...outlines } = own ?? {};
  const { visits, ignored, causes } = labels;
  const nothing = visits.length + ignored.length + causes.length === 0;
  if (visits.length === 0 && (visitsOutside || (cues.length > 0 && nothing))) {
    throw new Problem(
      'bad-times',
      `${file}: expected cues within the ${Number(clip.seconds.toFixed(3))} s of the clip ${clip.dir}, found ${nothing ? 'none' : 'no visit'} of ${cues.length}: the nearest lies ${clock(Math.abs(within.nearest))} after its end; give the file that belongs to it`,
    );
  }
  return {
    labels: {
      version: 1,
      ...(reviewed && !allReviewed && { reviewed }),
      visits,
      ...(ignored.length > 0 && { ignored }),
      ...outlines,
      ...(causes.length > 0 && { causes }),
    },
    deployment: null,
    outside: within.outside,
    cut: within.cut,
    notHeld: [],
    notes: [
      ...(longer > 0
        ? [
            `of ${plural(longer, 'cue')} of several lines the first is taken as the name; the others are left out`,
          ]
        : []),
      ...(own || allReviewed || cues.some(({ id }) => OWN_ID.test(id))
        ? []
        : [
            'cues do not say what else was looked through, so all of the clip is taken to have been where labels.json says nothing else; if not, write "reviewed" into it',
          ]),
    ],
  };
}

/** Cues of ours in the order that their labels had, others as they stand. */
function inOrder<C extends { id: string }>(cues: readonly C[]): C[] {
  const number = ({ id }: C) => Number(OWN_ID.exec(id)?.[1] ?? Number.POSITIVE_INFINITY);
  return [...cues].sort((a, b) => Math.sign(number(a) - number(b)) || 0);
}

function add(labels: Gathered, { start, end }: Stretch, said: Said, where: string): void {
  if (said.kind === 'visit') labels.visits.push({ start, end, ...said.visit });
  else if (said.kind === 'ignored') {
    labels.ignored.push({ start, end, ...(said.why !== undefined && { why: said.why }) });
  } else {
    const cause = causeNames.find((one) => one === said.cause);
    if (!cause) {
      throw new Problem(
        'bad-field',
        `${where}: expected one of ${causeNames.join(', ')} in a cue of "type: cause", found ${quoted(said.cause)}; mend it`,
      );
    }
    labels.causes.push({ start, end, cause });
  }
}

function ownIn(notes: readonly string[], file: string): OwnNote | null {
  const note = notes.find((one) => one.startsWith(`${OWN_NOTE}\n`));
  if (note === undefined) return null;
  const json = note.slice(OWN_NOTE.length + 1);
  return parseJson(json, `${file}: the comment "${OWN_NOTE}"`, ownSchema, 'what it holds as JSON');
}
