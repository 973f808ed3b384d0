import type { VideoSource } from './video-source.js';

export interface Size {
  width: number;
  height: number;
}

/** A way of bringing frames out of ffmpeg. */
export interface Outlet {
  /** Filters that each frame goes through. */
  filters: string;
  /** Of what comes out, 8 bits a channel, channels interleaved. */
  width: number;
  height: number;
  channels: 1 | 3;
}

/** Pixels to be looked at. Colours are those of BT.601, whose luma then is the one that is stored. */
export function inColour({ range }: VideoSource, { width, height }: Size): Outlet {
  const filters = `scale=in_range=${range}:out_range=full:in_color_matrix=bt601:sws_dither=none,format=rgb24`;
  return { filters, width, height, channels: 3 };
}

/** The luma plane as it is stored, range and all (of more than 8 bits the upper 8); where none is, colours. */
export function asStored(source: VideoSource, size: Size): Outlet {
  if (source.pixelFormat === 'rgb24') return inColour(source, size);
  // Equal ranges on both sides: the plane is copied.
  return { filters: 'scale=in_range=full:out_range=full:sws_dither=none,format=gray', ...size, channels: 1 };
}

/** Luma in 0..255, brought to a smaller size by area average in fixed point. */
export function reducedTo({ range }: VideoSource, { width, height }: Size): Outlet {
  const scaling = `w=${width}:h=${height}:flags=area+accurate_rnd:in_range=${range}:out_range=full:sws_dither=none`;
  return { filters: `scale=${scaling},format=gray`, width, height, channels: 1 };
}
