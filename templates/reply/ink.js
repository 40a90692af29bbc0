// A signature drawn by mouse, finger or pen. Knows a canvas and strokes; not whose name it is.

/** Strokes are lists of x and y in turn, whole numbers within this box. */
const INK_WIDTH = 900;
const INK_HEIGHT = 300;
/** Nobody's name needs more; a file of any size could be drawn otherwise. */
const INK_MOST = 12000;

/** Strokes on a canvas; `changed` is called after each. */
function inkOn(canvas, changed) {
  const ink = { strokes: [] };
  let open = null;
  let pointer = null;

  function points() {
    return ink.strokes.reduce((sum, stroke) => sum + stroke.length, 0);
  }

  function add(event) {
    const box = canvas.getBoundingClientRect();
    if (box.width === 0 || box.height === 0 || points() > INK_MOST) return;
    const within = (v, most) => Math.max(0, Math.min(most, Math.round(v)));
    const x = within(((event.clientX - box.left) / box.width) * INK_WIDTH, INK_WIDTH);
    const y = within(((event.clientY - box.top) / box.height) * INK_HEIGHT, INK_HEIGHT);
    const n = open.length;
    if (n < 2 || open[n - 2] !== x || open[n - 1] !== y) open.push(x, y);
  }

  canvas.addEventListener("pointerdown", (event) => {
    if (pointer !== null || event.button !== 0) return;
    pointer = event.pointerId;
    open = [];
    ink.strokes.push(open);
    if (canvas.setPointerCapture) canvas.setPointerCapture(pointer);
    add(event);
    ink.show();
    event.preventDefault();
  });
  canvas.addEventListener("pointermove", (event) => {
    if (event.pointerId !== pointer) return;
    const between = event.getCoalescedEvents ? event.getCoalescedEvents() : [];
    (between.length ? between : [event]).forEach(add);
    ink.show();
  });
  function end(event) {
    if (event.pointerId !== pointer) return;
    pointer = null;
    open = null;
    changed();
  }
  canvas.addEventListener("pointerup", end);
  canvas.addEventListener("pointercancel", end);

  ink.show = () => {
    // As many dots as the screen has: sharp at every zoom.
    const across = Math.round(canvas.clientWidth * (window.devicePixelRatio || 1));
    if (across > 0 && canvas.width !== across) {
      canvas.width = across;
      canvas.height = Math.round((across * INK_HEIGHT) / INK_WIDTH);
    }
    inkStrokes(canvas, ink.strokes);
  };
  ink.set = (strokes) => {
    ink.strokes = strokes;
    ink.show();
  };
  ink.undo = () => {
    ink.strokes.pop();
    ink.show();
    changed();
  };
  ink.clear = () => {
    ink.strokes = [];
    ink.show();
    changed();
  };
  /** As a PNG in a data: address. */
  ink.png = () => {
    const plain = document.createElement("canvas");
    plain.width = INK_WIDTH;
    plain.height = INK_HEIGHT;
    inkStrokes(plain, ink.strokes);
    return plain.toDataURL("image/png");
  };
  window.addEventListener("resize", ink.show);
  return ink;
}

/** Round pens; a stroke of one point is a dot. */
function inkStrokes(canvas, strokes) {
  const pen = canvas.getContext("2d");
  pen.setTransform(canvas.width / INK_WIDTH, 0, 0, canvas.height / INK_HEIGHT, 0, 0);
  pen.clearRect(0, 0, INK_WIDTH, INK_HEIGHT);
  pen.lineWidth = 5;
  pen.lineCap = "round";
  pen.lineJoin = "round";
  pen.strokeStyle = "#000000";
  for (const s of strokes) {
    pen.beginPath();
    pen.moveTo(s[0], s[1]);
    pen.lineTo(s[0], s[1]);
    // Curves through the middles between points: no corners.
    for (let i = 2; i + 3 < s.length; i += 2) {
      pen.quadraticCurveTo(s[i], s[i + 1], (s[i] + s[i + 2]) / 2, (s[i + 1] + s[i + 3]) / 2);
    }
    if (s.length > 2) pen.lineTo(s[s.length - 2], s[s.length - 1]);
    pen.stroke();
  }
}

/** Whether a value is strokes that could have been drawn here. */
function inkIsSane(strokes) {
  const whole = (n) => Number.isInteger(n) && n >= 0 && n <= INK_WIDTH;
  return (
    Array.isArray(strokes) &&
    strokes.every((s) => Array.isArray(s) && s.length >= 2 && s.length % 2 === 0 && s.every(whole)) &&
    strokes.reduce((sum, s) => sum + s.length, 0) <= 2 * INK_MOST
  );
}
