// Asks the household's server. Whether there is signal is found out by asking: what the
// phone believes of its connection (navigator.onLine) is no answer.

/** How long an answer may take before there counts as none, in milliseconds. */
const ANSWER_MS = 15_000;

/** Nothing answered, or nothing of ours: no signal, no server, or a page of the network in between. */
export class NoSignal extends Error {}

/** The server has answered that it does not do this. */
export class ApiError extends Error {
  /**
   * @param {number} status of HTTP
   * @param {{code: string, message: string, field: string}} error as internal/fault has it
   * @param {number} [retryAfterS] when to try again, if the server said so
   * @param {{epoch?: string, now?: number}} [mark] what answers of the sync have beside it
   */
  constructor(status, error, retryAfterS, mark = {}) {
    super(error.message);
    this.status = status;
    this.code = error.code;
    this.field = error.field;
    this.retryAfterS = retryAfterS;
    this.epoch = mark.epoch;
    this.now = mark.now;
  }
}

/**
 * One request. body is sent as JSON, or as it is where it is a Blob.
 * @param {'GET' | 'POST' | 'PUT' | 'HEAD'} method
 * @param {string} path such as /api/me
 * @param {object} [body]
 * @param {{timeoutMs?: number}} [options]
 * @returns {Promise<any>} the answer, undefined where there is none; rejects with NoSignal or ApiError
 */
export async function api(method, path, body, options) {
  const raw = body instanceof Blob;
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), options?.timeoutMs ?? ANSWER_MS);
  let response;
  let text;
  try {
    response = await fetch(path, {
      method,
      credentials: 'same-origin',
      cache: 'no-store',
      redirect: 'error',
      signal: stop.signal,
      ...(body === undefined ? {} : { headers: { 'Content-Type': raw ? body.type : 'application/json' }, body: raw ? body : JSON.stringify(body) }),
    });
    text = await response.text();
  } catch (error) {
    throw new NoSignal(String(error));
  } finally {
    clearTimeout(late);
  }
  const value = parsed(text);
  if (response.ok && (text === '' || value !== undefined)) return value;
  const error = value?.error;
  if (!error?.code) throw new NoSignal(`${response.status} from something else`);
  const wait = Number(response.headers.get('Retry-After'));
  throw new ApiError(response.status, error, Number.isFinite(wait) && wait > 0 ? wait : undefined, value);
}

/** @param {string} text */
function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
