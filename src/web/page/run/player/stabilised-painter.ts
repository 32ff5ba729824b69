/**
 * Draws frames stabilised onto a canvas: with WebGL by the grid of each frame, exact at its points; without it by the affine map that
 * comes nearest, which moves, turns and sizes a frame but cannot bend it. What lies outside of the frame is mid grey.
 */
import { affineOf, gridPoints, gridTriangles, inverseOf } from './frame-mesh.js';

/** Draws on one canvas. */
export interface StabilisedPainter {
  /** grid: every point of the grid exact; affine: nearest map of one piece. */
  readonly kind: 'grid' | 'affine';
  /** @param places of the grid in the frame, see `FrameMesh` */
  paint(picture: ImageBitmap, places: Float32Array): void;
}

const VERTICES = `attribute vec2 shown;attribute vec2 taken;varying vec2 place;
void main(){place=taken;gl_Position=vec4(2.0*shown.x-1.0,1.0-2.0*shown.y,0.0,1.0);}`;
const PIXELS = `precision highp float;varying vec2 place;uniform sampler2D frame;
void main(){bool inside=all(greaterThanEqual(place,vec2(0.0)))&&all(lessThanEqual(place,vec2(1.0)));
gl_FragColor=inside?vec4(texture2D(frame,place).rgb,1.0):vec4(0.5,0.5,0.5,1.0);}`;

/** Places that nothing lies behind are drawn from far outside. */
const NOWHERE = -9;

/** A painter for a canvas that nothing was drawn on yet; null where the browser draws on none. */
export function stabilisedPainter(canvas: HTMLCanvasElement): StabilisedPainter | null {
  const settings: WebGLContextAttributes = { alpha: false, antialias: false, depth: false };
  const gl = canvas.getContext('webgl2', settings) ?? canvas.getContext('webgl', settings);
  if (gl !== null) return new GridPainter(canvas, gl);
  const context = canvas.getContext('2d', { alpha: false });
  return context && new AffinePainter(canvas, context);
}

class GridPainter implements StabilisedPainter {
  readonly kind = 'grid';
  readonly #canvas: HTMLCanvasElement;
  readonly #gl: WebGLRenderingContext;
  readonly #count = gridTriangles().length;
  #held: { readonly taken: WebGLBuffer | null } | null;
  #picture: ImageBitmap | null = null;

  constructor(canvas: HTMLCanvasElement, gl: WebGLRenderingContext) {
    this.#canvas = canvas;
    this.#gl = gl;
    this.#held = this.#setUp();
    // Another program may take the graphics away for a while; what is drawn next sets them up again.
    canvas.addEventListener('webglcontextlost', (event) => {
      event.preventDefault();
      this.#held = null;
      this.#picture = null;
    });
  }

  paint(picture: ImageBitmap, places: Float32Array): void {
    const gl = this.#gl;
    if (gl.isContextLost()) return;
    this.#held ??= this.#setUp();
    gl.viewport(0, 0, this.#canvas.width, this.#canvas.height);
    if (this.#picture !== picture) {
      gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, gl.RGBA, gl.UNSIGNED_BYTE, picture);
      this.#picture = picture;
    }
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#held.taken);
    gl.bufferData(
      gl.ARRAY_BUFFER,
      places.map((place) => (Number.isNaN(place) ? NOWHERE : place)),
      gl.DYNAMIC_DRAW,
    );
    gl.drawElements(gl.TRIANGLES, this.#count, gl.UNSIGNED_SHORT, 0);
  }

  #setUp(): { readonly taken: WebGLBuffer | null } {
    const gl = this.#gl;
    const program = gl.createProgram();
    for (const [kind, source] of [
      [gl.VERTEX_SHADER, VERTICES],
      [gl.FRAGMENT_SHADER, PIXELS],
    ] as const) {
      const shader = gl.createShader(kind);
      if (shader === null) continue;
      gl.shaderSource(shader, source);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    gl.useProgram(program);
    const column = (name: string, values: Float32Array | null): WebGLBuffer | null => {
      const buffer = gl.createBuffer();
      const place = gl.getAttribLocation(program, name);
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      if (values !== null) gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, 2, gl.FLOAT, false, 0, 0);
      return buffer;
    };
    column('shown', gridPoints());
    const taken = column('taken', null);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, gridTriangles(), gl.STATIC_DRAW);
    gl.bindTexture(gl.TEXTURE_2D, gl.createTexture());
    for (const [name, value] of [
      [gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE],
      [gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE],
      [gl.TEXTURE_MIN_FILTER, gl.LINEAR],
      [gl.TEXTURE_MAG_FILTER, gl.LINEAR],
    ])
      gl.texParameteri(gl.TEXTURE_2D, name, value);
    return { taken };
  }
}

class AffinePainter implements StabilisedPainter {
  readonly kind = 'affine';
  readonly #canvas: HTMLCanvasElement;
  readonly #context: CanvasRenderingContext2D;

  constructor(canvas: HTMLCanvasElement, context: CanvasRenderingContext2D) {
    this.#canvas = canvas;
    this.#context = context;
  }

  paint(picture: ImageBitmap, places: Float32Array): void {
    const { width, height } = this.#canvas;
    const context = this.#context;
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.fillStyle = '#808080';
    context.fillRect(0, 0, width, height);
    if (places.some((place) => Number.isNaN(place))) return;
    const { a, b, c, d, e, f } = inverseOf(affineOf(places));
    context.setTransform(a * width, b * height, c * width, d * height, e * width, f * height);
    context.drawImage(picture, 0, 0, 1, 1);
  }
}
