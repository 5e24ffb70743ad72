/* Shows the photographs of a sheet large, one after another: left and right turn, Escape closes, and focus returns to the picture.
   Without this script every photograph is a plain link to its largest file, as it is with a modifier key held. */
(function () {
  "use strict";
  var links = Array.prototype.slice.call(document.querySelectorAll("a.large"));
  var first = links.filter(function (link, at) {
    return links.findIndex(function (other) { return other.href === link.href; }) === at;
  });
  if (!first.length || typeof HTMLDialogElement === "undefined") return;

  function made(name, text) {
    var element = document.createElement(name);
    if (text) element.textContent = text;
    return element;
  }

  var view = made("dialog"), picture = made("img"), words = made("p"), count = made("p"), bar = made("div");
  var back = made("button", "Back"), on = made("button", "Next"), close = made("button", "Close");
  var at = 0;
  view.className = "large-view";
  view.setAttribute("aria-label", "Photograph, large");
  words.setAttribute("aria-live", "polite");
  [back, on, close].forEach(function (button) { button.type = "button"; });
  count.className = "count";
  bar.append(count, back, on, close);
  view.append(picture, words, bar);
  document.body.append(view);

  function show(number) {
    at = (number + first.length) % first.length;
    var link = first[at], figure = link.closest("figure"), side = link.closest(".pair > div");
    var caption = side ? side.querySelector("p") : figure && figure.querySelector("figcaption");
    picture.src = link.href;
    picture.alt = link.querySelector("img").alt;
    words.textContent = caption ? caption.textContent : "";
    count.textContent = at + 1 + " of " + first.length;
    if (first.length > 1) new Image().src = first[(at + 1) % first.length].href;
  }

  back.hidden = on.hidden = first.length === 1;
  back.onclick = function () { show(at - 1); };
  on.onclick = function () { show(at + 1); };
  close.onclick = function () { view.close(); };
  view.addEventListener("click", function (event) { if (event.target === view || event.target === picture) view.close(); });
  view.addEventListener("keydown", function (event) {
    if (event.altKey || event.ctrlKey || event.metaKey || first.length === 1) return;
    if (event.key === "ArrowLeft") show(at - 1);
    else if (event.key === "ArrowRight") show(at + 1);
    else return;
    event.preventDefault();
  });
  var opened = null;
  view.addEventListener("close", function () {
    picture.removeAttribute("src");
    (opened && opened.href === first[at].href ? opened : first[at]).focus();
  });
  links.forEach(function (link) {
    link.addEventListener("click", function (event) {
      if (event.button || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      opened = link;
      show(first.findIndex(function (other) { return other.href === link.href; }));
      view.showModal();
      close.focus();
    });
  });
})();
