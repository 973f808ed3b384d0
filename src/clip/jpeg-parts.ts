const LENGTH = /^Content-length: (\d+)\r\n\r\n/im;
/** A part's heads take some sixty bytes. */
const MOST_HEAD = 1024;

/** Cuts what ffmpeg's mpjpeg muxer writes (multipart, RFC 2046, each part with its length) into its JPEGs. */
export class JpegParts {
  private rest: Buffer = Buffer.alloc(0);
  private pieces: Buffer[] = [];
  private have = 0;
  /** Bytes of the picture that is being read; null between pictures. */
  private length: number | null = null;

  /** @returns the pictures that are whole now */
  add(piece: Buffer): Uint8Array[] {
    const whole: Uint8Array[] = [];
    let at = piece;
    while (at.length > 0) {
      if (this.length === null) {
        const head = Buffer.concat([this.rest, at]);
        const found = LENGTH.exec(head.subarray(0, MOST_HEAD).toString('latin1'));
        if (!found) {
          if (head.length > MOST_HEAD) throw new Error('ffmpeg wrote no picture');
          this.rest = head;
          return whole;
        }
        this.rest = Buffer.alloc(0);
        this.length = Number(found[1]);
        at = head.subarray(found.index + found[0].length);
      }
      const part = at.subarray(0, this.length - this.have);
      this.pieces.push(part);
      this.have += part.length;
      at = at.subarray(part.length);
      if (this.have < this.length) return whole;
      whole.push(Buffer.concat(this.pieces));
      this.pieces = [];
      this.have = 0;
      this.length = null;
    }
    return whole;
  }
}
