import { useEffect, useRef } from 'preact/hooks';
import type { Camera } from '../../../../camera/description.js';
import { addressOf } from '../../link/addresses.js';
import { clip, frame } from '../../state/clip.js';

const WIDTH = 240;
const HEIGHT = 135;

/** The frame that is shown, as large and as blurred as the camera compares it; a drawn bird where no clip is open. */
export function AsItSees({ width, height, smooth }: Pick<Camera['analysis'], 'width' | 'height' | 'smooth'>) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const open = clip.value;
  const shown = open && `${addressOf(open.id)}/frames/${frame.value}`;
  useEffect(() => {
    const to = canvas.current?.getContext('2d');
    if (!to) return;
    // No more than fit: the picture tells how coarse it is, not each of eight thousand columns.
    const [w, h] = [Math.min(width, 960), Math.min(height, 960)];
    const draw = (picture: CanvasImageSource) => {
      to.canvas.width = w;
      to.canvas.height = h;
      to.filter = smooth > 0 ? `grayscale(1) blur(${smooth / 2}px)` : 'grayscale(1)';
      to.drawImage(picture, 0, 0, w, h);
    };
    if (!shown) {
      draw(bird());
      return;
    }
    const image = new Image();
    image.onload = () => draw(image);
    image.src = shown;
    return () => {
      image.onload = null;
    };
  }, [shown, width, height, smooth]);
  return (
    <canvas ref={canvas} class="seen" role="img" aria-label={`as it looks at ${width} by ${height} pixels`} />
  );
}

function bird(): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = 640;
  canvas.height = 480;
  const to = canvas.getContext('2d')!;
  to.fillStyle = '#b9b49f';
  to.fillRect(0, 0, 640, 480);
  to.fillStyle = '#6f6a55';
  to.fillRect(0, 360, 640, 120);
  to.fillStyle = '#4a3a2a';
  to.beginPath();
  to.ellipse(330, 320, 46, 32, -0.3, 0, 7);
  to.ellipse(368, 288, 20, 18, 0, 0, 7);
  to.fill();
  to.fillRect(286, 268, 10, 40);
  return canvas;
}

function Drawing({ words, children }: { words: string; children: preact.ComponentChildren }) {
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={words}>
      {children}
    </svg>
  );
}

/** When it looks, within two seconds of a bird that hops by. */
export function Looking({ rate }: { rate: number }) {
  const seconds = 2;
  const looks = Math.min(120, Math.max(1, Math.floor(rate * seconds)));
  const at = (i: number) => 15 + ((i + 0.5) / Math.max(looks, 1)) * 210;
  return (
    <Drawing words={`in two seconds it looks ${Math.floor(rate * seconds)} times`}>
      <path d="M15 100h210" stroke="var(--faint)" />
      <path d="M60 84q20-40 40 0q20-40 40 0" fill="none" stroke="var(--ink)" stroke-width="2" />
      <text x="64" y="36" fill="var(--ink)">
        a bird hops by
      </text>
      {Array.from({ length: looks }, (_, i) => (
        <path key={at(i)} d={`M${at(i)} 92v16`} stroke="var(--caught)" stroke-width={looks > 60 ? 1 : 3} />
      ))}
      <text x="15" y="126" fill="var(--faint)">
        2 seconds
      </text>
    </Drawing>
  );
}

/** Which pictures are held against one another. */
export function Comparing({ kind, lag }: { kind: Camera['reference']['kind']; lag: number }) {
  const back = Math.min(lag, 4);
  return (
    <Drawing
      words={
        kind === 'previous'
          ? `the picture now against that ${lag} before`
          : 'the picture now against an average'
      }
    >
      {[0, 1, 2, 3, 4].map((i) => (
        <rect
          key={i}
          x={12 + i * 44}
          y={40}
          width={38}
          height={30}
          fill={kind === 'average' && i < 4 ? 'var(--rule)' : 'var(--card)'}
          stroke={i === 4 || (kind === 'previous' && i === 4 - back) ? 'var(--ink)' : 'var(--rule)'}
          stroke-width={i === 4 || (kind === 'previous' && i === 4 - back) ? 3 : 1.5}
          opacity={kind === 'average' && i < 4 ? 0.35 + i * 0.2 : 1}
        />
      ))}
      <path
        d={
          kind === 'previous'
            ? `M207 76q0 24-${(back * 44) / 2} 24t-${(back * 44) / 2}-24`
            : 'M207 76q0 24-66 24t-110-24'
        }
        fill="none"
        stroke="var(--caught)"
        stroke-width="2.5"
      />
      <text x="196" y="32" fill="var(--ink)">
        now
      </text>
      <text x="12" y="126" fill="var(--faint)">
        {kind === 'previous'
          ? lag === 1
            ? 'with the one before'
            : `with the one ${lag} back`
          : 'with all before, fading'}
      </text>
    </Drawing>
  );
}

/** What it compares with while it takes photos. */
export function WhileBusy({ kind }: { kind: Camera['reference']['whileBusy'] }) {
  const line = {
    continues: 'M15 60h35q20 0 30-20t30-10t30 15t85 5',
    frozen: 'M15 60h55h90q5 0 8-10t57 0',
    restarts: 'M15 60h55M160 45h65',
  }[kind];
  return (
    <Drawing words={{ continues: 'it goes on', frozen: 'it stands still', restarts: 'it starts anew' }[kind]}>
      <rect x="70" y="20" width="90" height="76" fill="var(--rule)" opacity="0.6" />
      <text x="76" y="112" fill="var(--faint)">
        taking photos
      </text>
      <path d={line} fill="none" stroke="var(--caught)" stroke-width="3" />
    </Drawing>
  );
}

/** Patches that changed: which of them count. */
export function Patches({ kind }: { kind: Camera['area'] }) {
  const patches = [
    [60, 50, 26, 18],
    [120, 34, 8, 6],
    [150, 82, 9, 7],
    [186, 48, 7, 9],
    [96, 100, 8, 6],
  ] as const;
  return (
    <Drawing words={kind === 'region' ? 'only the largest patch counts' : 'all patches count together'}>
      <rect x="14" y="12" width="212" height="108" fill="var(--card)" stroke="var(--rule)" />
      {patches.map(([x, y, rx, ry], i) => (
        <ellipse
          key={x}
          cx={x}
          cy={y}
          rx={rx}
          ry={ry}
          fill={kind === 'changed' || i === 0 ? 'var(--caught)' : 'none'}
          stroke="var(--caught)"
          stroke-width="1.5"
        />
      ))}
    </Drawing>
  );
}

/** When photos are taken after it fired. */
export function Burst({ lag, photos, interval }: { lag: number; photos: number; interval: number }) {
  const shown = Math.min(photos, 12);
  const span = Math.max(lag + (shown - 1) * interval, 1);
  const at = (seconds: number) => 24 + (seconds / span) * 188;
  return (
    <Drawing words={`first photo ${lag} seconds after it fired, ${photos} in all`}>
      <path d="M15 80h212" stroke="var(--faint)" />
      <path d="M24 96l-8 14h16z" fill="none" stroke="var(--nothing)" stroke-width="2" />
      <text x="15" y="128" fill="var(--faint)">
        it fires
      </text>
      {Array.from({ length: shown }, (_, i) => {
        const x = at(lag + i * interval);
        return (
          <rect
            key={x}
            x={x - 7}
            y="52"
            width="14"
            height="20"
            fill="var(--card)"
            stroke="var(--ink)"
            stroke-width="2"
          />
        );
      })}
      <text x="90" y="34" fill="var(--ink)">
        {photos === 1 ? '1 photo' : `${photos} photos`}
      </text>
    </Drawing>
  );
}
