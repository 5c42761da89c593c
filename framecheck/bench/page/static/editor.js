"use strict";
(function () {
  var base = document.body.dataset.base;
  var asked = new URLSearchParams(location.search);
  var start = asked.get("start") || "", key = "framecheck " + (asked.get("file") || "start " + start);
  var parts = {};
  ["form", "picture", "verdict", "now", "before", "yaml", "file", "save", "revert", "undo", "redo", "said", "name"].forEach(function (id) {
    parts[id] = document.getElementById(id);
  });
  var state = { text: "", saved: "", sha256: "", past: [], future: [], faults: [] };
  var timers = {}, turn = 0, forms = 0, edits = Promise.resolve();
  var PAUSE = 200, MOST_UNDONE = 200;

  function post(name, given) {
    var sent = { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(given) };
    return fetch(base + "/do/" + name, sent).then(function (reply) {
      return reply.json().then(function (found) { if (found.refused) { throw new Error(found.refused.join(" ")); } return found; });
    });
  }

  function tell(words) { parts.said.textContent = words; }

  function failed(error) {
    tell(error instanceof TypeError ? "framecheck does not answer: is it still running in its terminal? Nothing is lost here." : error.message);
  }

  function later(name, wait, what) { clearTimeout(timers[name]); timers[name] = setTimeout(what, wait); }

  function keep() {
    try { localStorage.setItem(key, JSON.stringify({ text: state.text, sha256: state.sha256, saved: state.saved, file: parts.file.value })); } catch (error) { /* no room: the page itself still has it */ }
  }

  function change(text, from) {
    if (text === state.text) { return; }
    state.past.push(state.text);
    if (state.past.length > MOST_UNDONE) { state.past.shift(); }
    state.future = [];
    set(text, from);
  }

  function set(text, from) {
    state.text = text;
    if (from !== "yaml") { parts.yaml.value = text; }
    parts.undo.disabled = !state.past.length;
    parts.redo.disabled = !state.future.length;
    document.title = (text === state.saved ? "" : "* ") + (parts.file.value || "case");
    keep();
    if (from !== "field") { later("form", from === "yaml" ? PAUSE : 0, draw); }
    later("answer", PAUSE, answer);
  }

  function open() {
    var found = {};
    parts.form.querySelectorAll("details").forEach(function (each) { found[each.className + each.dataset.path] = each.open; });
    return found;
  }

  function draw() {
    var mine = ++forms, was = open(), at = document.activeElement && document.activeElement.id;
    return post("form", { text: state.text, start: start }).then(function (found) {
      if (mine !== forms) { return; }
      parts.form.innerHTML = found.html;
      parts.form.querySelectorAll("details").forEach(function (each) {
        var before = was[each.className + each.dataset.path];
        if (before !== undefined) { each.open = before; }
      });
      var again = at && document.getElementById(at);
      if (again && parts.form.contains(again)) { again.focus(); }
      showFaults();
    }).catch(failed);
  }

  function answer() {
    var mine = ++turn;
    tell("working ...");
    return post("answer", { text: state.text, file: parts.file.value }).then(function (found) {
      if (mine !== turn || found.state === "given up") { return; }
      tell(state.text === state.saved ? "saved" : "not saved");
      parts.verdict.innerHTML = found.verdict;
      if (found.state !== "refused" && found.state !== "no answer") {
        parts.now.innerHTML = found.answer;
        if (!parts.before.innerHTML) { parts.before.innerHTML = found.verdict + found.answer; }
      }
      parts.now.classList.toggle("old", found.state === "refused" || found.state === "no answer");
      if (found.picture) { parts.picture.innerHTML = found.picture; }
      state.faults = found.faults;
      showFaults();
    }).catch(failed);
  }

  function showFaults() {
    parts.form.querySelectorAll(".field").forEach(function (field) {
      var mine = state.faults.filter(function (fault) { return String(fault.line) === field.dataset.line && fault.key === field.dataset.key; });
      var place = field.querySelector(".fault"), input = field.querySelector("input, select, textarea");
      place.hidden = !mine.length;
      place.textContent = mine.map(function (fault) { return fault.fault + "; " + fault.remedy; }).join(" ");
      if (mine.length) { input.setAttribute("aria-invalid", "true"); } else { input.removeAttribute("aria-invalid"); }
    });
  }

  function edit(given, from) {
    edits = edits.then(function () {
      return post("edit", Object.assign({ text: state.text }, given)).then(function (found) { change(found.text, from); });
    }).catch(failed);
    return edits;
  }

  function typed(event) {
    var field = event.target.closest(".field");
    if (!field) { return; }
    var input = event.target, path = JSON.parse(field.dataset.path);
    var redraws = input.tagName === "SELECT" || input.dataset.how === "source";
    parts.form.querySelectorAll(".field").forEach(function (other) {
      var twin = other !== field && other.dataset.path === field.dataset.path && other.querySelector("input, select, textarea");
      if (twin) { twin.value = input.value; }
    });
    later("edit " + field.dataset.path, input.tagName === "SELECT" ? 0 : PAUSE, function () {
      edit({ how: input.dataset.how, path: path, value: input.value }, redraws && event.type === "change" ? "block" : "field");
    });
  }

  function pressed(event) {
    var button = event.target.closest("button");
    if (!button) { return; }
    if (button.dataset.remove) { edit({ how: "remove", path: JSON.parse(button.dataset.remove) }, "block"); }
    if (button.dataset.add) {
      var path = JSON.parse(button.dataset.add), name = button.dataset.ask ? window.prompt(button.dataset.ask) : null;
      if (button.dataset.ask && !name) { return; }
      if (name) { path[path.length - 1] = name; }
      edit({ how: "add", path: path, value: button.dataset.begins || "''" }, "block");
    }
  }

  function show(element) {
    for (var up = element; up && up !== parts.form; up = up.parentElement) { if (up.tagName === "DETAILS") { up.open = true; } }
    element.scrollIntoView({ block: "center" });
    (element.querySelector("input, select, textarea, summary") || element).focus();
  }

  function lead(event) {
    var from = event.target.closest("[data-name], [data-key]");
    if (!from || (event.type === "keydown" && event.key !== "Enter" && event.key !== " ")) { return; }
    if (event.type === "keydown") { event.preventDefault(); }
    var found = null, name = from.dataset.name;
    if (from.dataset.key) {
      found = Array.from(parts.form.querySelectorAll(".field")).find(function (field) { return field.dataset.line === from.dataset.line && field.dataset.key === from.dataset.key; });
    } else {
      var names = [name, name.replace(/^(left|right) rail$/, "rail"), name.replace(/^(left|right) /, "")];
      found = Array.from(parts.form.querySelectorAll("details.group")).find(function (group) { return names.indexOf(group.dataset.name) >= 0; });
    }
    if (found) { show(found); } else { tell("no field is called " + (name || from.dataset.key)); }
  }

  function save(anyway) {
    return post("save", { file: parts.file.value, text: state.text, sha256: state.sha256, anyway: anyway }).then(function (found) {
      if (found.changed) {
        if (window.confirm(found.changed + "\n\nSave over it?")) { return save(true); }
        return tell("not saved: " + found.changed);
      }
      state.sha256 = found.sha256; state.saved = state.text;
      document.title = parts.file.value; keep(); tell("saved");
    }).catch(failed);
  }

  function move(from, to) {
    if (!from.length) { return; }
    to.push(state.text);
    set(from.pop(), "block");
  }

  function begin() {
    var given = start ? { start: start } : { file: asked.get("file") || "" }, kept = null;
    try { kept = JSON.parse(localStorage.getItem(key) || "null"); } catch (error) { kept = null; }
    post("load", given).then(function (found) {
      parts.file.value = found.name; parts.name.textContent = found.name;
      state.saved = start ? "" : found.text; state.sha256 = found.sha256;
      if (kept && kept.text !== found.text && kept.text !== kept.saved) {
        parts.file.value = kept.file || found.name; state.past = [found.text];
        if (kept.sha256 !== found.sha256) { tell("The file was changed outside this page; what you had typed is shown. Undo gives the file."); }
        set(kept.text, "block");
      } else { set(found.text, "block"); }
    }).catch(failed);
  }

  parts.form.addEventListener("input", typed);
  parts.form.addEventListener("change", typed);
  parts.form.addEventListener("click", pressed);
  [parts.picture, parts.verdict, parts.now].forEach(function (part) { part.addEventListener("click", lead); part.addEventListener("keydown", lead); });
  parts.yaml.addEventListener("input", function () { later("yaml", PAUSE, function () { change(parts.yaml.value, "yaml"); }); });
  parts.save.addEventListener("click", function () { save(false); });
  parts.undo.addEventListener("click", function () { move(state.past, state.future); });
  parts.redo.addEventListener("click", function () { move(state.future, state.past); });
  parts.revert.addEventListener("click", function () { change(state.saved || state.past[0] || state.text, "block"); });
  document.addEventListener("keydown", function (event) {
    if ((event.ctrlKey || event.metaKey) && event.key === "s") { event.preventDefault(); save(false); }
  });
  begin();
})();
