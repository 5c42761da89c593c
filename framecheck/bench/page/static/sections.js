"use strict";
(function () {
  var base = document.body.dataset.base, timer = 0, turn = 0;
  var shown = document.getElementById("compared");

  function ask() {
    var mine = ++turn, given = {};
    ["first", "second", "units"].forEach(function (name) { given[name] = document.getElementById(name).value; });
    fetch(base + "/do/sections", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(given) })
      .then(function (reply) { return reply.json(); })
      .then(function (found) {
        if (mine !== turn) { return; }
        if (found.html) { shown.innerHTML = found.html; } else { shown.textContent = found.refused.join(" "); }
      })
      .catch(function () { shown.textContent = "framecheck does not answer: is it still running in its terminal?"; });
  }

  document.getElementById("two").addEventListener("input", function () { clearTimeout(timer); timer = setTimeout(ask, 250); });
  document.getElementById("two").addEventListener("submit", function (event) { event.preventDefault(); ask(); });
  ask();
})();
