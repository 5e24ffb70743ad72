/* Gives a page opened from a disc (file://) a Worker that runs in a hidden frame, because browsers refuse real workers there.
   Only what a search worker needs: messages both ways, importScripts, terminate. Over http the browser's own Worker stays. */
(function () {
  "use strict";
  if (location.protocol !== "file:") return;

  function load(document, address) {
    return new Promise(function (done, failed) {
      var script = document.createElement("script");
      script.src = address;
      script.onload = function () { done(); };
      script.onerror = function () { failed(new Error("could not load " + address)); };
      document.head.appendChild(script);
    });
  }

  class WorkerOverFrame extends EventTarget {
    constructor(address) {
      super();
      var worker = this;
      var whole = new URL(address, document.baseURI).href;
      var frame = document.createElement("iframe");
      frame.hidden = true;
      frame.setAttribute("aria-hidden", "true");
      frame.tabIndex = -1;
      frame.title = "search";
      document.documentElement.appendChild(frame);
      var inside = frame.contentWindow;
      inside.postMessage = function (data) {
        worker.dispatchEvent(new MessageEvent("message", { data: data }));
      };
      /* A worker loads these before it goes on; a frame cannot wait, so the caller gets a promise it may await. */
      inside.importScripts = function () {
        return Array.prototype.reduce.call(arguments, function (before, each) {
          return before.then(function () { return load(inside.document, new URL(each, whole).href); });
        }, Promise.resolve());
      };
      this.frame = frame;
      this.ready = load(inside.document, whole).catch(function (fault) {
        worker.dispatchEvent(new ErrorEvent("error", { message: fault.message }));
      });
    }

    postMessage(data) {
      var inside = this.frame.contentWindow;
      this.ready.then(function () {
        inside.dispatchEvent(new inside.MessageEvent("message", { data: data }));
      });
    }

    terminate() { this.frame.remove(); }
  }

  window.Worker = WorkerOverFrame;
})();
