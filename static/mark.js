/* Arrows and circles on a photograph: drawn with a finger, a pen, a mouse or the arrow keys. A tap alone puts a mark of
   a usual size. What is drawn here is what server/drawings/photograph_marks.py draws afterwards. */
"use strict";
globalThis.Studbay ??= {};
(() => {
  const INK = 0.008, EDGE = 0.018, HEAD = 0.05, HEAD_ANGLE = (28 * Math.PI) / 180;
  const USUAL = 0.09, LEAST_DRAG = 0.025, STEP = 0.02, MOST = 40;
  const SVG = "http://www.w3.org/2000/svg";
  const within = (at) => Math.min(1, Math.max(0, at));
  const kept = (at) => Math.round(within(at) * 10000) / 10000;

  /** A mark as path data in the pixels of the picture. */
  function path(mark, wide, high) {
    const ax = mark.x * wide, ay = mark.y * high, bx = mark.to_x * wide, by = mark.to_y * high, r = Math.round;
    if (mark.kind === "circle") {
      const rx = r(Math.abs(bx - ax) / 2), ry = r(Math.abs(by - ay) / 2), cx = r((ax + bx) / 2), cy = r((ay + by) / 2);
      return `M${cx - rx} ${cy}a${rx} ${ry} 0 1 0 ${2 * rx} 0a${rx} ${ry} 0 1 0 ${-2 * rx} 0`;
    }
    const head = Math.min(Math.max(wide, high) * HEAD, Math.hypot(bx - ax, by - ay) * 0.6), back = Math.atan2(ay - by, ax - bx);
    const [left, right] = [-HEAD_ANGLE, HEAD_ANGLE].map((turn) => `${r(bx + head * Math.cos(back + turn))} ${r(by + head * Math.sin(back + turn))}`);
    return `M${r(ax)} ${r(ay)}L${r(bx)} ${r(by)}M${left}L${r(bx)} ${r(by)}L${right}`;
  }

  /** A mark of a usual size at a place: a circle around it, an arrow that points at it from where there is room. */
  function usual(kind, x, y, wide, high) {
    const long = Math.max(wide, high), dx = (USUAL * long) / wide, dy = (USUAL * long) / high;
    if (kind === "circle") return { kind, x: kept(x - dx), y: kept(y - dy), to_x: kept(x + dx), to_y: kept(y + dy) };
    return { kind, x: kept(x + (x > 0.5 ? -2 : 2) * dx), y: kept(y + (y > 0.5 ? -2 : 2) * dy), to_x: kept(x), to_y: kept(y) };
  }

  const TOOLS = { circle: "Circle", arrow: "Arrow" };
  const SIGNS = { circle: "M12 5A7 7 0 1 0 12 19 7 7 0 1 0 12 5", arrow: "M5 19 18 6M9 6H18V15" };

  /** Make a picture markable. ``root`` holds one .picture and a hidden input named marks. */
  function start(root) {
    if (root.dataset.started) return;
    root.dataset.started = "yes";
    const input = root.querySelector("input[name=marks]"), frame = root.querySelector(".picture"), image = frame.querySelector("img");
    let marks = [], tool = "circle", drawn = null, from = null;
    try { marks = JSON.parse(input.value || "[]"); } catch { marks = []; }
    frame.querySelector("svg")?.remove();
    const board = document.createElementNS(SVG, "svg");
    const lines = [["#fff", EDGE], ["#1B2530", INK]].map(([stroke, width]) => {
      const line = document.createElementNS(SVG, "path");
      line.setAttribute("stroke", stroke);
      line.dataset.width = String(width);
      board.append(line);
      return line;
    });
    for (const [name, value] of Object.entries({ class: "photo-marks is-board", fill: "none", "stroke-linecap": "round", "stroke-linejoin": "round", tabindex: "0", role: "application", "aria-label": "The picture. Arrow keys move a mark, with Shift they change its size, Enter puts it, Backspace takes the last back." })) board.setAttribute(name, value);
    frame.append(board);

    const tools = Object.assign(document.createElement("div"), { className: "mark-tools" });
    tools.setAttribute("role", "group");
    tools.setAttribute("aria-label", "Mark the picture");
    const button = (text, more = "") => Object.assign(document.createElement("button"), { type: "button", className: `button ${more}`, textContent: text });
    const choices = Object.entries(TOOLS).map(([kind, word]) => {
      const made = button(word, "mark-tool"), sign = document.createElementNS(SVG, "svg"), line = document.createElementNS(SVG, "path");
      sign.setAttribute("viewBox", "0 0 24 24");
      sign.setAttribute("class", "icon");
      sign.setAttribute("aria-hidden", "true");
      line.setAttribute("class", "s");
      line.setAttribute("d", SIGNS[kind]);
      sign.append(line);
      made.prepend(sign);
      made.dataset.tool = kind;
      made.addEventListener("click", () => { tool = kind; if (drawn) drawn = { ...drawn, kind }; show(); });
      return made;
    });
    const back = button("Take the last back", "button-quiet");
    back.addEventListener("click", takeBack);
    tools.append(...choices, back);
    frame.after(tools);

    const size = () => [image.naturalWidth || image.width || 1, image.naturalHeight || image.height || 1];
    function show() {
      const [wide, high] = size();
      board.setAttribute("viewBox", `0 0 ${wide} ${high}`);
      const d = (drawn ? [...marks, drawn] : marks).map((mark) => path(mark, wide, high)).join("");
      for (const line of lines) { line.setAttribute("d", d); line.setAttribute("stroke-width", String(Math.round(Math.max(wide, high) * Number(line.dataset.width)))); }
      for (const choice of choices) choice.setAttribute("aria-pressed", String(choice.dataset.tool === tool));
      back.disabled = marks.length === 0;
    }
    function changed(said) {
      input.value = JSON.stringify(marks);
      show();
      root.dispatchEvent(new CustomEvent("studbay:marked", { bubbles: true, detail: { said } }));
      globalThis.studbay?.announce(said);
    }
    function put(mark) {
      drawn = null;
      if (marks.length >= MOST) { changed(`A photograph takes ${MOST} marks.`); return; }
      marks = [...marks, mark];
      changed(`${TOOLS[mark.kind]} put. ${marks.length} on the picture.`);
    }
    function takeBack() {
      if (!marks.length) return;
      marks = marks.slice(0, -1);
      changed(`Taken back. ${marks.length} on the picture.`);
      if (!marks.length) choices[0].focus({ preventScroll: true });
    }

    const at = (event) => {
      const box = board.getBoundingClientRect();
      return [within((event.clientX - box.left) / box.width), within((event.clientY - box.top) / box.height)];
    };
    const between = ([x, y], [to_x, to_y]) => ({ kind: tool, x: kept(x), y: kept(y), to_x: kept(to_x), to_y: kept(to_y) });
    const far = ([x, y], [to_x, to_y]) => Math.hypot(to_x - x, to_y - y) >= LEAST_DRAG;
    board.addEventListener("pointerdown", (event) => {
      if (event.button !== 0 || !event.isPrimary) return;
      from = at(event);
      board.setPointerCapture(event.pointerId);
      event.preventDefault();
    });
    board.addEventListener("pointermove", (event) => {
      if (!from || !event.isPrimary) return;
      drawn = far(from, at(event)) ? between(from, at(event)) : null;
      show();
    });
    board.addEventListener("pointerup", (event) => {
      if (!from || !event.isPrimary) return;
      const to = at(event), start = from;
      from = null;
      put(far(start, to) ? between(start, to) : usual(tool, ...start, ...size()));
    });
    board.addEventListener("pointercancel", () => { from = drawn = null; show(); });

    const MOVES = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    board.addEventListener("keydown", (event) => {
      const move = MOVES[event.key];
      if (move) {
        drawn ??= usual(tool, 0.5, 0.5, ...size());
        const [dx, dy] = move.map((step) => step * STEP), ends = event.shiftKey ? ["to_"] : ["", "to_"];
        // a mark stays within the picture, and whole
        const xs = ends.map((end) => drawn[`${end}x`] + dx), ys = ends.map((end) => drawn[`${end}y`] + dy);
        if ([...xs, ...ys].every((place) => place >= 0 && place <= 1)) ends.forEach((end, n) => { drawn[`${end}x`] = kept(xs[n]); drawn[`${end}y`] = kept(ys[n]); });
      } else if (event.key === "Enter") { put(drawn ?? usual(tool, 0.5, 0.5, ...size())); }
      else if (event.key === "Escape" && drawn) { drawn = null; }
      else if (event.key === "Backspace" || event.key === "Delete") { takeBack(); }
      else return;
      event.preventDefault();
      show();
    });
    if (image.complete) show(); else image.addEventListener("load", show, { once: true });
    show();
  }

  /** A photograph that was just chosen, to be marked before it is sent. */
  function preview(file, words) {
    const root = Object.assign(document.createElement("div"), { className: "marking marking-here" });
    const frame = Object.assign(document.createElement("span"), { className: "picture" });
    const image = Object.assign(document.createElement("img"), { alt: words, src: URL.createObjectURL(file) });
    image.addEventListener("error", () => { root.hidden = true; }, { once: true });
    frame.append(image);
    root.append(Object.assign(document.createElement("input"), { type: "hidden", name: "marks", value: "[]" }), frame);
    start(root);
    return root;
  }

  // on a photograph's own page: saved through the outbox, so that it also works without signal
  document.addEventListener("submit", async (event) => {
    const form = event.target, outbox = globalThis.Studbay.outbox;
    if (!form.matches("form[data-marking=page]") || !outbox) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    const marks = form.querySelector("input[name=marks]").value, number = JSON.parse(marks).length;
    const state = form.querySelector(".marking-state") ?? form.querySelector(".marking-end").insertAdjacentElement("beforebegin", Object.assign(document.createElement("p"), { className: "marking-state" }));
    try {
      await outbox.keep({ kind: "marks", url: form.getAttribute("action"), body: new URLSearchParams({ marks }).toString(), title: "Marks on a photograph", told: `${number} ${number === 1 ? "mark" : "marks"}`, card: "" });
    } catch { state.textContent = "This tablet's storage refused it: nothing was saved."; return; }
    state.textContent = "Saved on this tablet.";
    globalThis.studbay?.announce(state.textContent);
    outbox.drain();
  }, true);
  document.addEventListener("studbay:sent", (event) => {
    const state = document.querySelector("form[data-marking=page] .marking-state");
    if (event.detail.entry.kind === "marks" && state) state.textContent = "Marks saved.";
  });
  document.addEventListener("studbay:marked", (event) => {
    const state = event.target.querySelector?.(".marking-state");
    if (state) state.textContent = "Not saved yet.";
  });

  document.addEventListener("DOMContentLoaded", () => {
    for (const root of document.querySelectorAll("[data-marking]")) {
      start(root);
      const save = root.querySelector("[data-save]");
      if (save) save.hidden = false;
    }
  });
  globalThis.Studbay.marking = { start, preview, path };
})();
