export const data = { permalink: 'data/index.html' };

export function render() {
  return this.made('data/index.html');
}
