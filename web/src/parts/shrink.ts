// A photograph made small in the browser: longest side 1600 pixels, at most 400 kB of JPEG. It is drawn anew, so nothing but
// the picture is left: no place, no camera, no time.

export const longestSide = 1600;
export const mostBytes = 400_000;
const qualities = [0.86, 0.76, 0.64, 0.5];
const smaller = 0.75; // of the side, where no quality does

export async function shrunk(file: Blob): Promise<Blob> {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' }).catch(() => null);
  if (!picture) throw new Error('This file cannot be read as a picture.');
  let side = Math.min(longestSide, Math.max(picture.width, picture.height));
  for (;;) {
    const scale = side / Math.max(picture.width, picture.height);
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const pen = canvas.getContext('2d');
    if (!pen) throw new Error('This browser cannot draw pictures.');
    pen.fillStyle = '#fff'; // where the picture is clear
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    for (const quality of qualities) {
      const jpeg = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', quality));
      if (jpeg && jpeg.size <= mostBytes) return jpeg;
    }
    side *= smaller;
  }
}

export async function base64(blob: Blob): Promise<string> {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = '';
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return btoa(text);
}
