/** Puts a picture's layers into Pixi: what is drawn as it was last time is left alone. */
import { BufferImageSource, Container, Graphics, Matrix, Sprite, Texture } from 'pixi.js';
import type { Lettering, LetteringPicture } from './lettering';
import type { Layer, Picture } from './picture';
import { areSameRasters, changedLots, isSameText, SHAPES_TOGETHER } from './sameShapes';
import type { RasterOp, ShapeOp, TextOp } from './sketch';

interface PaintedLayer {
  layer: Layer;
  resolution: number;
  readonly root: Container;
  readonly rasters: Container;
  /** One for each lot of shapes, in order. */
  readonly shapes: Container<Graphics>;
  readonly texts: Container;
  /** What the sprites of `texts` show, in order. */
  readonly lettered: LetteringPicture[];
}

export interface Painter {
  readonly stage: Container;
  /** @returns how many shapes, pictures and letterings were drawn anew; 0 where the sheet shows what it did */
  paint(picture: Picture, resolution: number): number;
  /** Lettering is drawn anew at the next paint, in whatever font there is by then. */
  forgetLettering(): void;
  destroy(): void;
}

export function createPainter(lettering: Lettering): Painter {
  const stage = new Container();
  const painted = new Map<string, PaintedLayer>();
  const rasterTextures = new Map<Uint8Array, Texture>();
  let letteringIsStale = false;

  const textureOf = (raster: RasterOp): Texture => {
    const known = rasterTextures.get(raster.bytes) ?? rasterTexture(raster);
    rasterTextures.set(raster.bytes, known);
    return known;
  };
  /** @returns how much of the layer was drawn anew */
  const paintLayer = (known: PaintedLayer, layer: Layer, resolution: number, isStale: boolean): number => {
    const before = known.layer;
    const [x, y] = layer.shift ?? [0, 0];
    const isShifted = known.root.x !== x || known.root.y !== y;
    if (isShifted) known.root.position.set(x, y);
    const isSharp = known.resolution === resolution;
    let redrawn = isShifted ? 1 : 0;
    if (!areSameRasters(before.rasters, layer.rasters)) {
      fillRasters(known.rasters, layer.rasters, textureOf);
      redrawn += layer.rasters.length + 1;
    }
    if (before.shapes !== layer.shapes) {
      const lots = changedLots(before.shapes, layer.shapes);
      for (const lot of lots) drawLot(known.shapes, lot, layer.shapes);
      redrawn += lots.length * SHAPES_TOGETHER;
    }
    const standing = isSharp && !isStale ? before.texts : [];
    redrawn += fillTexts(known, standing, layer.texts, lettering, resolution);
    known.layer = layer;
    known.resolution = resolution;
    return redrawn;
  };
  const dropUnusedTextures = (picture: Picture): void => {
    const used = new Set(picture.layers.flatMap((layer) => layer.rasters.map((raster) => raster.bytes)));
    for (const [bytes, texture] of rasterTextures) {
      if (used.has(bytes)) continue;
      texture.destroy(true);
      rasterTextures.delete(bytes);
    }
  };

  return {
    stage,
    paint(picture, resolution) {
      if (letteringIsStale) lettering.clear();
      let redrawn = 0;
      picture.layers.forEach((layer, order) => {
        const known = painted.get(layer.name) ?? emptyLayer(layer, stage);
        painted.set(layer.name, known);
        const place = Math.min(order, stage.children.length - 1);
        if (stage.children[place] !== known.root) {
          stage.setChildIndex(known.root, place);
          redrawn += 1;
        }
        redrawn += paintLayer(known, layer, resolution, letteringIsStale);
      });
      const shown = new Set(picture.layers.map((layer) => layer.name));
      for (const [name, layer] of painted) {
        if (shown.has(name)) continue;
        layer.root.destroy({ children: true });
        painted.delete(name);
        redrawn += 1;
      }
      letteringIsStale = false;
      dropUnusedTextures(picture);
      lettering.sweep();
      return redrawn;
    },
    forgetLettering() {
      letteringIsStale = true;
    },
    destroy() {
      stage.destroy({ children: true });
      for (const texture of rasterTextures.values()) texture.destroy(true);
      rasterTextures.clear();
      lettering.clear();
    },
  };
}

const NO_LAYER: Layer = { name: '', rasters: [], shapes: [], texts: [] };

function emptyLayer(layer: Layer, stage: Container): PaintedLayer {
  const root = new Container({ label: layer.name });
  const [rasters, shapes, texts] = [new Container(), new Container<Graphics>(), new Container()];
  root.addChild(rasters, shapes, texts);
  stage.addChild(root);
  return { layer: NO_LAYER, resolution: 0, root, rasters, shapes, texts, lettered: [] };
}

function rasterTexture({ bytes, columns, rows, smooth, shrinks }: RasterOp): Texture {
  const source = new BufferImageSource({
    resource: bytes,
    width: columns,
    height: rows,
    format: 'rgba8unorm',
    alphaMode: 'premultiplied-alpha',
    scaleMode: smooth ? 'linear' : 'nearest',
    autoGenerateMipmaps: shrinks === true,
  });
  return new Texture({ source });
}

function fillRasters(holder: Container, rasters: readonly RasterOp[], textureOf: (raster: RasterOp) => Texture): void {
  for (const child of holder.removeChildren()) child.destroy();
  for (const raster of rasters) {
    const sprite = new Sprite(textureOf(raster));
    sprite.setFromMatrix(new Matrix(...raster.matrix));
    sprite.alpha = raster.alpha;
    holder.addChild(sprite);
  }
}

/** Draws one lot of a layer's shapes; a lot beyond the last shape is left empty. */
function drawLot(holder: Container<Graphics>, lot: number, shapes: readonly ShapeOp[]): void {
  const own = shapes.slice(lot * SHAPES_TOGETHER, (lot + 1) * SHAPES_TOGETHER);
  while (own.length > 0 && holder.children.length <= lot) holder.addChild(new Graphics());
  const graphics = holder.children[lot];
  if (graphics) drawShapes(graphics, own);
}

/** Up to this width the corners of a line are a pixel or two: rounding them would only cost. */
const THIN_LINE_PX = 1.75;

function drawShapes(graphics: Graphics, shapes: readonly ShapeOp[]): void {
  graphics.clear();
  for (const shape of shapes) {
    if (shape.kind === 'fill') {
      const [outline, ...holes] = shape.rings;
      graphics.poly([...outline!]).fill({ color: shape.colour, alpha: shape.alpha });
      for (const hole of holes) graphics.poly([...hole]).cut();
      continue;
    }
    for (const path of shape.paths) {
      graphics.moveTo(path[0]!, path[1]!);
      for (let i = 2; i < path.length; i += 2) graphics.lineTo(path[i]!, path[i + 1]!);
      if (shape.closed) graphics.closePath();
    }
    if (shape.paths.length === 0) continue;
    const isThin = shape.widthPx <= THIN_LINE_PX;
    graphics.stroke({
      width: shape.widthPx,
      color: shape.colour,
      alpha: shape.alpha,
      cap: shape.round ? (isThin ? 'square' : 'round') : 'butt',
      join: shape.round ? (isThin ? 'bevel' : 'round') : 'miter',
      miterLimit: 3,
    });
  }
}

/**
 * The sprites that stand are given other lettering; only what is too much or too little is made or ended.
 * @param standing lettering that the sprites show already
 * @returns how many letterings were drawn anew or taken away
 */
function fillTexts(
  { texts: holder, lettered }: Pick<PaintedLayer, 'texts' | 'lettered'>,
  standing: readonly TextOp[],
  texts: readonly TextOp[],
  lettering: Lettering,
  resolution: number,
): number {
  let redrawn = Math.max(0, holder.children.length - texts.length);
  if (redrawn > 0) for (const child of holder.removeChildren(texts.length)) child.destroy();
  lettered.length = Math.min(lettered.length, texts.length);
  const snap = (value: number): number => Math.round(value * resolution) / resolution;
  texts.forEach((text, order) => {
    if (order < standing.length && isSameText(standing[order]!, text)) return lettering.keep(lettered[order]!);
    const picture = lettering.picture(text, resolution);
    const { texture, widthPx, heightPx } = picture;
    lettered[order] = picture;
    redrawn += 1;
    const sprite = (holder.children[order] as Sprite | undefined) ?? holder.addChild(new Sprite());
    sprite.texture = texture;
    const isUpright = text.turnDeg === -90;
    sprite.rotation = isUpright ? -Math.PI / 2 : 0;
    if (isUpright) sprite.position.set(snap(text.x - heightPx / 2), snap(text.y + widthPx / 2));
    else sprite.position.set(snap(text.x - widthPx / 2), snap(text.y - heightPx / 2));
  });
  return redrawn;
}
