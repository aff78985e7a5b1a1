/**
 * Advisories about packages of the lock file, of any version, as they were on 28 November 2026, for `npm audit` cannot be
 * asked where there is only a mirror. An advisory whose versions another of the package includes is left out. The threads reach to 22 September 2026.
 *
 * A line is: package | advisory | versions | what is wrong | where that was read. Versions are one range to a release line,
 * `from <below`, or `<below` alone where all before are affected. Threads are on github.com.
 */
const TABLE = `
@babel/core | GHSA-4x5r-pxfx-6jf8 | <7.29.6 | reads any source map that a comment in hostile code names | podman-desktop/podman-desktop/pull/17963
@babel/helpers | GHSA-968p-4wvh-cqc8 | <7.26.10 | makes code with a slow regular expression | MrGVSV/obsidian-github-embeds/pull/36
@babel/runtime | GHSA-968p-4wvh-cqc8 | <7.26.10 | makes code with a slow regular expression | MrGVSV/obsidian-github-embeds/pull/36
@babel/traverse | GHSA-67hx-6x53-jw92 | <7.23.2 | runs hostile code while compiling it | MrGVSV/obsidian-github-embeds/pull/36
acorn | GHSA-6chw-6frg-f759 | 5.5.0 <5.7.4, 6.0.0 <6.4.1, 7.0.0 <7.1.1 | never ends on a broken regular expression | djfdyuruiry/improved-yarn-audit/issues/5
ajv | GHSA-2g4f-4pwh-qvx6 | <6.14.0, 7.0.0 <8.18.0 | slow on patterns that come from the data | nextcloud/social/pull/1946
ansi-regex | GHSA-93q8-gq69-wqmw | 3.0.0 <3.0.1, 4.0.0 <4.1.1, 5.0.0 <5.0.1, 6.0.0 <6.0.1 | slow regular expression | soldair/node-qrcode/issues/334
ansi-regex | GHSA-jvhh-2m83-6w29 | 6.2.1 <6.2.2 | a stolen release with hostile code | chalk/chalk/issues/656
baseline-browser-mapping | GHSA-w5vr-8v7q-w6rv | 2.0.0 <2.11.0 | ends the program on wrong options | nocoo/pew/issues/599
brace-expansion | GHSA-3jxr-9vmj-r5cp | <1.1.16, 2.0.0 <2.1.2, 3.0.0 <5.0.7 | exponential time on groups that expand to nothing | quay/quay/pull/6657
brace-expansion | GHSA-mh99-v99m-4gvg | <1.1.17, 2.0.0 <2.1.3, 3.0.0 <3.0.3, 4.0.0 <5.0.8 | takes all memory on long expansions | github/advisory-database/pull/8916
brace-expansion | GHSA-rgw5-rvv9-x895 | <1.1.18, 2.0.0 <2.1.4, 4.0.0 <5.0.9 | takes all memory on the way to an expansion | KadoProG/react-calendar-app/pull/127 facebook/astryx/pull/5106
browserslist | CVE-2026-73088 | <4.28.7 | a hostile query changes all objects | kiali/kiali/pull/10194
color-convert | GHSA-ch7m-m9rf-8gvv | 3.1.1 <3.1.2 | a stolen release with hostile code | github/advisory-database/issues/6099
color-name | GHSA-m99c-cfww-cxqx | 2.0.1 <2.0.2 | a stolen release with hostile code | github/advisory-database/issues/6099
debug | GHSA-gxpj-cx7g-858c | <2.6.9, 3.0.0 <3.1.0, 3.2.0 <3.2.7, 4.0.0 <4.3.1 | slow regular expression | from memory
debug | GHSA-8mgj-vmr8-frr6 | 4.4.2 <4.4.3 | a stolen release with hostile code | github/advisory-database/issues/6099
es5-ext | GHSA-4gmj-3p3h-gm8h | 0.10.0 <0.10.63 | slow on functions with very long names | medikoo/cli-color/issues/43
fast-uri | CVE-2026-16221 | 2.3.1 <2.4.3, 3.0.0 <3.1.4, 4.0.0 <4.1.1 | does not end a host at a backslash | 4aykas/tebin-style/issues/42
fast-uri | CVE-2026-84394 | 2.4.5 <2.4.6, 3.1.6 <3.1.7, 4.1.3 <4.1.4 | reads one host where others read another | ThinkInAIXYZ/deepchat/pull/2303
fast-uri | GHSA-hrr3-gc8f-f4qj | <3.1.8 | leaves encoded capitals in a host | mertkayacs/reevesagents/pull/96
follow-redirects | GHSA-r4q5-vmmm-2653 | <1.16.0 | sends headers of one's own with secrets on to another host | redhat-developer/rhdh/pull/4734
fresh | GHSA-9qj9-36jm-prpv | <0.5.2 | slow regular expression | from memory
glob | GHSA-5j98-mcp5-4vw2 | 10.2.0 <10.5.0, 11.0.0 <11.1.0 | its command runs names of files in a shell | vybestack/llxprt-code/pull/610
js-yaml | GHSA-2883-xcg3-v3hh | <3.15.2, 4.0.0 <4.3.2 | merges of nothing are not counted, and take time | mckinsey/agents-at-scale-ark/pull/3313
js-yaml | GHSA-pm4m-ph32-ghv5 | 5.0.0 <5.2.2 | exponential time on nested lists in one line | podman-desktop/podman-desktop-catalog/pull/1369
json5 | GHSA-9c47-m6qq-7p4h | <1.0.2, 2.0.0 <2.2.2 | a key changes the prototype of what is read | from memory
kind-of | GHSA-6c8f-qphg-qjgp | 6.0.0 <6.0.3 | believes what an object says of its own kind | from memory
linkify-it | CVE-2026-59887 | <5.0.2 | square time on addresses of mail | tizuio/TizuMark-Markdown-Editor/pull/15
liquidjs | GHSA-4r6h-5v86-94p3 | <10.27.2 | joining does not count the memory it takes | Intense-Visions/harness-engineering/issues/2083
luxon | GHSA-3xq5-wjfh-ppjc | 1.0.0 <1.28.1, 2.0.0 <2.5.2, 3.0.0 <3.2.1 | square time on dates of mails | github/advisory-database/pull/1586 rolling-scopes/rsschool-app/pull/2793 harrisiirak/cron-parser/issues/301
markdown-it | GHSA-6v5v-wf23-fmfq | <14.2.0 | square time on quotes | nextcloud/text/pull/8739
mathjs | GHSA-x2fc-mxcx-w4mf | <7.5.1 | a hostile setting changes all objects | from memory
mathjs | GHSA-jvff-x2qm-6286 | 13.1.0 <15.2.0 | a formula changes what it should not | github/advisory-database/pull/7364
mime | GHSA-wrvr-8mpx-r7pp | <1.4.1, 2.0.0 <2.0.3 | slow regular expression | from memory
minimatch | CVE-2026-27904 | <3.1.4, 4.0.0 <4.2.5, 5.0.0 <5.1.8, 6.0.0 <6.2.2, 7.0.0 <7.4.8, 8.0.0 <8.0.6, 9.0.0 <9.0.7, 10.0.0 <10.2.3 | slow regular expression for nested patterns | CatChen/eslint-suggestion-action/pull/6211
minimist | GHSA-xvch-5gv4-984h | <0.2.4, 1.0.0 <1.2.6 | an argument changes all objects, by another way | from memory
ms | GHSA-w9mr-4mfr-499f | <2.0.0 | slow regular expression | from memory
nanoid | GHSA-mwcw-c2x4-8c55 | <3.3.8, 4.0.0 <5.0.9 | names can be foretold after a size with decimals | postcss/postcss/issues/2015
nanoid | GHSA-2v37-7h3g-55p8 | <3.3.18 | never ends on a size of zero | Valian/live_vue/pull/154
nunjucks | GHSA-x77j-w7wf-fjmw | <3.2.4 | leaves a backslash unescaped | from memory
pdfjs-dist | GHSA-hq66-cqwq-w95j | <6.2.108 | a script of a hostile PDF runs outside of its box | KeyserDSoze/GhostWriterFramework/issues/60
picomatch | GHSA-c2c7-rcm5-vvqj | <2.3.2, 3.0.0 <3.0.2, 4.0.0 <4.0.4 | slow regular expression for nested patterns | mheap/pin-github-action/pull/222
playwright-core | GHSA-7mvr-c777-76hp | <1.55.1 | fetches browsers without looking whom from; it names playwright, whose scripts these are | SigNoz/signoz/pull/9664
postcss | GHSA-fxqj-rqcc-2cmp | <8.5.23 | reads any source map that a comment names where no file is given | podman-desktop/extension-podman-quadlet/pull/1722
semver | GHSA-c2qf-rxjj-qqgw | <5.7.2, 6.0.0 <6.3.1, 7.0.0 <7.5.2 | slow on ranges with many blanks | pass-culture/pass-culture-app-native/pull/7341
send | GHSA-m6fv-jmcg-4jfg | <0.19.0 | a redirect can carry a script | 11ty/dev-server/issues/91
smol-toml | GHSA-7w5x-hrqm-74c2 | <1.7.1 | never ends on a comment at the end | podman-desktop/podman-desktop/pull/19228
ssri | GHSA-vx3p-948g-6vhq | 5.2.2 <6.0.2, 7.0.0 <7.1.1, 8.0.0 <8.0.1 | slow regular expression | from memory
tar-fs | GHSA-vj76-c3g6-qr5v | <1.16.6, 2.0.0 <2.1.4, 3.0.0 <3.1.1 | an archive writes to folders whose names begin alike | github/advisory-database/pull/6208
typed-function | CVE-2017-1001004 | <0.10.6 | a name runs code | from memory
vite | GHSA-fx2h-pf6j-xcff | <6.4.3, 7.0.0 <7.3.5, 8.0.0 <8.0.16 | its server gives out files by their other names on Windows | RouteVN/routevn-creator-client/pull/1057
vitest | GHSA-5xrq-8626-4rwp | <3.2.6, 4.0.0 <4.1.0 | its server gives out files and runs code | google-gemini/gemini-cli/pull/27857
ws | GHSA-96hv-2xvq-fx4p | <5.2.5, 6.0.0 <6.2.4, 7.0.0 <7.5.11, 8.0.0 <8.21.0 | small pieces take all memory | spierenburg/Security-Detections-MCP/issues/50
ws | CVE-2026-62389 | 8.0.0 <8.21.1 | pieces of a message that never ends take all memory | latitude-dev/latitude-llm/pull/4095
y18n | GHSA-c4w7-xm78-47vh | <3.2.2, 4.0.0 <4.0.1, 5.0.0 <5.0.5 | a locale changes all objects | from memory
yaml | GHSA-48c2-rrv3-qjmp | 1.0.0 <1.10.3, 2.0.0 <2.8.3 | too deep nesting fills the stack | twentyhq/twenty/pull/21817
yargs-parser | GHSA-p9pc-299p-vxgp | <13.1.2, 14.0.0 <15.0.1, 16.0.0 <18.1.2 | an argument changes all objects | soldair/node-qrcode/issues/230
zod | GHSA-m95q-7qp3-xv42 | <3.22.3 | slow on addresses of mail | colinhacks/zod/issues/2836
`;

export interface Range {
  /** First version that is affected; without it, all before `below` are. */
  readonly from: string | null;
  /** First version that is not. */
  readonly below: string;
}

export interface Advisory {
  readonly package: string;
  readonly id: string;
  readonly affected: readonly Range[];
  readonly what: string;
  readonly source: string;
}

export const advisories: readonly Advisory[] = TABLE.trim()
  .split('\n')
  .map((line) => {
    const [name, id, affected, what, source, ...more] = line.split(' | ');
    if (name === undefined || id === undefined || affected === undefined || what === undefined) {
      throw new Error(`Not all is said: ${line}`);
    }
    if (source === undefined || more.length > 0) throw new Error(`Not five parts: ${line}`);
    return {
      package: name,
      id,
      affected: affected.split(', ').map(readRange),
      what,
      source: addresses(source),
    };
  });

function readRange(text: string): Range {
  const [, from = null, below] = /^(?:(\S+) )?<(\S+)$/.exec(text) ?? [];
  if (below === undefined) throw new Error(`Not a range of versions: ${text}`);
  return { from, below };
}

function addresses(source: string): string {
  return source === 'from memory' ? source : source.replaceAll(/\S+/g, 'https://github.com/$&');
}

/** A finding that stays, for what is wrong cannot be reached here. It holds for this version only. */
export interface Answer {
  readonly package: string;
  readonly version: string;
  readonly id: string;
  readonly why: string;
}

export const answered: readonly Answer[] = [
  {
    package: 'pdfjs-dist',
    version: '5.6.205',
    id: 'GHSA-hq66-cqwq-w95j',
    why: 'Only tests have it. They read PDFs that the program has just printed, with the reader alone: scripts run in the viewer, which is never loaded. The mended 6.2.108 needs Node 22.13.',
  },
];

/** Whether a version is before another; one that is not released yet is before the one that is. */
export function isBefore(version: string, other: string): boolean {
  const [left, right] = [parts(version), parts(other)];
  const at = left.findIndex((part, i) => part !== right[i]);
  return at >= 0 && left[at]! < right[at]!;
}

/** Major, minor and patch, and 0 or 1 for whether it is released. */
function parts(version: string): readonly number[] {
  const [, major, minor, patch, pre] = /^(\d+)\.(\d+)\.(\d+)(-[\w.-]+)?(?:\+[\w.-]+)?$/.exec(version) ?? [];
  if (patch === undefined) throw new Error(`Not a version: ${version}`);
  return [Number(major), Number(minor), Number(patch), pre === undefined ? 1 : 0];
}

export interface Lock {
  readonly packages: Readonly<
    Record<string, { readonly version?: string; readonly name?: string; readonly dev?: boolean }>
  >;
}

export interface Installed {
  readonly package: string;
  readonly version: string;
  /** True for what only tests have. */
  readonly dev: boolean;
}

/** Every package of a lock file by its own name, wherever it lies. */
export const installed = ({ packages }: Lock): readonly Installed[] =>
  Object.entries(packages)
    .filter(([path]) => path !== '')
    .map(([path, { version = '', name, dev = false }]) => ({
      package: name ?? path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length),
      version,
      dev,
    }));

export interface Finding extends Installed {
  readonly id: string;
}

/** What the advisories say of a lock file, answered or not. */
export const findings = (lock: Lock): readonly Finding[] =>
  installed(lock).flatMap((one) =>
    advisories
      .filter(
        (advisory) =>
          advisory.package === one.package && advisory.affected.some((range) => within(one, range)),
      )
      .map(({ id }) => ({ ...one, id })),
  );

const within = ({ version }: Installed, { from, below }: Range): boolean =>
  isBefore(version, below) && (from === null || !isBefore(version, from));
