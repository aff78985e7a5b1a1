export const data = { permalink: 'index.html' };

export function render() {
  return this.made('index.html');
}
