import { useEffect } from 'preact/hooks';
import { resolveSettings } from '../../../../camera/settings.js';
import { scoreText } from '../../../../words/score-wording.js';
import { dialsText } from '../../../../words/wording.js';
import { placeByKey } from '../../parts/turning.js';
import { followFront, frontFound } from '../../state/front.js';
import { controls, replayed, turn } from '../../state/settings.js';
import { workspace } from '../../state/workspace.js';
import type { FrontPoint } from '../../worker/front.js';
import { FRONT_HEIGHT, FRONT_WIDTH, frontLayout, nearestTo, pointAt } from './front-layout.js';

/** Visits caught against false triggers: settings that no others beat on this clip; choosing one sets the dials. */
export function Front() {
  useEffect(followFront, []);
  const found = frontFound.value;
  return (
    <section class="cost" aria-labelledby="front-title">
      <h3 id="front-title">What more visits cost</h3>
      {found.kind === 'none' && <p class="note">Told once the clip is read.</p>}
      {found.kind === 'working' && <p class="note">Trying all settings.</p>}
      {found.kind === 'unlabelled' && <p class="note">Told once visits are marked.</p>}
      {found.kind === 'cannot' && <p class="note">{found.why}</p>}
      {found.kind === 'found' && <Figure points={found.points} searched={found.searched} />}
    </section>
  );
}

function Figure({ points, searched }: { points: readonly FrontPoint[]; searched: number }) {
  const camera = workspace.value?.camera;
  const told = points.flatMap((point) => {
    const at = pointAt(point.score);
    return at ? [{ ...point, ...at }] : [];
  });
  const now = replayed.value?.counts ? pointAt(replayed.value.score) : null;
  if (!camera || told.length === 0)
    return <p class="note">Nothing can be told: no visits, or no time without any.</p>;
  const most = [...told, ...(now ? [now] : [])].reduce((a, { nothing }) => Math.max(a, nothing), 0);
  const layout = frontLayout(most);
  const places = told.map(({ recall, nothing }) => ({ x: layout.x(nothing), y: layout.y(recall) }));
  const standing = told.findIndex((point) => sameDials(point.controls, controls.value));
  const here = now && { x: layout.x(now.nothing), y: layout.y(now.recall) };
  const place = standing >= 0 ? standing : here ? nearestTo(places, here) : 0;
  const { controls: dials, score } = told[place]!;
  const line = places.map(({ x, y }, i) => (i === 0 ? `M${x},${y}` : `H${x}V${y}`)).join('');
  const under = resolveSettings({ version: 1, controls: dials }, camera, 'dials');
  const words = `${scoreText(score, under, camera.burst.photos)}: ${dialsText(dials)}`;
  return (
    <>
      <div
        class="front-points"
        role="slider"
        tabIndex={0}
        aria-label="Settings that no others beat, from the fewest false triggers on"
        aria-valuemin={1}
        aria-valuemax={told.length}
        aria-valuenow={place + 1}
        aria-valuetext={standing >= 0 ? words : `none of them; the nearest: ${words}`}
        onKeyDown={(event) => {
          if (event.altKey || event.ctrlKey || event.metaKey) return;
          const to = placeByKey(event.key, place, told.length);
          if (to === null) return;
          event.preventDefault();
          turn(told[to]!.controls);
        }}
        onPointerDown={(event) => {
          if (event.button !== 0) return;
          const box = event.currentTarget.getBoundingClientRect();
          const x = ((event.clientX - box.left) / box.width) * FRONT_WIDTH;
          const y = ((event.clientY - box.top) / box.height) * FRONT_HEIGHT;
          turn(told[nearestTo(places, { x, y })]!.controls);
        }}
      >
        <svg viewBox={`0 0 ${FRONT_WIDTH} ${FRONT_HEIGHT}`} aria-hidden="true">
          {[0, 0.25, 0.5, 0.75, 1].map((share) => (
            <g key={share}>
              <path class="grid" d={`M${layout.x(0)},${layout.y(share)}H${FRONT_WIDTH - 14}`} />
              <text x={layout.x(0) - 6} y={layout.y(share)} dy="0.35em" text-anchor="end">
                {Math.round(100 * share)} %
              </text>
            </g>
          ))}
          {layout.ticks.map(({ at, text }) => (
            <text key={text} x={at} y={FRONT_HEIGHT - 24} text-anchor="middle">
              {text}
            </text>
          ))}
          <text class="axis" x={FRONT_WIDTH / 2} y={FRONT_HEIGHT - 5} text-anchor="middle">
            false triggers an hour →
          </text>
          <path class="step" d={line} />
          {places.map(({ x, y }, i) => (
            <circle key={`${x} ${y}`} cx={x} cy={y} r="4" class={isLucky(told[i]!) ? 'lucky' : undefined} />
          ))}
          {here && <path class="here" d={`M${here.x},${here.y - 9}l9,9l-9,9l-9,-9Z`} />}
        </svg>
      </div>
      <p class="note">
        Dots: visits caught by the settings, of {searched} tried on this clip, that no others beat
        {told.some(isLucky) && ' (hollow: some of them by luck, for which nothing is ever recommended)'}.
        Diamond: the dials as they stand. Choose a dot to set the dials. What will hold on other days is for
        Answer to say.
      </p>
    </>
  );
}

function isLucky({ score }: FrontPoint): boolean {
  return score.byLuck !== null && score.byLuck > 0;
}

function sameDials(a: Record<string, number>, b: Record<string, number>): boolean {
  return Object.entries(a).every(([name, position]) => b[name] === position);
}
