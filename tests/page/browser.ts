import chromiumFiles from '@sparticuz/chromium';
import { type Browser, chromium } from 'playwright-core';

/**
 * A headless browser that comes from the registry. Only what it needs to run without a sandbox is switched on: the rules
 * of the web about origins and policies stay in force, because they are under test.
 */
export async function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: await chromiumFiles.executablePath(),
    args: ['--no-sandbox', '--no-zygote', '--disable-gpu', '--autoplay-policy=no-user-gesture-required'],
  });
}
