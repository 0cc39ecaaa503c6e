import { existsSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { join } from 'node:path';
import sirv from 'sirv';

/**
 * What every answer carries. Scripts, workers and data come from the server itself only, none inline
 * and none made of text; WebAssembly may be compiled, which the optics does with bytes of its own (src/optics/simd);
 * styles may be inline (the printed pages carry theirs); no other site may frame the app.
 */
export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': [
    "default-src 'none'",
    "script-src 'self' 'wasm-unsafe-eval'",
    "worker-src 'self'",
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "manifest-src 'self'",
    "frame-src 'self' blob:",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'self'",
  ].join('; '),
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'SAMEORIGIN',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), geolocation=(), microphone=()',
};

/**
 * A server of the files that lie in `folder` when it is made, and of nothing else. Only GET and HEAD; what
 * is not there, or no longer, is answered with 404 and a sentence. Files are given whole: a range may be ignored (RFC 9110,
 * section 14.2), and one that ends before it begins would end the program.
 */
export function staticServer(folder: string): Server {
  const serveFile = sirv(folder, {
    etag: true,
    setHeaders: (response, path) => {
      if (!existsSync(join(folder, path === '/' ? 'index.html' : path))) throw new Error(`${path} is gone`);
      // Files under /assets/ carry a hash of their content in their name.
      const lasting = path.startsWith('/assets/');
      response.setHeader('Cache-Control', lasting ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  return createServer((request, response) => {
    for (const [name, value] of Object.entries(SECURITY_HEADERS)) response.setHeader(name, value);
    const refuse = (status: number, sentence: string) => {
      response.statusCode = status;
      response.setHeader('Content-Type', 'text/plain; charset=utf-8');
      response.end(request.method === 'HEAD' ? undefined : `${sentence}\n`);
    };
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.setHeader('Allow', 'GET, HEAD');
      refuse(405, `This server answers GET and HEAD, not ${request.method}.`);
      return;
    }
    const refuseLost = () => refuse(404, 'There is no such page here.');
    delete request.headers.range;
    try {
      serveFile(request, response, refuseLost);
    } catch {
      refuseLost();
    }
  });
}
