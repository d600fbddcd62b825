/** Puts a picture's layers into Pixi: a layer that is the same object as last time is left alone. */
import { BufferImageSource, Container, Graphics, Matrix, Sprite, Texture } from 'pixi.js';
import type { Lettering } from './lettering';
import type { Layer, Picture } from './picture';
import type { RasterOp, ShapeOp, TextOp } from './sketch';

interface PaintedLayer {
  layer: Layer;
  resolution: number;
  readonly root: Container;
  readonly rasters: Container;
  readonly graphics: Graphics;
  readonly texts: Container;
}

export interface Painter {
  readonly stage: Container;
  paint(picture: Picture, resolution: number): void;
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
      picture.layers.forEach((layer, order) => {
        const known = painted.get(layer.name) ?? emptyLayer(layer, stage);
        painted.set(layer.name, known);
        stage.setChildIndex(known.root, Math.min(order, stage.children.length - 1));
        known.root.visible = true;
        const hasLettering = layer.texts.length > 0;
        if (known.layer === layer && known.resolution === resolution && !(letteringIsStale && hasLettering)) {
          for (const text of layer.texts) lettering.picture(text, resolution);
          return;
        }
        known.layer = layer;
        known.resolution = resolution;
        fillRasters(known.rasters, layer.rasters, textureOf);
        drawShapes(known.graphics, layer.shapes);
        fillTexts(known.texts, layer.texts, lettering, resolution);
      });
      const shown = new Set(picture.layers.map((layer) => layer.name));
      for (const [name, layer] of painted) {
        if (shown.has(name)) continue;
        layer.root.destroy({ children: true });
        painted.delete(name);
      }
      letteringIsStale = false;
      dropUnusedTextures(picture);
      lettering.sweep();
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
  const [rasters, graphics, texts] = [new Container(), new Graphics(), new Container()];
  root.addChild(rasters, graphics, texts);
  stage.addChild(root);
  return { layer: NO_LAYER, resolution: 0, root, rasters, graphics, texts };
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
    graphics.stroke({
      width: shape.widthPx,
      color: shape.colour,
      alpha: shape.alpha,
      cap: shape.round ? 'round' : 'butt',
      join: shape.round ? 'round' : 'miter',
      miterLimit: 3,
    });
  }
}

function fillTexts(holder: Container, texts: readonly TextOp[], lettering: Lettering, resolution: number): void {
  for (const child of holder.removeChildren()) child.destroy();
  const snap = (value: number): number => Math.round(value * resolution) / resolution;
  for (const text of texts) {
    const { texture, widthPx, heightPx } = lettering.picture(text, resolution);
    const sprite = new Sprite(texture);
    if (text.turnDeg === -90) {
      sprite.rotation = -Math.PI / 2;
      sprite.position.set(snap(text.x - heightPx / 2), snap(text.y + widthPx / 2));
    } else {
      sprite.position.set(snap(text.x - widthPx / 2), snap(text.y - heightPx / 2));
    }
    holder.addChild(sprite);
  }
}
