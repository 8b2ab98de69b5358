import { describe, expect, it } from 'vitest';
import { escapeMarkdown } from '../../../src/sheet/writers/markdown/escape.ts';

describe('escapeMarkdown', () => {
  it.each([
    ['plain words, "quotes" and it\'s - fine (really) at 50 % & more!', null],
    ['sq20_sh040', null],
    ['a < b', 'a \\< b'],
    ['<script>alert(1)</script>', '\\<script>alert(1)\\</script>'],
    ['*very* late', '\\*very\\* late'],
    ['_very_ late', '\\_very\\_ late'],
    ['[here](javascript:x)', '\\[here\\](javascript:x)'],
    ['![x](y)', '!\\[x\\](y)'],
    ['a `tick`', 'a \\`tick\\`'],
    ['back\\slash', 'back\\\\slash'],
    ['&lt; and &#39; but R & D', '\\&lt; and \\&#39; but R & D'],
    ['~~gone~~', '\\~\\~gone\\~\\~'],
    ['# heading', '\\# heading'],
    ['> quoted', '\\> quoted'],
    ['- item', '\\- item'],
    ['+ item', '\\+ item'],
    ['12. frames', '12\\. frames'],
    ['12 frames', null],
    ['=== rule', '\\=== rule'],
    ['two\nlines\r\n\r\n  and more ', 'two lines and more'],
  ])('%s', (text, escaped) => expect(escapeMarkdown(text)).toBe(escaped ?? text));
});
