"use strict";
(function () {
  var base = document.body.dataset.base, form = document.getElementById("lines"), said = document.getElementById("said");
  var names = ["source", "table", "unit", "overall", "front", "half", "tolerance", "section"];

  function told(faults) {
    names.forEach(function (name) {
      var mine = faults.filter(function (fault) { return fault.field === name; }), place = document.getElementById(name + "-fault");
      place.hidden = !mine.length;
      place.textContent = mine.map(function (fault) { return fault.said; }).join(" ");
      var field = document.getElementById(name);
      if (mine.length) { field.setAttribute("aria-invalid", "true"); } else { field.removeAttribute("aria-invalid"); }
    });
    var first = faults.length && document.getElementById(faults[0].field);
    if (first) { first.focus(); }
  }

  form.addEventListener("submit", function (event) {
    event.preventDefault();
    var given = {};
    names.forEach(function (name) { var field = document.getElementById(name); given[name] = field.type === "checkbox" ? field.checked : field.value; });
    said.textContent = "working ...";
    fetch(base + "/do/lines", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(given) })
      .then(function (reply) { return reply.json(); })
      .then(function (found) {
        if (found.refused) { said.textContent = found.refused.join(" "); return; }
        told(found.faults || []);
        if (found.faults) { said.textContent = ""; return; }
        var draft = JSON.stringify({ text: found.text, sha256: "", saved: "", file: found.name, said: found.found });
        sessionStorage.setItem("framecheck new " + found.name, draft);
        location.href = base + "/edit?new=" + encodeURIComponent(found.name);
      })
      .catch(function () { said.textContent = "framecheck does not answer: is it still running in its terminal?"; });
  });
})();
