// The model, turned by hand: the same solids as in the printed pictures, drawn back to front.
"use strict";

const turning = (() => {
  let canvas = null;
  let pieces = [];
  let limit = 1;
  let spread = 0;
  let azimuth = 0.62; // from the front, towards the right
  let height = 0.5;
  let middle = [0, 0, 0];
  let reach = 1;
  let eyes = [];

  function begin(node) {
    canvas = node;
    let from = null;
    canvas.addEventListener("pointerdown", (event) => { from = [event.clientX, event.clientY]; canvas.setPointerCapture(event.pointerId); });
    canvas.addEventListener("pointermove", (event) => {
      if (!from) return;
      turn((event.clientX - from[0]) * -0.01, (event.clientY - from[1]) * 0.01);
      from = [event.clientX, event.clientY];
    });
    canvas.addEventListener("pointerup", () => { from = null; });
    canvas.addEventListener("keydown", (event) => {
      const by = { ArrowLeft: [0.12, 0], ArrowRight: [-0.12, 0], ArrowUp: [0, 0.12], ArrowDown: [0, -0.12] }[event.key];
      if (!by) return;
      turn(...by);
      event.preventDefault();
    });
    new ResizeObserver(fit).observe(canvas);
  }

  function turn(round, up) {
    azimuth += round;
    height = Math.min(1.5, Math.max(-1.5, height + up));
    draw();
  }

  function load(found) {
    pieces = found.pieces;
    eyes = found.eyes;
    const points = pieces.flatMap((each) => each.points);
    const low = [0, 1, 2].map((axis) => Math.min(...points.map((point) => point[axis])));
    const high = [0, 1, 2].map((axis) => Math.max(...points.map((point) => point[axis])));
    middle = low.map((each, axis) => (each + high[axis]) / 2);
    reach = Math.hypot(...low.map((each, axis) => high[axis] - each)) / 2 || 1;
    draw();
  }

  function fit() {
    if (!canvas || !canvas.clientWidth) return;
    const scale = Math.min(2, devicePixelRatio || 1);
    canvas.width = canvas.clientWidth * scale;
    canvas.height = canvas.clientHeight * scale;
    draw();
  }

  // What points right, up and towards the eye.
  function axes() {
    const [s, c] = [Math.sin(azimuth), Math.cos(azimuth)];
    const [t, d] = [Math.sin(height), Math.cos(height)];
    return { right: [c, s, 0], up: [-s * t, c * t, d], toward: [s * d, -c * d, t] };
  }

  const dot = (one, two) => one[0] * two[0] + one[1] * two[1] + one[2] * two[2];

  // Every triangle is filled point by point, the nearest wins; then every edge that is not hidden.
  function draw() {
    if (!canvas || !canvas.width || !pieces.length) return;
    const ink = canvas.getContext("2d");
    const [wide, high] = [canvas.width, canvas.height];
    const picture = ink.createImageData(wide, high);
    const tones = new Uint32Array(picture.data.buffer);
    const depths = new Float32Array(wide * high).fill(-Infinity);
    const view = axes();
    const scale = (Math.min(wide, high) * 0.45) / (reach * (1 + 0.9 * spread));
    const shown = pieces.filter((piece) => piece.step <= limit).map((piece) => {
      const shift = piece.apart.map((each) => each * spread * 2);
      const spots = piece.points.map((point) => {
        const moved = point.map((each, axis) => each - middle[axis] + shift[axis]);
        return [wide / 2 + scale * dot(moved, view.right), high / 2 - scale * dot(moved, view.up), scale * dot(moved, view.toward)];
      });
      return { piece, spots, fresh: piece.step === limit };
    });
    for (const { piece, spots, fresh } of shown) {
      piece.triangles.forEach((corners, number) => {
        const facing = dot(piece.looks[number], view.toward);
        if (facing <= 1e-6) return;
        const tone = Math.round((fresh ? 196 : 222) + (fresh ? 56 : 30) * facing);
        const blue = fresh ? tone - 30 : tone;
        fill(corners.map((corner) => spots[corner]), (255 << 24) | (blue << 16) | (tone << 8) | tone);
      });
    }
    for (const { piece, spots, fresh } of shown) {
      for (const [from, to] of piece.edges) line(spots[from], spots[to], fresh ? 0xff101010 : 0xff6b625a);
    }
    ink.putImageData(picture, 0, 0);

    function fill(corners, tone) {
      const [a, b, c] = corners;
      const area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
      if (Math.abs(area) < 1e-9) return;
      const top = Math.max(0, Math.ceil(Math.min(a[1], b[1], c[1]) - 0.5));
      const low = Math.min(high - 1, Math.floor(Math.max(a[1], b[1], c[1]) - 0.5));
      const left = Math.max(0, Math.ceil(Math.min(a[0], b[0], c[0]) - 0.5));
      const right = Math.min(wide - 1, Math.floor(Math.max(a[0], b[0], c[0]) - 0.5));
      for (let y = top; y <= low; y += 1) {
        for (let x = left; x <= right; x += 1) {
          const u = ((b[0] - x - 0.5) * (c[1] - y - 0.5) - (c[0] - x - 0.5) * (b[1] - y - 0.5)) / area;
          const v = ((c[0] - x - 0.5) * (a[1] - y - 0.5) - (a[0] - x - 0.5) * (c[1] - y - 0.5)) / area;
          if (u < -1e-6 || v < -1e-6 || u + v > 1 + 1e-6) continue;
          const depth = u * a[2] + v * b[2] + (1 - u - v) * c[2];
          const at = y * wide + x;
          if (depth > depths[at]) { depths[at] = depth; tones[at] = tone; }
        }
      }
    }

    function line(from, to, tone) {
      const steps = Math.ceil(Math.max(Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1]), 1));
      for (let step = 0; step <= steps; step += 1) {
        const share = step / steps;
        const [x, y, depth] = [0, 1, 2].map((axis) => from[axis] + share * (to[axis] - from[axis]));
        for (const [dx, dy] of [[0, 0], [1, 0], [0, 1]]) {
          const [left, top] = [Math.round(x - 0.5) + dx, Math.round(y - 0.5) + dy];
          if (left < 0 || top < 0 || left >= wide || top >= high) continue;
          const at = top * wide + left;
          if (depth + 1.8 >= depths[at]) tones[at] = tone;
        }
      }
    }
  }

  // The nearest of the places that a design file may name.
  function from() {
    const { toward } = axes();
    const near = (eyes[limit - 1] || []).map(([words, way]) => [words, dot(way, toward) / Math.hypot(...way)]);
    return near.reduce((one, two) => (two[1] > one[1] ? two : one), ["", -2])[0];
  }

  // Look from one of the places that a design file may name.
  function see(words) {
    const way = (eyes[limit - 1] || []).find(([name]) => name === words)?.[1];
    if (!way) return;
    azimuth = Math.atan2(way[0], -way[1]);
    height = Math.asin(way[2] / Math.hypot(...way));
    draw();
  }

  return {
    begin, load, fit, from, see,
    upto(number) { limit = number; draw(); },
    apart(share) { spread = share; draw(); },
  };
})();
