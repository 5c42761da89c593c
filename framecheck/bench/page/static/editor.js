"use strict";
(function () {
  var base = document.body.dataset.base;
  var asked = new URLSearchParams(location.search);
  var start = asked.get("start") || "", drawn = asked.get("new") || "";
  var key = "framecheck " + (asked.get("file") || (drawn ? "new " + drawn : "start " + start));
  var parts = {};
  ["form", "picture", "verdict", "test", "now", "sheets", "open", "before", "yaml", "file", "save", "revert", "undo", "redo", "said", "name"].forEach(function (id) {
    parts[id] = document.getElementById(id);
  });
  var state = { text: "", saved: "", sha256: "", past: [], future: [], faults: [] };
  var timers = {}, waiting = {}, unsent = {}, turn = 0, forms = 0, edits = Promise.resolve(), looked = [], used = null, written = -1e9;
  var tab = Array.from(crypto.getRandomValues(new Uint32Array(4))).join("-");
  var PAUSE = 200, ONE_STEP = 1000, MOST_UNDONE = 200;

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

  function later(name, wait, what) {
    clearTimeout(timers[name]);
    waiting[name] = what;
    timers[name] = setTimeout(function () { delete waiting[name]; what(); }, wait);
  }

  /* What was typed a moment ago is put into the text now, before it is saved, undone or printed. */
  function settle() {
    Object.keys(waiting).forEach(function (name) {
      if (name.indexOf("edit ") !== 0) { return; }
      clearTimeout(timers[name]);
      var what = waiting[name];
      delete waiting[name];
      what();
    });
    return edits;
  }

  function keep() {
    var rest = Object.keys(unsent).map(function (path) { return unsent[path]; });
    var draft = JSON.stringify({ text: state.text, sha256: state.sha256, saved: state.saved, file: parts.file.value, unsent: rest });
    [sessionStorage, localStorage].forEach(function (store) { try { store.setItem(key, draft); } catch (error) { /* no room: the page itself still has it */ } });
  }

  function kept() {
    var found = null;
    [sessionStorage, localStorage].forEach(function (store) { try { found = found || JSON.parse(store.getItem(key) || "null"); } catch (error) { /* not to be read */ } });
    return found;
  }

  function moveTo(name) {
    [sessionStorage, localStorage].forEach(function (store) { try { store.removeItem(key); } catch (error) { /* never there */ } });
    key = "framecheck " + name;
    drawn = "";
    history.replaceState(null, "", base + "/edit?file=" + encodeURIComponent(name) + (start ? "&start=" + start : ""));
    parts.name.textContent = name;
  }

  function change(text, from) {
    if (text === state.text) { return; }
    var goesOn = from === "yaml" && performance.now() - written < ONE_STEP;
    if (from === "yaml") { written = performance.now(); } else { written = -1e9; }
    if (!goesOn) { state.past.push(state.text); }
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
    later("answer", from === "yaml" ? PAUSE : 0, answer);
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
      parts.form.querySelectorAll(".field").forEach(usual);
      showFaults();
    }).catch(failed);
  }

  function answer() {
    var mine = ++turn;
    tell("working ...");
    return post("answer", { text: state.text, file: parts.file.value, start: start, path: looked, tab: tab }).then(function (found) {
      if (mine !== turn || found.state === "given up") { return; }
      tell(state.text === state.saved ? "saved" : "not saved");
      var isOld = found.state === "refused" || found.state === "no answer";
      parts.verdict.innerHTML = found.verdict;
      if (!isOld) { showAnswer(found); }
      [parts.now, parts.test, parts.sheets, parts.open].forEach(function (part) { part.classList.toggle("old", isOld); });
      parts.picture.classList.toggle("old", isOld && !found.picture);
      if (found.picture) { showPicture(found.picture); }
      state.faults = found.faults;
      showFaults();
    }).catch(failed);
  }

  function showAnswer(found) {
    parts.now.innerHTML = found.answer;
    parts.test.innerHTML = found.test;
    parts.sheets.innerHTML = found.sheets;
    parts.open.innerHTML = found.open;
    if (!used) {
      used = {};
      parts.before.innerHTML = found.verdict + found.answer;
      parts.before.querySelectorAll(".was").forEach(function (cell) { used[cell.dataset.kind] = cell.previousElementSibling.textContent; });
    }
    [parts.now, parts.before].forEach(function (part) {
      part.querySelectorAll(".was").forEach(function (cell) { cell.textContent = used[cell.dataset.kind] || ""; });
    });
  }

  function showPicture(picture) {
    var at = document.activeElement, was = parts.picture.contains(at) ? [at.dataset.name, at.dataset.way ? 1 : 0] : null;
    parts.picture.innerHTML = picture;
    if (!was) { return; }
    var again = Array.from(parts.picture.querySelectorAll(".thing")).find(function (thing) { return thing.dataset.name === was[0] && (thing.dataset.way ? 1 : 0) === was[1]; });
    if (again) { again.focus(); }
  }

  function paper(event) {
    var what = event.target.dataset.paper;
    tell(what + ": being made ...");
    settle().then(function () { print(what); });
  }

  function print(what) {
    var body = JSON.stringify({ text: state.text, file: parts.file.value, paper: what, start: start, tab: tab });
    fetch(base + "/do/paper", { method: "POST", headers: { "content-type": "application/json" }, body: body }).then(function (reply) {
      var named = /filename\*=UTF-8''(.+)$/.exec(reply.headers.get("content-disposition") || "");
      if (!named) { return reply.json().then(function (found) { throw new Error(what + ": " + found.refused.join(" ")); }); }
      return reply.blob().then(function (content) {
        var link = document.createElement("a");
        link.href = URL.createObjectURL(content);
        link.download = decodeURIComponent(named[1]);
        link.click();
        setTimeout(function () { URL.revokeObjectURL(link.href); }, 60000);
        tell(what + " of what is shown here: " + link.download + ", saved where your browser puts downloads");
      });
    }).catch(failed);
  }

  function usual(field) {
    var place = field.querySelector(".usual"), input = field.querySelector("input, select, textarea");
    if (!place || field.dataset.usual === undefined) { return; }
    place.hidden = false;
    place.textContent = input.value === field.dataset.usual ? "usual value: put in your own" : "usual value: " + field.dataset.usual;
    field.classList.toggle("untouched", input.value === field.dataset.usual);
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

  /* A text that was changed meanwhile, by hand or by an undo, is edited again: neither change is lost. */
  function edited(given, from) {
    var sent = state.text;
    return post("edit", Object.assign({ text: sent }, given)).then(function (found) {
      return state.text === sent ? change(found.text, from) : edited(given, from);
    });
  }

  function edit(given, from) {
    edits = edits.then(function () { return edited(given, from); }).catch(failed).then(function () {
      Object.keys(unsent).forEach(function (path) { if (unsent[path] === given) { delete unsent[path]; } });
    });
    return edits;
  }

  function typed(event) {
    var field = event.target.closest(".field");
    if (!field) { return; }
    var input = event.target, path = JSON.parse(field.dataset.path);
    looked = path;
    var redraws = input.tagName === "SELECT" || input.dataset.how === "source";
    parts.form.querySelectorAll(".field").forEach(function (other) {
      var twin = other !== field && other.dataset.path === field.dataset.path && other.querySelector("input, select, textarea");
      if (twin) { twin.value = input.value; usual(other); }
    });
    usual(field);
    var given = { how: input.dataset.how, path: path, value: input.value }, from = redraws && event.type === "change" ? "block" : "field";
    unsent[field.dataset.path] = given;
    later("edit " + field.dataset.path, input.tagName === "SELECT" ? 0 : PAUSE, function () { edit(given, from); });
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

  function look(event) {
    var field = event.target.closest(".field");
    if (!field) { return; }
    var path = JSON.parse(field.dataset.path), block = JSON.stringify(path.slice(0, 3));
    if (block === JSON.stringify(looked.slice(0, 3))) { return; }
    looked = path;
    later("answer", 400, answer);
  }

  function outside() {
    if (document.hidden || !state.sha256) { return; }
    post("load", { file: parts.file.value }).then(function (found) {
      if (found.sha256 !== state.sha256) { tell("The file was changed outside this page. Save tells how; load the page's address anew in another tab to see it."); }
    }).catch(function () { /* told when it is saved */ });
  }

  function save(anyway) {
    return settle().then(function () { return put(anyway); });
  }

  function put(anyway) {
    return post("save", { file: parts.file.value, text: state.text, sha256: state.sha256, anyway: anyway }).then(function (found) {
      if (found.changed) {
        if (window.confirm(found.changed + "\n\nSave over it?")) { return put(true); }
        return tell("not saved: " + found.changed);
      }
      state.sha256 = found.sha256; state.saved = state.text;
      if (key !== "framecheck " + parts.file.value) { moveTo(parts.file.value); }
      document.title = parts.file.value; keep(); tell("saved");
    }).catch(failed);
  }

  function move(from, to) {
    return settle().then(function () {
      if (!state[from].length) { return; }
      state[to].push(state.text);
      written = -1e9;
      set(state[from].pop(), "block");
    });
  }

  function typedBefore(draft) { ((draft && draft.unsent) || []).forEach(function (given) { edit(given, "block"); }); }

  function begin() {
    var given = asked.get("file") ? { file: asked.get("file") } : { start: start }, draft = kept();
    if (drawn) {
      if (!draft) { tell("Nothing is kept of this frame: begin with its drawing or table again."); return; }
      parts.file.value = draft.file; parts.name.textContent = draft.file;
      if (draft.said) { parts.test.textContent = draft.said; }
      set(draft.text, "block");
      typedBefore(draft);
      return;
    }
    post("load", given).then(function (found) {
      parts.file.value = found.name; parts.name.textContent = found.name;
      state.saved = asked.get("file") ? found.text : ""; state.sha256 = found.sha256;
      if (draft && draft.text !== found.text && draft.text !== draft.saved) {
        parts.file.value = draft.file || found.name; state.past = [found.text];
        if (draft.sha256 !== found.sha256) { tell("The file was changed outside this page; what you had typed is shown. Undo gives the file."); }
        set(draft.text, "block");
      } else { set(found.text, "block"); }
      typedBefore(draft);
    }).catch(failed);
  }

  parts.form.addEventListener("input", typed);
  parts.form.addEventListener("change", typed);
  parts.form.addEventListener("click", pressed);
  parts.form.addEventListener("focusin", look);
  window.dragThings(parts.picture, function (moves, by) { looked = moves[0][0]; edit({ how: "move", moves: moves, value: by }, "block"); }, tell);
  document.querySelectorAll("[data-paper]").forEach(function (button) { button.addEventListener("click", paper); });
  document.addEventListener("visibilitychange", outside);
  var lead = window.leadTo(parts.form, tell);
  [parts.picture, parts.verdict, parts.now, parts.sheets].forEach(function (part) { part.addEventListener("click", lead); part.addEventListener("keydown", lead); });
  parts.yaml.addEventListener("input", function () { change(parts.yaml.value, "yaml"); });
  window.addEventListener("pagehide", keep);
  parts.save.addEventListener("click", function () { save(false); });
  parts.undo.addEventListener("click", function () { move("past", "future"); });
  parts.redo.addEventListener("click", function () { move("future", "past"); });
  parts.revert.addEventListener("click", function () { settle().then(function () { change(state.saved || state.past[0] || state.text, "block"); }); });
  document.addEventListener("keydown", function (event) {
    if ((event.ctrlKey || event.metaKey) && event.key === "s") { event.preventDefault(); save(false); }
  });
  begin();
})();
