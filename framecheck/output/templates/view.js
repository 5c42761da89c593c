"use strict";
(function () {
  var holder = document.getElementById("in-space");
  if (!holder) { return; }
  var data = JSON.parse(document.getElementById("scene").textContent);
  var canvas = document.getElementById("view-canvas");
  var choice = document.getElementById("view-case");
  var scale = document.getElementById("view-scale");
  var said = document.getElementById("view-said");
  var draw = canvas.getContext("2d");
  var start = { yaw: -0.5, pitch: 0.42, zoom: 1 };
  var now = { yaw: start.yaw, pitch: start.pitch, zoom: start.zoom };
  var middle = [0, 0, 0], reach = 1;

  function measure() {
    var low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    data.members.forEach(function (member) {
      member.places.forEach(function (place) {
        for (var i = 0; i < 3; i++) { low[i] = Math.min(low[i], place[i]); high[i] = Math.max(high[i], place[i]); }
      });
    });
    var sum = 0;
    for (var i = 0; i < 3; i++) { middle[i] = (low[i] + high[i]) / 2; sum += Math.pow(high[i] - low[i], 2); }
    reach = Math.max(Math.sqrt(sum) / 2, 1e-6);
  }

  function onScreen(place, width, height) {
    var x = place[0] - middle[0], y = place[1] - middle[1], z = place[2] - middle[2];
    var cosYaw = Math.cos(now.yaw), sinYaw = Math.sin(now.yaw);
    var cosPitch = Math.cos(now.pitch), sinPitch = Math.sin(now.pitch);
    var across = x * cosYaw - y * sinYaw;
    var depth = x * sinYaw + y * cosYaw;
    var size = 0.47 * Math.min(width, height * 1.9) / reach * now.zoom;
    return [width / 2 + across * size, height / 2 - (z * cosPitch + depth * sinPitch) * size, depth * cosPitch - z * sinPitch];
  }

  function colour(share, top) {
    var step = Math.round(Math.min(share / top, 1) * (data.colours.length - 1));
    return data.colours[step];
  }

  function largest(number) {
    return data.members.reduce(function (most, member) {
      return Math.max(most, Math.max.apply(null, member.used[number]));
    }, 1e-9);
  }

  function paint() {
    var ratio = window.devicePixelRatio || 1;
    var width = canvas.clientWidth, height = canvas.clientHeight;
    canvas.width = Math.round(width * ratio); canvas.height = Math.round(height * ratio);
    draw.setTransform(ratio, 0, 0, ratio, 0, 0);
    draw.clearRect(0, 0, width, height);
    var number = choice.selectedIndex, times = Number(scale.value) * data.scales[number], top = largest(number);
    var pieces = [];
    data.members.forEach(function (member) {
      var before = null, beforeMoved = null;
      member.places.forEach(function (place, at) {
        var shift = member.moved[number][at];
        var moved = [place[0] + times * shift[0], place[1] + times * shift[1], place[2] + times * shift[2]];
        var built = onScreen(place, width, height), now3 = onScreen(moved, width, height);
        if (before) {
          pieces.push({ a: before, b: built, depth: 1e9, colour: "#8b949e", width: 1 });
          var share = Math.max(member.used[number][at - 1], member.used[number][at]);
          pieces.push({ a: beforeMoved, b: now3, depth: (beforeMoved[2] + now3[2]) / 2, colour: colour(share, top), width: 4 });
        }
        before = built; beforeMoved = now3;
      });
    });
    data.arms.forEach(function (arm) {
      var ends = arm.places.map(function (place, at) {
        var shift = arm.moved[number][at];
        return onScreen([place[0] + times * shift[0], place[1] + times * shift[1], place[2] + times * shift[2]], width, height);
      });
      pieces.push({ a: ends[0], b: ends[1], depth: (ends[0][2] + ends[1][2]) / 2, colour: "#1b1f24", width: 2 });
    });
    pieces.sort(function (one, other) { return other.depth - one.depth; });
    draw.lineCap = "round";
    pieces.forEach(function (piece) {
      draw.strokeStyle = piece.colour; draw.lineWidth = piece.width;
      draw.beginPath(); draw.moveTo(piece.a[0], piece.a[1]); draw.lineTo(piece.b[0], piece.b[1]); draw.stroke();
    });
    compass(width, height);
    document.getElementById("view-top").textContent = Math.round(100 * top) + " % of the yield strength";
    said.textContent = data.cases[number] + ": movements drawn " + Math.round(times) + " times; the lightest colour is " +
      Math.round(100 * top) + " % of the yield strength, the darkest is none.";
  }

  function compass(width, height) {
    var origin = onScreen(middle, width, height), size = reach * 0.16 / now.zoom;
    [["x forward", [size, 0, 0]], ["y left", [0, size, 0]], ["z up", [0, 0, size]]].forEach(function (axis) {
      var tip = onScreen([middle[0] + axis[1][0], middle[1] + axis[1][1], middle[2] + axis[1][2]], width, height);
      var dx = tip[0] - origin[0], dy = tip[1] - origin[1], cornerX = 56, cornerY = height - 48;
      draw.strokeStyle = "#1b1f24"; draw.lineWidth = 1.5;
      draw.beginPath(); draw.moveTo(cornerX, cornerY); draw.lineTo(cornerX + dx, cornerY + dy); draw.stroke();
      draw.fillStyle = "#1b1f24"; draw.font = "12px sans-serif";
      draw.fillText(axis[0], cornerX + dx * 1.15 + 2, cornerY + dy * 1.15 + 4);
    });
  }

  function turn(yaw, pitch) {
    now.yaw += yaw;
    now.pitch = Math.max(-1.57, Math.min(1.57, now.pitch + pitch));
    paint();
  }
  function closer(times) { now.zoom = Math.max(0.3, Math.min(12, now.zoom * times)); paint(); }
  function reset() { now = { yaw: start.yaw, pitch: start.pitch, zoom: start.zoom }; paint(); }

  var held = null;
  canvas.addEventListener("pointerdown", function (event) { held = [event.clientX, event.clientY]; canvas.setPointerCapture(event.pointerId); });
  canvas.addEventListener("pointermove", function (event) {
    if (!held) { return; }
    turn((event.clientX - held[0]) * 0.008, (event.clientY - held[1]) * 0.008);
    held = [event.clientX, event.clientY];
  });
  ["pointerup", "pointercancel"].forEach(function (name) { canvas.addEventListener(name, function () { held = null; }); });
  canvas.addEventListener("wheel", function (event) { event.preventDefault(); closer(event.deltaY < 0 ? 1.1 : 1 / 1.1); }, { passive: false });
  var keys = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] };
  canvas.addEventListener("keydown", function (event) {
    if (keys[event.key]) { event.preventDefault(); turn(keys[event.key][0], keys[event.key][1]); }
    if (event.key === "+" || event.key === "=") { closer(1.1); }
    if (event.key === "-") { closer(1 / 1.1); }
    if (event.key === "0" || event.key === "Home") { reset(); }
  });
  document.getElementById("view-reset").addEventListener("click", reset);
  choice.addEventListener("change", paint);
  scale.addEventListener("input", paint);
  window.addEventListener("resize", paint);

  document.getElementById("view-colours").style.background = "linear-gradient(to right, " + data.colours.join(", ") + ")";
  data.cases.forEach(function (name) { choice.add(new Option(name, name)); });
  measure();
  holder.hidden = false;
  paint();
}());
