/** The part of the code generator that the site uses; the package brings no types of its own. */
declare module 'qrcode' {
  export interface QrSymbol {
    readonly modules: { readonly size: number; get(row: number, column: number): number | boolean };
  }
  const qrcode: {
    create(text: string, options: { readonly errorCorrectionLevel: 'L' | 'M' | 'Q' | 'H' }): QrSymbol;
  };
  export default qrcode;
}
