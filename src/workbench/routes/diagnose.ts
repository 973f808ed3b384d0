import { Hono } from 'hono';
import { adviceFor } from '../../diagnose/advice.js';
import { diagnose } from '../../jobs/diagnose.js';
import { keyOf } from '../../store/key.js';
import { luckText } from '../../words/diagnosis-wording.js';
import { taughtText } from '../../words/teach-wording.js';
import type { Bench } from '../bench.js';
import { askedIn, type Case, caseOf } from '../clip-asked.js';
import type { DiagnosisTold } from '../diagnosis-protocol.js';
import { KeptAnswers } from '../kept-answers.js';
import { streamed } from '../streamed.js';

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
      return kept.of(keyFor({ clip, camera, settings }, asked.teach), async () => {
        const { clips, cures, notes, taught } = await turns.take('finding out why', told, () =>
          diagnose({ clips: [clip], camera, settings, teach: asked.teach }, told),
        );
        const { explained, missed, ...rest } = clips[0]!;
        return {
          explained,
          missed,
          cures,
          notes,
          luck: luckText(rest),
          advice: adviceFor(explained),
          taught: taught ? taught.map(taughtText).join(' ') : null,
        };
      });
    });
  });
}

/** All that a diagnosis depends on; what is said of causes only where it is learnt from. */
function keyFor({ clip, camera, settings }: Case, teach: boolean): string {
  const { causes = [], foliage: _, ...labels } = clip.labels ?? { visits: [] };
  const { site, conditions } = clip.manifest;
  const { contentKey, times, seconds } = clip;
  return keyOf(contentKey, times, seconds, camera, settings, labels, [site, conditions], teach && causes);
}
