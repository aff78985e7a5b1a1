export const data = { permalink: 'about/index.html' };

export function render() {
  return this.made('about/index.html');
}
