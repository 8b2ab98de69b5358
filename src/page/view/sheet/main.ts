import type { PageData } from '../../../sheet/writers/html/page-data.ts';
import { startExposure } from './exposure.ts';
import { startFilters } from './filters.ts';
import { startPlaying } from './playing.ts';
import { startTicks } from './ticks.ts';
import './sheet.css';

/** Written by this program into the page whose script this is. */
const data: PageData = JSON.parse(document.getElementById('data')?.textContent ?? '{}');

startExposure();
const filter = startFilters();
startTicks(data, filter);
startPlaying(data);
