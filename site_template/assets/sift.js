/* Puts the rows of a table in order and shows only those with the words typed. Without this script every table is whole, in the order in
   which it was written. A cell's <data value> counts before its words; cells without one come last. */
(function () {
  "use strict";
  var FEWEST = 3, FEWEST_UNSORTED = 8, narrow = matchMedia("(max-width:51.99em)");

  function made(name, text, css) {
    var element = document.createElement(name);
    if (text) element.textContent = text;
    if (css) element.className = css;
    return element;
  }

  function plain(text) {
    return text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/\s+/g, " ").trim();
  }

  function keys(rows, column) {
    var cells = rows.map(function (row) { return row.cells[column]; });
    var marked = cells.some(function (cell) { return cell.querySelector("data"); });
    var texts = cells.map(function (cell) {
      var data = cell.querySelector("data");
      return data ? data.value : marked ? "" : cell.textContent.trim();
    });
    var numbers = texts.map(function (text) { return text === "" ? NaN : Number(text.replace(/,/g, "").replace("\u2212", "-")); });
    var numeric = texts.every(function (text, n) { return text === "" || !isNaN(numbers[n]); });
    return rows.map(function (_, n) { return texts[n] === "" ? null : numeric ? numbers[n] : plain(texts[n]); });
  }

  function compared(one, other) {
    if (typeof one === "number") return one - other;
    return one.localeCompare(other, document.documentElement.lang || "en", {numeric: true});
  }

  Array.prototype.forEach.call(document.querySelectorAll("table.sift"), function (table) {
    var body = table.tBodies[0], written = Array.prototype.slice.call(body.rows), rows = written.slice();
    var heads = table.classList.contains("unsorted") ? [] : Array.prototype.slice.call(table.tHead.rows[0].cells);
    var words = new Map(written.map(function (row) { return [row, plain(row.textContent)]; }));
    var five = written.some(function (row) { return row.classList.contains("five"); });
    if (written.length < (heads.length ? FEWEST : FEWEST_UNSORTED)) return;

    var bar = made("div", "", "sifter"), box = made("input"), count = made("output"), order = made("select");
    var only = made("label", "Only rows with "), by = made("label", "In the order of ");
    bar.setAttribute("role", "group");
    bar.setAttribute("aria-label", "Rows of the table: " + table.caption.textContent.trim());
    count.setAttribute("role", "status");
    box.type = "search";
    box.autocomplete = "off";
    box.spellcheck = false;
    only.append(box);
    by.append(order);
    bar.append(only);
    order.append(new Option("the page", ""));
    heads.forEach(function (head, n) {
      head.dataset.words = head.textContent.trim();
      order.append(new Option(head.dataset.words, n + " up"), new Option(head.dataset.words + ", last first", n + " down"));
    });
    if (heads.length) bar.append(by);
    bar.append(count);
    var place = table.closest(".scroll") || table;
    place.before(bar);

    function show() {
      var asked = plain(box.value).split(" "), shown = 0;
      rows.forEach(function (row) {
        var has = words.get(row);
        row.hidden = !asked.every(function (word) { return has.indexOf(word) >= 0; });
        if (!row.hidden) shown += 1;
        if (five) row.classList.toggle("five", !row.hidden && shown % 5 === 0);
      });
      count.textContent = shown === rows.length ? rows.length + " rows" : (shown || "none") + " of " + rows.length + " rows";
    }

    function put(column, down) {
      var all = new Map();
      if (column === null) rows = written.slice();
      else {
        keys(written, column).forEach(function (key, n) { all.set(written[n], key); });
        rows = written.slice().sort(function (one, other) {
          var mine = all.get(one), theirs = all.get(other);
          if (mine === null || theirs === null) return (mine === null) - (theirs === null);
          return down ? compared(theirs, mine) : compared(mine, theirs);
        });
      }
      body.append.apply(body, rows);
      heads.forEach(function (head, n) {
        if (n === column) head.setAttribute("aria-sort", down ? "descending" : "ascending");
        else head.removeAttribute("aria-sort");
      });
      order.value = column === null ? "" : column + (down ? " down" : " up");
      show();
    }

    function dress() {
      by.hidden = !narrow.matches;
      heads.forEach(function (head, n) {
        var button = made("button", head.dataset.words);
        button.type = "button";
        button.onclick = function () { put(n, head.getAttribute("aria-sort") === "ascending"); };
        head.replaceChildren(narrow.matches ? head.dataset.words : button);
      });
    }

    order.onchange = function () {
      var asked = order.value.split(" ");
      put(order.value ? Number(asked[0]) : null, asked[1] === "down");
    };
    box.oninput = show;
    narrow.addEventListener("change", dress);
    dress();
    show();
  });
})();
