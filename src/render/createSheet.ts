/** One drawing on the page: the model of the sheet, drawn with Pixi when something changed and never otherwise. */
import 'pixi.js/unsafe-eval';
import { Application } from 'pixi.js';
import type { FieldPicture, Sheet, SheetKind } from './contract';
import { createLettering } from './lettering';
import { createPainter, type Painter } from './painter';
import { createSheetModel } from './sheetModel';

/** The browser gives no WebGL, without which the drawings cannot be shown. */
export class NoWebGlError extends Error {
  override readonly name = 'NoWebGlError';
  constructor() {
    super('this browser gives no WebGL, which the drawings need');
  }
}

function hasWebGl(): boolean {
  const probe = document.createElement('canvas');
  const context = probe.getContext('webgl2') ?? probe.getContext('webgl');
  context?.getExtension('WEBGL_lose_context')?.loseContext();
  return context !== null;
}

const DRAWN_MARK = 'farsun-drawn';

/** Leaves a mark on the browser's own timeline, where the benches, the browser tests and profilers find it. */
function markDrawn(kind: SheetKind, field: FieldPicture | null, redrawn: number): void {
  const detail = { kind, revision: field?.revision ?? 0, rough: field?.rough === true, redrawn };
  performance.clearMarks(DRAWN_MARK);
  performance.mark(DRAWN_MARK, { detail });
}

async function startPixi(host: HTMLElement, groundColour: number): Promise<Application> {
  if (!hasWebGl()) throw new NoWebGlError();
  const app = new Application();
  await app.init({
    preference: 'webgl',
    antialias: true,
    autoStart: false,
    sharedTicker: false,
    autoDensity: true,
    resolution: window.devicePixelRatio,
    width: Math.max(1, host.clientWidth),
    height: Math.max(1, host.clientHeight),
    backgroundColor: groundColour,
    eventFeatures: { move: false, globalMove: false, click: false, wheel: false },
  });
  return app;
}

/**
 * A sheet that waits for its host. `attach` may be followed by `destroy` at any time, also before it has resolved; then
 * it still resolves, with nothing left on the page.
 * @param onFault is told when a picture could not be drawn; without it the fault is thrown
 */
export function createSheet(kind: SheetKind, onFault?: (fault: Error) => void): Sheet {
  const lettering = createLettering();
  const model = createSheetModel(kind, lettering.measure);
  let app: Application | null = null;
  let painter: Painter | null = null;
  let observer: ResizeObserver | null = null;
  let frame = 0;
  let isDestroyed = false;
  /** Nothing is on the canvas: it is new, or has just been given another size. */
  let isBlank = true;

  const draw = (): void => {
    frame = 0;
    try {
      paint();
    } catch (thrown) {
      if (!onFault) throw thrown;
      onFault(thrown instanceof Error ? thrown : new Error(String(thrown)));
    }
  };
  const paint = (): void => {
    if (!app || !painter) return;
    const picture = model.picture();
    if (!picture) return;
    const ground = model.groundColour();
    const redrawn = painter.paint(picture, app.renderer.resolution);
    if (redrawn > 0 || isBlank || ground !== app.renderer.background.color.toNumber()) {
      app.renderer.background.color = ground;
      app.render();
      isBlank = false;
    }
    markDrawn(kind, model.field(), redrawn);
  };
  const drawSoon = (): void => {
    if (app && frame === 0) frame = requestAnimationFrame(draw);
  };
  const fitHost = (host: HTMLElement): void => {
    if (!app || host.clientWidth === 0 || host.clientHeight === 0) return;
    app.renderer.resize(host.clientWidth, host.clientHeight, window.devicePixelRatio);
    model.resize(host.clientWidth, host.clientHeight);
    isBlank = true;
    // In the observer's own turn: a resized canvas is blank until it is drawn.
    draw();
  };
  const onFonts = (): void => {
    painter?.forgetLettering();
    lettering.clear();
    model.invalidate();
    drawSoon();
  };
  const release = (): void => {
    cancelAnimationFrame(frame);
    observer?.disconnect();
    document.fonts.removeEventListener('loadingdone', onFonts);
    painter?.destroy();
    app?.destroy({ removeView: true });
    [app, painter, observer] = [null, null, null];
  };

  return {
    kind,
    async attach(host) {
      const started = await startPixi(host, model.groundColour());
      if (isDestroyed) {
        started.destroy({ removeView: true });
        return;
      }
      app = started;
      painter = createPainter(lettering);
      app.stage.addChild(painter.stage);
      Object.assign(app.canvas.style, { position: 'absolute', inset: '0', display: 'block', touchAction: 'none' });
      app.canvas.setAttribute('aria-hidden', 'true');
      app.canvas.addEventListener('webglcontextrestored', () => {
        isBlank = true;
        drawSoon();
      });
      if (getComputedStyle(host).position === 'static') host.style.position = 'relative';
      host.append(app.canvas);
      observer = new ResizeObserver(() => fitHost(host));
      observer.observe(host);
      document.fonts.addEventListener('loadingdone', onFonts);
      void document.fonts.ready.then(() => {
        if (!isDestroyed) onFonts();
      });
      fitHost(host);
      draw();
    },
    update(state) {
      model.setState(state);
      drawSoon();
    },
    hitTest: model.hitTest,
    worldFromScreen: model.worldFromScreen,
    screenFromWorld: model.screenFromWorld,
    surfacePointAt: model.surfacePointAt,
    metresPerPixel: model.metresPerPixel,
    panBy(deltaX, deltaY) {
      model.panBy(deltaX, deltaY);
      drawSoon();
    },
    zoomAt(screen, factor) {
      model.zoomAt(screen, factor);
      drawSoon();
    },
    fit() {
      model.fit();
      drawSoon();
    },
    destroy() {
      if (isDestroyed) return;
      isDestroyed = true;
      release();
    },
  };
}
