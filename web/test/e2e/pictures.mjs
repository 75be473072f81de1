// Compares pictures of the page. A browser decodes them, so that no other library is needed.

/** Levels of a colour (of 255) that do not count: the edge of a shadow is drawn a shade lighter now and then. */
const SHADE = 12;

/**
 * How two PNG pictures differ: the number of dots whose colour is not the same, and the box around them.
 * Pictures of two sizes differ everywhere.
 */
export async function difference(browser, one, other) {
  const context = await browser.newContext();
  try {
    const page = await context.newPage();
    return await page.evaluate(
      async ([one, other, shade]) => {
        const read = async (data) => {
          const image = new Image();
          image.src = `data:image/png;base64,${data}`;
          await image.decode();
          const canvas = new OffscreenCanvas(image.width, image.height);
          const drawing = canvas.getContext("2d");
          drawing.drawImage(image, 0, 0);
          return drawing.getImageData(0, 0, image.width, image.height);
        };
        const [a, b] = [await read(one), await read(other)];
        if (a.width !== b.width || a.height !== b.height)
          return {
            dots: Math.max(a.width * a.height, b.width * b.height),
            sizes: [a, b].map((i) => [i.width, i.height]),
          };
        let dots = 0;
        const box = { left: a.width, top: a.height, right: 0, bottom: 0 };
        for (let i = 0; i < a.data.length; i += 4) {
          const far = Math.max(
            Math.abs(a.data[i] - b.data[i]),
            Math.abs(a.data[i + 1] - b.data[i + 1]),
            Math.abs(a.data[i + 2] - b.data[i + 2]),
          );
          if (far <= shade) continue;
          dots++;
          const x = (i / 4) % a.width;
          const y = Math.floor(i / 4 / a.width);
          box.left = Math.min(box.left, x);
          box.right = Math.max(box.right, x);
          box.top = Math.min(box.top, y);
          box.bottom = Math.max(box.bottom, y);
        }
        return { dots, box };
      },
      [one.toString("base64"), other.toString("base64"), SHADE],
    );
  } finally {
    await context.close();
  }
}
