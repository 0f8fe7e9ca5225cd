// Bundles src/main.js and what it uses of three into one classic script, because pages opened from a folder can import no modules.
// Run by hand after a change (see README.md); the built file is committed, so that nobody else needs node.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = dirname(fileURLToPath(import.meta.url));
const three = join(here, 'node_modules', 'three');
const page = join(here, '..', 'sheetgen', 'sets', 'packs', 'page');
const { version } = JSON.parse(readFileSync(join(three, 'package.json'), 'utf8'));
const licence = readFileSync(join(three, 'LICENSE'), 'utf8').trim();

// Of the sources: a test tells by it whether the built file is theirs.
const digest = createHash('sha256');
for (const name of ['build.mjs', 'package-lock.json', ...readdirSync(join(here, 'src')).sort().map((file) => `src/${file}`)]) {
  digest.update(`${name}\n`).update(readFileSync(join(here, name)));
}

// three's own materials are half of its text and none of ours: our shaders are written out whole.
const withoutItsShaders = {
  name: 'without its shaders',
  setup({ onLoad }) {
    onLoad({ filter: /shaders[\\/](ShaderChunk|ShaderLib)[\\/].*\.glsl\.js$/ }, ({ path }) => ({
      contents: /ShaderLib[\\/]/.test(path) ? "export const vertex = '', fragment = '';" : "export default '';",
    }));
  },
};

const banner = [
  '/*! Built from viewer/src by viewer/build.mjs: change it there.',
  `Sources: ${digest.digest('hex')}`,
  `Contains parts of three ${version} under this licence (three-licence.txt beside this file):`,
  '', licence, '*/',
].join('\n');

await build({
  entryPoints: [join(here, 'src', 'main.js')],
  outfile: join(page, 'viewer.js'),
  bundle: true,
  format: 'iife',
  target: 'es2020',
  charset: 'ascii',
  minify: true,
  legalComments: 'none',
  banner: { js: banner },
  alias: { three: join(three, 'src', 'Three.js') },
  plugins: [withoutItsShaders],
  logLevel: 'info',
});
writeFileSync(join(page, 'three-licence.txt'), `three ${version}\n\n${licence}\n`);
