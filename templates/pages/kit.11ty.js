export const data = { permalink: 'kit/index.html' };

export function render() {
  return this.made('kit/index.html');
}
