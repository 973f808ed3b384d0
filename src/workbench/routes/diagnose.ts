import { Hono } from 'hono';
import { Problem } from '../../base/problem.js';
import type { Clip } from '../../clip/open.js';
import { adviceFor } from '../../diagnose/advice.js';
import { diagnose } from '../../jobs/diagnose.js';
import type { OpenPorts } from '../../jobs/ports.js';
import { keyOf } from '../../store/key.js';
import { luckText } from '../../words/diagnosis-wording.js';
import { taughtText } from '../../words/teach-wording.js';
import type { Bench } from '../bench.js';
import { askedIn, type Case, caseOf } from '../clip-asked.js';
import type { DiagnosisTold } from '../diagnosis-protocol.js';
import { KeptAnswers } from '../kept-answers.js';
import { streamed } from '../streamed.js';
import type { Workspace } from '../workspace.js';

/** Diagnoses of a few dial positions and back. */
const MOST_KEPT = 32;

/** Why a clip fires falsely under the dials as they stand, what it misses, and what would help. */
export function diagnoseRoutes({ workspace, ports, turns }: Bench): Hono {
  const kept = new KeptAnswers<DiagnosisTold>(MOST_KEPT);
  return new Hono().post('/clips/:id/diagnosis', async (c) => {
    const id = c.req.param('id');
    const asked = await askedIn(c);
    return streamed<DiagnosisTold>(ports.cache, async (told) => {
      const { clip, camera, settings } = await caseOf(workspace, id, asked, told);
      const { teachers, left } = asked.teach ? await teachersOf(workspace, id, clip, told) : nobody;
      return kept.of(keyFor({ clip, camera, settings }, asked.teach && teachers), async () => {
        const { clips, cures, notes, taught } = await turns.take('finding out why', told, () =>
          diagnose({ clips: [clip], camera, settings, teach: asked.teach, teachers }, told),
        );
        const { explained, missed, ...rest } = clips[0]!;
        return {
          explained,
          missed,
          cures,
          notes: [...notes, ...left],
          luck: luckText(rest),
          advice: adviceFor(explained),
          taught: taught ? taught.map(taughtText).join(' ') : null,
        };
      });
    });
  });
}

/** What is learnt from: other clips, and a line on each that was left out. */
interface Teachers {
  teachers: Clip[];
  left: string[];
}
const nobody: Teachers = { teachers: [], left: [] };

/** The other labelled clips of a clip's site, as they are on disk; clips that name no site share one. */
async function teachersOf(
  workspace: Workspace,
  id: string,
  clip: Pick<Clip, 'manifest'>,
  told: OpenPorts,
): Promise<Teachers> {
  const teachers: Clip[] = [];
  const left: string[] = [];
  for (const place of await workspace.places()) {
    if (place.id === id) continue;
    try {
      const other = await workspace.clip(place.id, told);
      if (other.labels && other.manifest.site === clip.manifest.site) teachers.push(other);
    } catch (error) {
      if (!(error instanceof Problem) || told.signal?.aborted) throw error;
      left.push(`not learnt from: ${error.message}`);
    }
  }
  return { teachers, left };
}

/**
 * All that a diagnosis depends on; what is said of causes only where it is learnt from.
 * @param teachers what else it is learnt from; false: it is not
 */
function keyFor({ clip, camera, settings }: Case, teachers: readonly Clip[] | false): string {
  const { causes = [], foliage: _, ...labels } = clip.labels ?? { visits: [] };
  const { site, conditions } = clip.manifest;
  const lessons = teachers && [causes, teachers.map((one) => [one.contentKey, one.labels])];
  return keyOf(clip.contentKey, camera, settings, labels, [site, conditions], lessons);
}
