import { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { HTTPException } from 'hono/http-exception';
import { streamSSE } from 'hono/streaming';
import { z } from 'zod';
import { messageOf, PersonError } from '../../basics/problem.ts';
import { decisionSchema } from '../../corrections/corrections.ts';
import { SAMPLE_RATE } from '../../recording/recording.ts';
import type { CheckState, DecideAnswer } from '../check-api.ts';
import type { Session, Standing } from '../session.ts';
import type { FoundRecording } from '../sound/find-recording.ts';
import { wavOf } from '../sound/wav-slice.ts';
import { viewFiles } from '../view-files.ts';
import { guard, type Key } from './guard.ts';
import { meanwhileOf, stateOf } from './state.ts';
import type { Viewers } from './viewers.ts';

const MOST_BYTES = 1 << 20;
const LONGEST_SOUND_SECONDS = 300;

const decideSchema = z.strictObject({
  seen: z.int().nonnegative(),
  decisions: z.array(decisionSchema).min(1).max(1000),
});
const second = z.coerce.number().nonnegative();
const soundSchema = z.object({ from: second, to: second });

export interface Serving {
  readonly session: Session;
  readonly key: Key;
  readonly port: () => number;
  readonly sound: Promise<FoundRecording>;
  readonly viewers: Viewers;
  /** Ends the serving. */
  readonly stop: () => void;
}

const SHELL = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>critsheet: check</title>
<link rel="stylesheet" href="/style.css">
<link rel="icon" href="data:,">
</head>
<body><div id="page"></div><script type="module" src="/script.js"></script></body>
</html>
`;

/** Every address there is. None of them takes a path or a file's name: what is not named here does not exist. */
export function routes(serving: Serving): Hono {
  const { session, key, port, sound, viewers, stop } = serving;
  const app = new Hono();
  // A long recording is still being read when the page opens: until it is known to be silent, there is sound.
  let silent: string | null = null;
  void sound.then((found) => {
    if (!('why' in found)) return;
    silent = found.why;
    viewers.saved(session.now().revision, session.now().decisions.length);
  });
  const tell = (standing: Standing): CheckState => stateOf(standing, silent);
  app.use(guard(key, port));
  app.use(bodyLimit({ maxSize: MOST_BYTES }));
  app.onError((error, context) => {
    if (error instanceof HTTPException) return error.getResponse();
    const isKnown = error instanceof PersonError;
    const said = isKnown ? error.message : `This should not have happened: ${messageOf(error)}.`;
    return context.json({ error: said }, isKnown ? 409 : 500);
  });
  app.get('/', (context) => context.html(SHELL));
  app.get('/script.js', async (context) =>
    context.body((await viewFiles('check')).script, 200, {
      'Content-Type': 'text/javascript; charset=utf-8',
    }),
  );
  app.get('/style.css', async (context) =>
    context.body((await viewFiles('check')).style, 200, { 'Content-Type': 'text/css; charset=utf-8' }),
  );
  app.get('/state', async (context) => context.json(tell(await session.refresh())));
  app.post('/decisions', async (context) => {
    const asked = decideSchema.safeParse(await context.req.json().catch(() => null));
    if (!asked.success) return context.json({ error: 'These are no decisions that can be kept.' }, 400);
    const { decisions, seen } = asked.data;
    const before = await session.refresh();
    const standing = await session.decide(decisions);
    const own = new Set(decisions.map(({ id }) => id));
    // Each save raises the revision by one and adds at the end: what is newer than what was seen are the last ones.
    const others = before.revision > seen ? standing.decisions.slice(viewers.countAt(seen)) : [];
    viewers.saved(standing.revision, standing.decisions.length);
    const answer: DecideAnswer = {
      state: tell(standing),
      meanwhile: meanwhileOf(
        others.filter(({ id }) => !own.has(id)),
        decisions,
      ),
    };
    return context.json(answer);
  });
  app.get('/sound', async (context) => {
    const asked = soundSchema.safeParse(context.req.query());
    const found = await sound;
    if ('why' in found) return context.text(found.why, 404);
    if (!asked.success || asked.data.to - asked.data.from > LONGEST_SOUND_SECONDS) {
      return context.text('Ask from one second to another.', 400);
    }
    const { from, to } = asked.data;
    const samples = found.recording.samples.subarray(
      Math.round(from * SAMPLE_RATE),
      Math.round(to * SAMPLE_RATE),
    );
    return context.body(wavOf(samples), 200, { 'Content-Type': 'audio/wav' });
  });
  app.get('/events', (context) =>
    streamSSE(context, async (stream) => {
      const viewer = viewers.come((event, data) => stream.writeSSE({ event, data }));
      stream.onAbort(() => viewers.go(viewer));
      await viewer.gone;
    }),
  );
  app.post('/stop', (context) => {
    setImmediate(stop);
    return context.json({});
  });
  return app;
}
