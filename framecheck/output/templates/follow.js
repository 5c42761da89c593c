(function () {
  var ROW = 46, LEFT = 220;
  function number(value) { return Math.abs(value) >= 1000 ? value.toFixed(0) : value.toPrecision(3); }
  function cell(row, kind, text, isNumber) {
    var made = document.createElement(kind);
    if (kind === "th") { made.scope = row.parentNode.tagName === "THEAD" ? "col" : "row"; }
    if (isNumber) { made.className = "number"; }
    made.textContent = text; row.appendChild(made);
  }
  function line(within, cells, kind) {
    var row = within.appendChild(document.createElement("tr"));
    cells.forEach(function (text, at) { cell(row, at === 0 || kind === "th" ? "th" : "td", text, at > 0); });
  }
  function members(frames, name) {
    var table = document.getElementById("view-table"), head = table.tHead, body = table.tBodies[0];
    head.replaceChildren(); body.replaceChildren();
    table.caption.textContent = "Members in " + name + ": share of what is allowed on yield, where, and the largest movement";
    var many = frames.length > 1, unit = frames[0].units;
    line(head, [many ? "frame and member" : "member", "used, %", "station, " + unit.station[0], "movement, " + unit.moved[0]], "th");
    var rows = [];
    frames.forEach(function (frame) {
      var number = frame.cases.indexOf(name);
      frame.members.forEach(function (each) {
        var used = each.used[number], most = used.reduce(function (best, value, i) { return value > used[best] ? i : best; }, 0);
        var moves = Math.max.apply(null, each.moved[number].map(function (by) { return Math.hypot(by[0], by[1], by[2]); }));
        rows.push([used[most], (many ? frame.title + ": " : "") + each.name, (each.stations[most] / unit.station[1]).toFixed(1),
          (moves * frame.steps[0] / unit.moved[1]).toPrecision(3)]);
      });
    });
    rows.sort(function (one, other) { return other[0] - one[0]; });
    rows.forEach(function (row) { line(body, [row[1], Math.ceil(row[0] / 10 - 1e-6) + (row[0] > 1000 ? " LOW" : ""), row[2], row[3]]); });
  }
  function values(each, at) { return each.member.forces[each.number][at] || each.member.used[each.number]; }
  function ends(values) { return Math.max.apply(null, values.map(Math.abs).concat(1e-12)); }
  function diagrams(frames, name, chosen, ink) {
    var canvas = document.getElementById("view-along"), rows = frames[0].rows, draw = canvas.getContext("2d");
    var ratio = window.devicePixelRatio || 1, width = canvas.clientWidth, height = ROW * (rows.length + 1) + 40;
    canvas.style.height = height + "px"; LEFT = Math.min(220, 0.45 * width);
    canvas.width = Math.round(width * ratio); canvas.height = Math.round(height * ratio);
    draw.setTransform(ratio, 0, 0, ratio, 0, 0); draw.clearRect(0, 0, width, height); draw.font = "12px system-ui, sans-serif";
    var found = frames.map(function (frame) {
      return { frame: frame, member: frame.members.filter(function (each) { return each.name === chosen; })[0], number: frame.cases.indexOf(name) };
    }).filter(function (each) { return each.member; });
    if (!found.length) { return; }
    var longest = ends(found[0].member.stations), unit = frames[0].units.station, x = function (station) { return LEFT + (width - LEFT - 80) * station / longest; };
    rows.forEach(function (row, at) {
      var unitBeside = width < 500 ? " " + row[0].split(", ")[1] : "", middle = ROW * (at + 0.6), reach = ends([].concat.apply([], found.map(function (each) { return values(each, at); })));
      draw.fillStyle = ink.ink; draw.textAlign = "right"; draw.fillText(width < 500 ? row[0].split(",")[0].slice(0, 22) : row[0], LEFT - 8, middle + 4);
      draw.strokeStyle = ink.quiet; draw.lineWidth = 1; draw.beginPath(); draw.moveTo(LEFT, middle); draw.lineTo(x(longest), middle); draw.stroke();
      found.forEach(function (each, second) {
        var line = values(each, at), most = 0;
        draw.strokeStyle = second ? ink.warn : ink.link; draw.lineWidth = 1.8; draw.setLineDash(second ? [6, 4] : []); draw.beginPath();
        line.forEach(function (value, i) {
          if (Math.abs(value) > Math.abs(line[most])) { most = i; }
          draw[i ? "lineTo" : "moveTo"](x(each.member.stations[i]), middle - 0.42 * ROW * value / reach);
        });
        draw.stroke(); draw.setLineDash([]);
        draw.fillStyle = second ? ink.warn : ink.link; draw.textAlign = "left";
        draw.fillText(line[most] ? number(line[most] * row[1]) + unitBeside : "none", x(longest) + 6, middle + 4 + (found.length > 1 ? 12 * second - 6 : 0));
      });
    });
    var foot = ROW * (rows.length + 0.4);
    draw.fillStyle = ink.ink; draw.strokeStyle = ink.ink; draw.textAlign = "center";
    (width < 500 ? [0, 0.5, 1] : [0, 0.25, 0.5, 0.75, 1]).forEach(function (share) { draw.fillText((longest * share / unit[1]).toFixed(1), x(longest * share), foot + 14); });
    draw.fillText("station, " + unit[0] + " (at the right: the largest of each)", x(longest / 2), foot + 32);
  }
  window.framecheckTables = function (all, frames, name, member, ink) { members(frames, name); diagrams(frames, name, member.value, ink); };
}());
