"use strict";
/* What is clicked in the picture, in a table or in a list of faults leads to its fields in the form. */
window.leadTo = function (form, tell) {
  function show(element) {
    for (var up = element; up && up !== form; up = up.parentElement) { if (up.tagName === "DETAILS") { up.open = true; } }
    element.scrollIntoView({ block: "center" });
    (element.querySelector("input, select, textarea, summary") || element).focus();
  }

  function called(name) {
    var found = [name].concat(name.replace(/^all /, ""), name.split(/ at | with | to |: |, /));
    found = found.concat(found.map(function (each) { return each.replace(/^(left|right) /, ""); }));
    return found.concat(found.map(function (each) { return each.replace(/^(left|right) rail$/, "rail"); }));
  }

  function group(name) {
    var groups = Array.from(form.querySelectorAll("details.group")), names = called(name), found = null;
    names.some(function (each) { found = groups.find(function (one) { return one.dataset.name === each; }); return found; });
    return found || Array.from(form.querySelectorAll(".field")).find(function (field) { return field.querySelector("textarea, input, select").value === name; });
  }

  function lead(event) {
    var from = event.target.closest("[data-name], [data-key]");
    if (!from || (event.type === "keydown" && event.key !== "Enter" && event.key !== " ")) { return; }
    if (event.type === "keydown") { event.preventDefault(); }
    var found = null, name = from.dataset.name;
    if (from.dataset.key) {
      found = Array.from(form.querySelectorAll(".field")).find(function (field) { return field.dataset.line === from.dataset.line && field.dataset.key === from.dataset.key; });
    } else {
      found = group(name);
      var inner = found && from.dataset.field && found.querySelector('.field[data-key="' + from.dataset.field + '"]');
      found = inner || found;
    }
    if (found) { show(found); } else { tell("no field is called " + (name || from.dataset.key)); }
  }

  return lead;
};
