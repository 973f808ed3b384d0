import type { Server } from 'node:http';
import type { Socket } from 'node:net';

/**
 * Keeps a server's connections to so many. Where there are more, the one that has been silent longest is closed: first of
 * those that never asked for anything, then of those that were answered; whoever comes is refused only where all are being
 * answered. So others that connect and say nothing do not keep the page out.
 */
export function keepTo(most: number, server: Server): void {
  /** Both in the order in which they fell silent. */
  const neverAsked = new Set<Socket>();
  const answered = new Set<Socket>();
  const asking = new Map<Socket, number>();
  server.on('connection', (socket) => {
    if (neverAsked.size + answered.size + asking.size >= most) {
      const [silent] = [...neverAsked, ...answered];
      forget(silent ?? socket);
      (silent ?? socket).destroy();
      if (!silent) return;
    }
    neverAsked.add(socket);
    socket.once('close', () => forget(socket));
  });
  server.on('request', ({ socket }, response) => {
    neverAsked.delete(socket);
    answered.delete(socket);
    asking.set(socket, (asking.get(socket) ?? 0) + 1);
    response.once('close', () => {
      const left = (asking.get(socket) ?? 0) - 1;
      if (left > 0) asking.set(socket, left);
      else if (asking.delete(socket) && !socket.destroyed) answered.add(socket);
    });
  });
  const forget = (socket: Socket) => {
    neverAsked.delete(socket);
    answered.delete(socket);
    asking.delete(socket);
  };
}
