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

  function draw() {
    if (!canvas || !canvas.width) return;
    const ink = canvas.getContext("2d");
    ink.clearRect(0, 0, canvas.width, canvas.height);
    const view = axes();
    const room = Math.min(canvas.width, canvas.height) / 2;
    const scale = (room * 0.9) / (reach * (1 + 0.9 * spread));
    const flat = [];
    for (const piece of pieces) {
      if (piece.step > limit) continue;
      const shift = piece.apart.map((each) => each * spread * 2);
      const spots = piece.points.map((point) => {
        const moved = point.map((each, axis) => each - middle[axis] + shift[axis]);
        return [canvas.width / 2 + scale * dot(moved, view.right), canvas.height / 2 - scale * dot(moved, view.up), dot(moved, view.toward)];
      });
      for (const facet of piece.facets) {
        const facing = dot(facet.normal, view.toward);
        if (facing <= 1e-6) continue;
        const outer = facet.loops[0].map((number) => spots[number]);
        const far = outer.reduce((sum, spot) => sum + spot[2], 0) / outer.length;
        flat.push({ far, facing, spots, facet, fresh: piece.step === limit });
      }
    }
    flat.sort((one, two) => one.far - two.far);
    for (const each of flat) {
      ink.beginPath();
      for (const loop of each.facet.loops) {
        loop.forEach((number, place) => ink[place ? "lineTo" : "moveTo"](each.spots[number][0], each.spots[number][1]));
        ink.closePath();
      }
      const tone = Math.round((each.fresh ? 205 : 226) + (each.fresh ? 50 : 29) * each.facing);
      ink.fillStyle = `rgb(${tone} ${tone} ${each.fresh ? tone - 26 : tone})`;
      ink.fill("evenodd");
      ink.lineWidth = each.fresh ? 1.8 : 1;
      ink.strokeStyle = each.facet.smooth ? ink.fillStyle : each.fresh ? "#111" : "#5c666d";
      ink.stroke();
    }
  }

  // The nearest of the words that a design file may say: a side, or three of them.
  function from() {
    const { toward } = axes();
    const words = [];
    if (Math.abs(toward[1]) > 0.25) words.push(toward[1] < 0 ? "front" : "back");
    if (Math.abs(toward[0]) > 0.25) words.push(toward[0] > 0 ? "right" : "left");
    if (Math.abs(toward[2]) > 0.2) words.push(toward[2] > 0 ? "top" : "bottom");
    return words.join(" ") || "front";
  }

  return {
    begin, load, fit, from,
    upto(number) { limit = number; draw(); },
    apart(share) { spread = share; draw(); },
  };
})();
