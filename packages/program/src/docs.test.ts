import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parsePost } from './parse-post.js';
import { postSchema } from './post-definition.js';

const text = readFileSync(new URL('../../../docs/post-definition.md', import.meta.url), 'utf8');

describe('docs/post-definition.md', () => {
  it('has an example that is a working definition', () => {
    const json = /```json\n([\s\S]*?)```/.exec(text)![1]!;
    expect(parsePost(JSON.parse(json)).problems).toEqual([]);
  });

  it('speaks of every field', () => {
    const prose = text.replace(/```[\s\S]*?```/g, '');
    const { shape } = postSchema;
    const names = Object.keys(shape);
    for (const group of ['words', 'letters', 'numbers', 'arcs', 'repeat', 'functions', 'comments'] as const) {
      names.push(...Object.keys(shape[group].shape));
    }
    expect(names.length).toBeGreaterThan(60);
    const missing = names.filter((name) => !new RegExp(`\`(\\w+\\.|\\.)?${name}[\`.]`).test(prose));
    expect(missing).toEqual([]);
  });
});
