import { createJiti } from 'jiti';

const jiti = createJiti(import.meta.url, { moduleCache: false });

export default async function (eleventyConfig) {
  const { default: kettleside } = await jiti.import('./lib/site/plugin.ts');
  eleventyConfig.addPlugin(kettleside, { contentDir: process.env.KETTLESIDE_CONTENT ?? 'content' });
}

export const config = {
  dir: { input: 'templates/pages', includes: '../layouts', data: '../data', output: '_site' },
  templateFormats: ['11ty.js'],
};
