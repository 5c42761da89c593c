"use strict";
(function () {
  var holder = document.getElementById("in-space");
  if (!holder) { return; }
  var frames = JSON.parse(document.getElementById("scene").textContent);
  var by = function (id) { return document.getElementById(id); };
  var canvas = by("view-canvas"), choice = by("view-case"), scale = by("view-scale"), which = by("view-which"), member = by("view-member");
  var draw = canvas.getContext("2d");
  var VIEWS = { space: [-0.5, 0.42], side: [0, 0], front: [-Math.PI / 2, 0], top: [0, Math.PI / 2] };
  var now = { yaw: -0.5, pitch: 0.42, size: 1, across: 0, up: 0 };
  var cases = frames[0].cases.filter(function (name) { return frames.every(function (each) { return each.cases.indexOf(name) >= 0; }); });
  if (!cases.length) { return; }
  var ink = {}, taken = [];

  function colours() {
    var root = getComputedStyle(document.documentElement);
    ["ink", "quiet", "back", "warn", "link"].forEach(function (name) { ink[name] = root.getPropertyValue("--" + name).trim(); });
  }
  function shown() { return frames.filter(function (_, at) { return which.value === "all" || Number(which.value) === at; }); }
  function numberIn(frame) { return frame.cases.indexOf(choice.value); }
  function timesDrawn() {
    return Number(scale.value) * Math.min.apply(null, shown().map(function (frame) { return frame.scales[numberIn(frame)]; }));
  }
  function moved(place, shift, times, step) {
    return [0, 1, 2].map(function (i) { return place[i] + times * step * shift[i]; });
  }
  function flat(place) {
    var depth = place[0] * Math.sin(now.yaw) + place[1] * Math.cos(now.yaw);
    return [place[0] * Math.cos(now.yaw) - place[1] * Math.sin(now.yaw),
      place[2] * Math.cos(now.pitch) + depth * Math.sin(now.pitch), depth * Math.cos(now.pitch) - place[2] * Math.sin(now.pitch)];
  }
  function onScreen(place) {
    var at = flat(place);
    return [canvas.clientWidth / 2 + (at[0] - now.across) * now.size, canvas.clientHeight / 2 - (at[1] - now.up) * now.size, at[2]];
  }

  function fit() {
    var low = [Infinity, Infinity], high = [-Infinity, -Infinity];
    frames.forEach(function (frame) {
      frame.members.forEach(function (each) {
        each.places.forEach(function (place) {
          var at = flat(place);
          for (var i = 0; i < 2; i++) { low[i] = Math.min(low[i], at[i]); high[i] = Math.max(high[i], at[i]); }
        });
      });
    });
    var wide = Math.max(high[0] - low[0], 1e-6), tall = Math.max(high[1] - low[1], 1e-6);
    now.size = Math.min((canvas.clientWidth - 130) / wide, (canvas.clientHeight - 130) / tall);
    now.across = (low[0] + high[0]) / 2; now.up = (low[1] + high[1]) / 2;
    paint();
  }
  function look(name) { now.yaw = VIEWS[name][0]; now.pitch = VIEWS[name][1]; fit(); }

  function stroke(a, b, colour, width, dash) {
    draw.strokeStyle = colour; draw.lineWidth = width; draw.setLineDash(dash || []);
    draw.beginPath(); draw.moveTo(a[0], a[1]); draw.lineTo(b[0], b[1]); draw.stroke(); draw.setLineDash([]);
  }
  function words(text, at, colour) {
    draw.font = "12px system-ui, sans-serif"; draw.textAlign = "left";
    var wide = draw.measureText(text).width, x = Math.max(2, Math.min(at[0], canvas.clientWidth - wide - 2)), y = at[1];
    [0, 13, -13, 26, -26, 39].some(function (lift) { y = at[1] + lift; return free(x, y, wide); }) || (y = at[1]);
    taken.push([x, y, wide]);
    draw.lineJoin = "round"; draw.lineWidth = 3; draw.strokeStyle = ink.back; draw.strokeText(text, x, y);
    draw.fillStyle = colour; draw.fillText(text, x, y);
  }
  function free(x, y, wide) {
    return taken.every(function (each) { return x > each[0] + each[2] || each[0] > x + wide || Math.abs(y - each[1]) > 12; });
  }
  function colour(frame, share) {
    return share > 1 ? frame.above : frame.colours[Math.round(Math.max(share, 0) * (frame.colours.length - 1))];
  }

  function pieces(frame, at, isSecond) {
    var number = numberIn(frame), times = timesDrawn(), found = [];
    frame.members.forEach(function (each) {
      var before = null;
      each.places.forEach(function (place, i) {
        var here = { built: onScreen(place), moved: onScreen(moved(place, each.moved[number][i], times, frame.steps[0])) };
        if (before) {
          var share = Math.max(each.used[number][i - 1], each.used[number][i]) * frame.steps[1];
          found.push({ a: before.built, b: here.built, depth: 1e9, colour: ink.quiet, width: 1 });
          found.push({ a: before.moved, b: here.moved, depth: (before.moved[2] + here.moved[2]) / 2, colour: colour(frame, share),
            width: 4, isOver: share > 1, dash: isSecond ? [7, 4] : [], isMember: true });
        }
        before = here;
      });
    });
    frame.arms.forEach(function (arm) {
      var ends = arm.places.map(function (place, i) { return onScreen(moved(place, arm.moved[number][i], times, frame.steps[0])); });
      ends.slice(1).forEach(function (end, i) {
        found.push({ a: ends[i], b: end, depth: (ends[i][2] + end[2]) / 2, colour: ink.ink, width: 2 });
      });
    });
    return found;
  }
  function paint() {
    var ratio = window.devicePixelRatio || 1, width = canvas.clientWidth, height = canvas.clientHeight;
    canvas.width = Math.round(width * ratio); canvas.height = Math.round(height * ratio);
    draw.setTransform(ratio, 0, 0, ratio, 0, 0); draw.clearRect(0, 0, width, height); draw.lineCap = "round";
    var all = [];
    taken = [];
    shown().forEach(function (frame) { all = all.concat(pieces(frame, 0, shown().length > 1 && frame === frames[1])); });
    all.sort(function (one, other) { return other.depth - one.depth; });
    all.forEach(function (each) {
      if (each.isMember) { draw.lineCap = "butt"; stroke(each.a, each.b, ink.ink, each.width + 1.6, each.dash); draw.lineCap = "round"; }
      stroke(each.a, each.b, each.colour, each.width, each.dash);
      if (each.isOver) { stroke(each.a, each.b, "#fff", 1.8, [2, 3]); }
    });
    compass(height);
    shown().forEach(function (frame) { labels(frame); pushes(frame); });
    said();
  }

  function labels(frame) {
    var number = numberIn(frame), times = timesDrawn(), owner = shown().length > 1 ? frame.title + " " : "";
    frame.members.forEach(function (each) {
      var most = each.used[number].reduce(function (best, value, i, all) { return value > all[best] ? i : best; }, 0);
      var worst = onScreen(moved(each.places[most], each.moved[number][most], times, frame.steps[0]));
      var text = [by("view-names").checked ? owner + each.name : "", by("view-values").checked ? Math.ceil(each.used[number][most] / 10 - 1e-6) + " %" : ""];
      text = text.filter(Boolean).join(": ");
      if (text) { words(text, [worst[0] + 6, worst[1] - 6], ink.ink); }
      if (by("view-values").checked) {
        draw.strokeStyle = ink.warn; draw.lineWidth = 1.5; draw.beginPath(); draw.arc(worst[0], worst[1], 5, 0, 7); draw.stroke();
      }
    });
    if (by("view-points").checked) {
      Object.keys(frame.points).forEach(function (name) {
        var at = onScreen(frame.points[name]);
        draw.fillStyle = ink.link; draw.fillRect(at[0] - 2, at[1] - 2, 4, 4); words(name, [at[0] + 5, at[1] + 12], ink.link);
      });
    }
  }
  function number(value) { return value >= 1000 ? value.toFixed(0) : value.toPrecision(3); }
  function pushes(frame) {
    if (!by("view-loads").checked) { return; }
    var rows = frame.pushes[numberIn(frame)], unit = frame.units.force;
    var sizes = rows.map(function (row) { return Math.hypot(row[2][0], row[2][1], row[2][2]); }), most = Math.max.apply(null, sizes.concat(1e-9));
    rows.forEach(function (row, i) {
      var long = 90 / now.size / most, tip = onScreen(row[1]);
      var tail = onScreen([0, 1, 2].map(function (axis) { return row[1][axis] - row[2][axis] * long; }));
      var tint = row[3] ? ink.ink : ink.link, dx = tip[0] - tail[0], dy = tip[1] - tail[1], size = Math.hypot(dx, dy);
      stroke(tail, tip, tint, 2);
      if (size > 8) {
        dx *= 8 / size; dy *= 8 / size;
        stroke(tip, [tip[0] - dx - dy / 2, tip[1] - dy + dx / 2], tint, 2); stroke(tip, [tip[0] - dx + dy / 2, tip[1] - dy - dx / 2], tint, 2);
        words(number(sizes[i] / unit[1]) + " " + unit[0] + (row[3] ? " (support)" : ""), [tail[0] + 4, tail[1] + (dy > 0 ? -4 : 12)], tint);
      }
      if (row[4]) { turned(row[1], row[4], tint, frame.units.moment); }
    });
  }
  function turned(at, moment, tint, unit) {
    var size = Math.hypot(moment[0], moment[1], moment[2]), axis = moment.map(function (each) { return each / size; });
    var low = [0, 1, 2].reduce(function (best, i) { return Math.abs(axis[i]) < Math.abs(axis[best]) ? i : best; }, 0);
    var first = cross(axis, [0, 1, 2].map(function (i) { return i === low ? 1 : 0; })), long = Math.hypot(first[0], first[1], first[2]);
    first = first.map(function (each) { return each / long; });
    var other = cross(axis, first), points = [];
    for (var i = 0; i < 25; i += 1) {
      var angle = 1.6 * Math.PI * i / 24, x = 15 / now.size * Math.cos(angle), y = 15 / now.size * Math.sin(angle);
      points.push(onScreen([0, 1, 2].map(function (axis) { return at[axis] + x * first[axis] + y * other[axis]; })));
      if (i) { stroke(points[i - 1], points[i], tint, 2); }
    }
    var tip = points[24], dx = tip[0] - points[22][0], dy = tip[1] - points[22][1], step = 7 / Math.max(Math.hypot(dx, dy), 1e-6);
    dx *= step; dy *= step;
    stroke(tip, [tip[0] - dx - dy / 2, tip[1] - dy + dx / 2], tint, 2); stroke(tip, [tip[0] - dx + dy / 2, tip[1] - dy - dx / 2], tint, 2);
    words(number(size / unit[1]) + " " + unit[0], [onScreen(at)[0] + 18, onScreen(at)[1] - 14], tint);
  }
  function cross(a, b) { return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]; }
  function compass(height) {
    [["x forward", [1, 0, 0]], ["y left", [0, 1, 0]], ["z up", [0, 0, 1]]].forEach(function (axis) {
      var tip = flat(axis[1]), corner = [52, height - 46], end = [corner[0] + 34 * tip[0], corner[1] - 34 * tip[1]];
      if (Math.hypot(tip[0], tip[1]) > 0.05) { stroke(corner, end, ink.ink, 1.5); words(axis[0], [end[0] + 3, end[1] + 4], ink.ink); }
    });
  }
  function said() {
    by("view-said").textContent = shown().map(function (frame) {
      return (frames.length > 1 ? frame.title + ": " : "") + choice.value + ": " + frame.governs[numberIn(frame)] + " used, which governs";
    }).join(". ") + ". Movements drawn " + Number(timesDrawn().toPrecision(3)) + " times" + (shown().length > 1 ? ", the same in both; dashed: " + frames[1].title : "") + ".";
    by("view-case-printed").textContent = choice.value;
  }
  function tick(event) { if (event) { holder.classList.add("chosen"); } paint(); }
  function chosen(event) { if (event) { holder.classList.add("chosen"); } paint(); tables(); }
  function tables() { if (window.framecheckTables) { window.framecheckTables(frames, shown(), choice.value, member, ink); } }

  var held = {}, count = 0;
  canvas.addEventListener("pointerdown", function (event) { held[event.pointerId] = [event.clientX, event.clientY]; count = Object.keys(held).length; canvas.setPointerCapture(event.pointerId); });
  canvas.addEventListener("pointermove", function (event) {
    var from = held[event.pointerId];
    if (!from) { return; }
    var dx = event.clientX - from[0], dy = event.clientY - from[1];
    if (count > 1) {
      var other = held[Object.keys(held).filter(function (id) { return Number(id) !== event.pointerId; })[0]];
      closer(Math.hypot(event.clientX - other[0], event.clientY - other[1]) / Math.max(Math.hypot(from[0] - other[0], from[1] - other[1]), 1));
    }
    if (count > 1 || event.shiftKey || event.buttons & 6) { pan(dx / (count > 1 ? 2 : 1), dy / (count > 1 ? 2 : 1)); } else { turn(dx * 0.008, dy * 0.008); }
    held[event.pointerId] = [event.clientX, event.clientY];
  });
  ["pointerup", "pointercancel"].forEach(function (name) { canvas.addEventListener(name, function (event) { delete held[event.pointerId]; count = Object.keys(held).length; }); });
  canvas.addEventListener("contextmenu", function (event) { event.preventDefault(); });
  canvas.addEventListener("wheel", function (event) { if (event.ctrlKey) { event.preventDefault(); closer(event.deltaY < 0 ? 1.1 : 1 / 1.1); } }, { passive: false });
  function turn(yaw, pitch) { now.yaw += yaw; now.pitch = Math.max(-1.57, Math.min(1.57, now.pitch + pitch)); tick(true); }
  function pan(dx, dy) { now.across -= dx / now.size; now.up += dy / now.size; tick(true); }
  function closer(times) { now.size = Math.max(1, Math.min(1e5, now.size * times)); tick(true); }
  var keys = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] };
  var views = { 1: "space", 2: "side", 3: "front", 4: "top" };
  canvas.addEventListener("keydown", function (event) {
    var step = keys[event.key];
    if (step) { event.preventDefault(); if (event.shiftKey) { pan(200 * step[0], 200 * step[1]); } else { turn(step[0], step[1]); } }
    if (event.key === "+" || event.key === "=") { closer(1.1); }
    if (event.key === "-") { closer(1 / 1.1); }
    if (event.key === "0" || event.key === "Home") { look("space"); }
    if (views[event.key]) { look(views[event.key]); }
  });
  by("view-reset").addEventListener("click", function () { look("space"); });
  by("view-fit").addEventListener("click", fit);
  Array.prototype.forEach.call(holder.querySelectorAll("[data-look]"), function (each) { each.addEventListener("click", function () { look(each.dataset.look); }); });
  ["view-names", "view-values", "view-points", "view-loads"].forEach(function (id) { by(id).addEventListener("change", tick); });
  [choice, which, member].forEach(function (each) { each.addEventListener("change", chosen); });
  scale.addEventListener("input", tick);
  window.addEventListener("resize", function () { fit(); tables(); });
  window.addEventListener("afterprint", function () { colours(); paint(); tables(); });
  window.addEventListener("beforeprint", function () { ink = { ink: "#1b1f24", quiet: "#57606a", back: "#ffffff", warn: "#8f1d16", link: "#0b5fa5" }; paint(); tables(); });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", function () { colours(); paint(); tables(); });

  by("view-colours").style.background = "linear-gradient(to right, " + frames[0].colours.join(", ") + ")";
  cases.forEach(function (name) { choice.add(new Option(name, name)); });
  frames.forEach(function (frame, at) { which.add(new Option(frame.title, at)); });
  if (frames.length > 1) { which.add(new Option("all, one over the other", "all")); which.value = "all"; } else { which.parentNode.hidden = true; }
  frames[0].members.forEach(function (each) { member.add(new Option(each.name, each.name)); });
  if (frames[0].first) { member.value = frames[0].first; }
  holder.hidden = false;
  colours(); fit(); tables();
}());
