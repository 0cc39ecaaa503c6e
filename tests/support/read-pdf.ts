import { getDocumentProxy } from 'unpdf';

/** A piece of text and where its line begins, in points from the sheet's lower left corner. */
export interface PdfText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/** A sheet of a PDF: its size in points, its texts in the order in which they were painted. */
export interface PdfSheet {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly PdfText[];
  /** All texts on end, without any space. */
  readonly letters: string;
}

/** Reads a PDF's sheets with a library that has nothing to do with the browser that made it. */
export async function readPdf(bytes: Uint8Array): Promise<PdfSheet[]> {
  const document = await getDocumentProxy(new Uint8Array(bytes));
  const sheets: PdfSheet[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const { width, height } = page.getViewport({ scale: 1 });
    const { items } = await page.getTextContent();
    const texts = items.flatMap((item): PdfText[] =>
      'str' in item && item.str.trim() !== ''
        ? [{ text: item.str, x: item.transform[4], y: item.transform[5], width: item.width }]
        : [],
    );
    sheets.push({ width, height, texts, letters: lettersOf(texts.map(({ text }) => text).join('')) });
  }
  await document.destroy();
  return sheets;
}

/** A text without its spaces, ligatures taken apart. */
export function lettersOf(text: string): string {
  return text.normalize('NFKC').replace(/\s+/g, '');
}
