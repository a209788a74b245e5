// The pictures that the extension brings along: those of the READMEs, small enough to be packed. A browser makes them.
//   small-pictures.ts   anew, from the large ones
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { startBrowser } from './server-edition.ts';
import { EXTENSION } from './workbench-places.ts';

/** As wide as a walkthrough shows them on a large screen, CSS px. */
const WIDTH = 640;
const QUALITY = 0.5;

/** Makes all that the manifest or the page of the extension shows. */
export async function shrink(): Promise<void> {
  const texts = ['package.json', 'README.md'].map((file) => readFileSync(join(EXTENSION, file), 'utf8')).join();
  const names = new Set([...texts.matchAll(/images\/([\w-]+)\.webp/g)].map(([, name = '']) => name));
  await using browser = await startBrowser();
  const page = await browser.newPage();
  for (const name of names) {
    const large = readFileSync(join(EXTENSION, 'images', `${name}.png`)).toString('base64');
    const small = await page.evaluate(
      async ({ large, width, quality }) => {
        const image = new Image();
        image.src = `data:image/png;base64,${large}`;
        await image.decode();
        const scale = Math.min(1, width / image.width);
        const canvas = document.createElement('canvas');
        canvas.width = Math.round(image.width * scale);
        canvas.height = Math.round(image.height * scale);
        const pen = canvas.getContext('2d');
        if (pen) pen.imageSmoothingQuality = 'high';
        pen?.drawImage(image, 0, 0, canvas.width, canvas.height);
        return canvas.toDataURL('image/webp', quality);
      },
      { large, width: WIDTH, quality: QUALITY },
    );
    writeFileSync(join(EXTENSION, 'images', `${name}.webp`), Buffer.from(small.split(',')[1] ?? '', 'base64'));
  }
}

if (import.meta.main) await shrink();
