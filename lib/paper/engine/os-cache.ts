import { posix, win32 } from 'node:path';

/** The folder for what this program can make again, by the custom of the system (XDG on Linux). */
export function osCacheFolder(
  env: Readonly<Record<string, string | undefined>>,
  platform: NodeJS.Platform,
  home: string,
): string {
  if (platform === 'win32') {
    return win32.join(env.LOCALAPPDATA ?? win32.join(home, 'AppData', 'Local'), 'kettleside', 'cache');
  }
  if (platform === 'darwin') return posix.join(home, 'Library', 'Caches', 'kettleside');
  const xdg = env.XDG_CACHE_HOME;
  return posix.join(xdg?.startsWith('/') ? xdg : posix.join(home, '.cache'), 'kettleside');
}
