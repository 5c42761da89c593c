"use strict";
/* Things in the picture that have a way are dragged along it: by the pointer, or by the arrow keys. moved(path, metres, thing) is told. */
window.dragThings = function (picture, moved, tell) {
  var held = null, dropped = -1e9, STEP = 0.00635, LEAST = 4;

  function way(thing) { var found = thing.dataset.way.split(" ").map(Number); return { x: found[0], y: found[1] }; }

  function dragged(event) {
    var along = way(held.thing), scale = held.thing.ownerSVGElement.getScreenCTM().a;
    var x = (event.clientX - held.x) / scale, y = (event.clientY - held.y) / scale;
    return (x * along.x + y * along.y) / (along.x * along.x + along.y * along.y);
  }

  picture.addEventListener("pointerdown", function (event) {
    var thing = event.target.closest(".thing[data-way]");
    if (!thing || event.button) { return; }
    held = { thing: thing, x: event.clientX, y: event.clientY, by: 0, far: false };
    thing.setPointerCapture(event.pointerId);
  });

  picture.addEventListener("pointermove", function (event) {
    if (!held) { return; }
    var along = way(held.thing);
    held.by = dragged(event);
    held.far = held.far || Math.abs(event.clientX - held.x) + Math.abs(event.clientY - held.y) > LEAST;
    if (held.far) {
      held.thing.setAttribute("transform", "translate(" + held.by * along.x + " " + held.by * along.y + ")");
      tell(held.thing.dataset.name + ": " + (held.by / 0.0254).toFixed(2) + " in, " + Math.round(held.by * 1000) + " mm");
    }
  });

  function let_go(event) {
    if (!held) { return; }
    var was = held;
    held = null;
    if (event.type === "pointercancel" || !was.far) { was.thing.removeAttribute("transform"); return; }
    dropped = event.timeStamp;
    moved(JSON.parse(was.thing.dataset.path), was.by, was.thing);
  }

  picture.addEventListener("click", function (event) {
    if (event.timeStamp - dropped < 100) { event.stopImmediatePropagation(); }
  }, true);

  picture.addEventListener("pointerup", let_go);
  picture.addEventListener("pointercancel", let_go);

  picture.addEventListener("keydown", function (event) {
    var thing = event.target.closest(".thing[data-way]");
    var ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!thing || !ways) { return; }
    var along = way(thing), sign = Math.sign(ways[0] * along.x + ways[1] * along.y);
    if (!sign) { return; }
    event.preventDefault();
    moved(JSON.parse(thing.dataset.path), sign * STEP * (event.shiftKey ? 4 : 1), thing);
  });
};
