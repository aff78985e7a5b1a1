export const data = { permalink: '404.html' };

export function render() {
  return this.made('404.html');
}
