"use strict";
/* Things in the picture that have a way are dragged along it: by the pointer, or by the arrow keys. moved(moves, metres, thing) is told.
   One that is held says why instead. */
window.dragThings = function (picture, moved, tell) {
  var held = null, dropped = -1e9, STEP = 0.00635, LEAST = 4;

  function way(thing) { var found = thing.dataset.way.split(" ").map(Number); return { x: found[0], y: found[1] }; }

  function dragged(event) {
    var along = way(held.thing), scale = held.thing.ownerSVGElement.getScreenCTM().a;
    var x = (event.clientX - held.x) / scale, y = (event.clientY - held.y) / scale;
    return within(held.thing, (x * along.x + y * along.y) / (along.x * along.x + along.y * along.y));
  }

  function within(thing, by) {
    var reach = (thing.dataset.reach || "-Infinity Infinity").split(" ").map(Number);
    return Math.max(reach[0], Math.min(reach[1], by));
  }

  function is_far(event) { return Math.abs(event.clientX - held.x) + Math.abs(event.clientY - held.y) > LEAST; }

  picture.addEventListener("pointerdown", function (event) {
    var thing = event.target.closest(".thing[data-way], .thing[data-held]");
    if (!thing || event.button) { return; }
    held = { thing: thing, x: event.clientX, y: event.clientY, by: 0, far: false };
    thing.setPointerCapture(event.pointerId);
  });

  picture.addEventListener("pointermove", function (event) {
    if (!held) { return; }
    held.far = held.far || is_far(event);
    if (held.thing.dataset.held) { if (held.far) { tell(held.thing.dataset.held); } return; }
    var along = way(held.thing);
    held.by = dragged(event);
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
    if (was.by) { moved(JSON.parse(was.thing.dataset.moves), was.by, was.thing); }
  }

  picture.addEventListener("click", function (event) {
    if (event.timeStamp - dropped < 100) { event.stopImmediatePropagation(); }
  }, true);

  /* A finger that drags does not scroll the page: browsers differ in whether they heed touch-action within a drawing. */
  picture.addEventListener("touchmove", function (event) {
    if (held && held.thing.dataset.way && event.cancelable) { event.preventDefault(); }
  }, { passive: false });

  picture.addEventListener("pointerup", let_go);
  picture.addEventListener("pointercancel", let_go);

  picture.addEventListener("keydown", function (event) {
    var thing = event.target.closest(".thing[data-way], .thing[data-held]");
    var ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!thing || !ways) { return; }
    if (thing.dataset.held) { event.preventDefault(); tell(thing.dataset.held); return; }
    var along = way(thing), sign = Math.sign(ways[0] * along.x + ways[1] * along.y);
    if (!sign) { return; }
    event.preventDefault();
    var by = within(thing, sign * STEP * (event.shiftKey ? 4 : 1));
    if (by) { moved(JSON.parse(thing.dataset.moves), by, thing); } else { tell(thing.dataset.name + ": as far as it goes; the rail's next point is there"); }
  });
};
