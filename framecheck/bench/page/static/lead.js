"use strict";
/* What is clicked in the picture, in a table or in a list of faults leads to its fields in the form. */
window.leadTo = function (form, tell) {
  function show(element) {
    for (var up = element; up && up !== form; up = up.parentElement) { if (up.tagName === "DETAILS") { up.open = true; } }
    element.scrollIntoView({ block: "center" });
    var own = Array.from(element.querySelectorAll("input, select, textarea")).find(function (each) { return each.closest("details") === element.closest("details"); });
    (own || element.querySelector("summary") || element).focus();
  }

  function called(name) {
    var found = [name].concat(name.replace(/^all /, ""), name.split(/ at | with | to |: |, /));
    found = found.concat(found.map(function (each) { return each.replace(/^(left|right) /, ""); }));
    return found.concat(found.map(function (each) { return each.replace(/^(left|right) rail$/, "rail"); }));
  }

  function words(name) { return name.toLowerCase().split(/[^a-z0-9]+/).map(function (each) { return each.replace(/s$/, ""); }); }

  function nearest(groups, name) {
    var said = words(name), best = null, most = 0;
    groups.forEach(function (one) {
      var own = words(one.dataset.name);
      if (own.length > most && own.every(function (each) { return said.indexOf(each) >= 0; })) { best = one; most = own.length; }
    });
    return best;
  }

  function group(name, first) {
    var groups = Array.from(form.querySelectorAll("details.group")), fields = Array.from(form.querySelectorAll(".field")), found = null;
    var within = groups.filter(function (one) { return one.dataset.path.indexOf(first) === 0; });
    called(name).some(function (each) { found = within.find(function (one) { return one.dataset.name === each; }); return found; });
    if (first && found) { return found; }
    called(name).some(function (each) {
      found = groups.find(function (one) { return one.dataset.name === each; }) ||
        fields.find(function (field) { return field.querySelector("textarea, input, select").value === each; });
      return found;
    });
    return found || nearest(groups, name);
  }

  function lead(event) {
    var from = event.target.closest("[data-name], [data-key]");
    if (!from || (event.type === "keydown" && event.key !== "Enter" && event.key !== " ")) { return; }
    if (event.type === "keydown") { event.preventDefault(); }
    var found = null, name = from.dataset.name;
    if (from.dataset.key) {
      found = Array.from(form.querySelectorAll(".field")).find(function (field) { return field.dataset.line === from.dataset.line && field.dataset.key === from.dataset.key; });
    } else {
      found = group(name, from.classList.contains("thing") ? '["frame"' : "");
      var field = from.dataset.field;
      var inner = found && field && found.querySelector('.field[data-key="' + field + '"], details.group[data-name="' + field + '"]');
      found = inner || found;
    }
    if (found) { show(found); } else { tell("no field is called " + (name || from.dataset.key)); }
  }

  return lead;
};
