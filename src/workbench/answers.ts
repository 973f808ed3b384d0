import { randomBytes } from 'node:crypto';
import { Problem } from '../base/problem.js';
import { printedJson } from '../base/text.js';
import type { Camera } from '../camera/description.js';
import type { Clip } from '../clip/open.js';
import type { OpenPorts } from '../jobs/ports.js';
import { filesOf, settingsFile } from '../jobs/tune/files-of.js';
import { type TuneResult, tuneDocument } from '../jobs/tune.js';
import { cardOf } from '../report/card-of.js';
import { reportOf } from '../report/report.js';
import type { AnswerSave } from './answer-protocol.js';
import type { FileToSave } from './save.js';
import type { Workspace } from './workspace.js';

/** What was found, and what it was found with. */
interface Answer {
  result: TuneResult;
  clips: readonly Clip[];
  camera: Camera;
  /** A day; undefined where the owner did not say. */
  hoursOut: number | undefined;
  /** Pages that were drawn, by what they show. */
  drawn: Map<string, Promise<string>>;
}

/** Answers that are kept to be saved and shown; older ones can be asked for again, which is quick. */
const KEPT = 4;

/** The last answers of one server. */
export class Answers {
  private readonly kept = new Map<string, Answer>();

  /** @returns under which it is kept */
  keep(answer: Omit<Answer, 'drawn'>): string {
    // No number in turn: a page that outlives the server would be given another answer of the same number.
    const id = randomBytes(9).toString('base64url');
    this.kept.set(id, { ...answer, drawn: new Map() });
    for (const oldest of this.kept.keys()) {
      if (this.kept.size <= KEPT) break;
      this.kept.delete(oldest);
    }
    return id;
  }

  /** The report of all its sites as HTML. @throws Problem, and whatever reading the clips throws */
  report(id: string, ports: OpenPorts): Promise<string> {
    const answer = this.get(id);
    return drawnOnce(answer, 'report', () => {
      const groups = answer.result.sites.map((tuned) => ({
        settings: tuned.recommended.settings,
        clips: answer.clips.filter(({ dir }) => tuned.clips.includes(dir)).map((clip) => ({ clip })),
        tuned,
      }));
      return reportOf({ camera: answer.camera, groups }, ports);
    });
  }

  /** The card of one of its sites as HTML. @throws Problem, and whatever reading the clips throws */
  card(id: string, place: number, ports: OpenPorts): Promise<string> {
    const answer = this.get(id);
    const site = answer.result.sites[place];
    if (!site)
      throw new Problem('bad-field', `site ${place}: expected 0 to ${answer.result.sites.length - 1}`);
    return drawnOnce(answer, `card ${place}`, () =>
      cardOf(site, answer.clips, answer.camera, answer.hoursOut, ports),
    );
  }

  /**
   * What to save of it; as in `perchmark tune --write`, no settings and no card where there is too little to tell.
   * @throws Problem where that leaves nothing
   */
  files(id: string, what: AnswerSave['what'], ports: OpenPorts): FileToSave[] {
    const { result, camera } = this.get(id);
    if (what === 'report') return [{ name: 'report.html', content: () => this.report(id, ports) }];
    const files = filesOf(result.sites).flatMap(({ stem, groups }, place): FileToSave[] =>
      groups.length === 0
        ? []
        : what === 'card'
          ? [{ name: `${stem}-card.html`, content: () => this.card(id, place, ports) }]
          : what === 'promise'
            ? [{ name: `${stem}-promised.json`, content: () => promiseText(result, place) }]
            : groups.map((group) => ({
                name: `${group.stem}.json`,
                content: () => printedJson(settingsFile(group.settings, camera)),
              })),
    );
    if (files.length > 0) return files;
    throw new Problem(
      'bad-settings',
      'there is too little to tell which settings are best, so no settings, no card and no promise are written; label more visits, or save the report',
    );
  }

  private get(id: string): Answer {
    const answer = this.kept.get(id);
    if (answer) return answer;
    throw new Problem('file-missing', 'this answer is not kept any more; ask again');
  }
}

/** What `perchmark tune --json` would print of one site alone. */
function promiseText(result: TuneResult, place: number): string {
  return printedJson(tuneDocument({ ...result, sites: [result.sites[place]!] }));
}

/** What failed, or was stopped, is drawn anew. */
function drawnOnce({ drawn }: Answer, what: string, draw: () => Promise<string>): Promise<string> {
  const before = drawn.get(what);
  if (before) return before;
  const drawing = draw();
  drawn.set(what, drawing);
  drawing.catch(() => drawn.delete(what));
  return drawing;
}

const ofWorkspace = new WeakMap<Workspace, Answers>();

/** The answers that were given over an opened folder. */
export function answersOf(workspace: Workspace): Answers {
  const known = ofWorkspace.get(workspace) ?? new Answers();
  ofWorkspace.set(workspace, known);
  return known;
}
