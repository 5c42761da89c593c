(function () {
  var folded = [];
  window.addEventListener("beforeprint", function () {
    folded = Array.from(document.querySelectorAll("details:not([open])"));
    folded.forEach(function (each) { each.open = true; });
  });
  window.addEventListener("afterprint", function () { folded.forEach(function (each) { each.open = false; }); });
})();
