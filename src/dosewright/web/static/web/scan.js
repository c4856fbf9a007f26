// A scanner types: a quick run of keys that ends with Enter. Wherever the focus is, such a run goes whole to the page's one scan form (a
// card's number: to that card, from any screen; a badge: to the lock) and nowhere else: what it typed into another field is taken out again, and its Enter presses no button. A hand types slower than this.
(() => {
  "use strict";
  const LONGEST_GAP = 80; // milliseconds between two keys of one scan; a quick typist needs about 100
  const SHORTEST = 6; // keys; the shortest code read here is a card number
  const CARD = /^\d{15}$/; // a card's number; no product code has this length
  const BADGE = /^BADGE[A-Z2-7]{16}$/; // somebody's badge: whoever is here leaves the bench to them
  const SEPARATOR = "\u001d"; // GS1's group separator; some scanners send it as Ctrl+]

  const FRAME = { "^": "\u001e", d: "\u0004" };

  let run = "";
  let last = -Infinity;
  let field = null;
  let before = "";

  const takesText = (element) =>
    element instanceof HTMLTextAreaElement || (element instanceof HTMLInputElement && !["checkbox", "radio", "file", "submit"].includes(element.type));

  const begin = () => {
    run = "";
    field = takesText(document.activeElement) ? document.activeElement : null;
    before = field ? field.value : "";
  };

  const formFor = (code) => {
    if (BADGE.test(code) && document.querySelector("form[data-leave]")) return "form[data-leave]";
    return CARD.test(code) ? "form[data-scan-card]" : "form[data-scan]";
  };

  const send = (event) => {
    const form = document.querySelector(formFor(run));
    const target = form && form.querySelector("input[name=scan]");
    event.preventDefault();
    event.stopImmediatePropagation();
    if (field && field !== target) field.value = before;
    last = -Infinity; // whatever comes next is a run of its own
    if (!target) return;
    target.value = run;
    form.requestSubmit();
  };

  document.addEventListener(
    "keydown",
    (event) => {
      if (["Shift", "Control", "Alt", "Meta", "AltGraph"].includes(event.key)) return;
      if (event.timeStamp - last > LONGEST_GAP) begin();
      last = event.timeStamp;
      const separator = event.key === SEPARATOR || (event.ctrlKey && event.key === "]");
      if (event.key === "Enter" && run.length >= SHORTEST) return send(event);
      if (separator) {
        event.preventDefault();
        run += SEPARATOR;
        if (field) field.value += SEPARATOR;
      } else if (run && event.ctrlKey && FRAME[event.key]) {
        event.preventDefault(); // the frame of ISO/IEC 15434, which some scanners send and others leave out
        run += FRAME[event.key];
      } else if (event.key.length === 1 && !event.ctrlKey && !event.metaKey) {
        if (event.key === " " && run && !field) event.preventDefault();
        run += event.key;
      } else {
        begin();
      }
    },
    true,
  );
})();
