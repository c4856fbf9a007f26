// A bench that nobody touches locks itself: the screen goes to the badge, and what was typed goes with it to the server, where it waits for
// whoever typed it. Nothing of it is kept in the browser. A badge that is scanned anywhere does the same, and asks for its PIN.
(() => {
  "use strict";
  const EVERY = 60_000; // milliseconds: how often the server is told that somebody is here
  const form = document.querySelector("form[data-leave]");
  const kept = (field) => field.name && !["hidden", "password", "file", "submit", "button"].includes(field.type) && !field.closest("form[data-leave]");
  const fields = () => [...document.querySelectorAll("main input, main select, main textarea")].filter(kept);

  const which = (field) => fields().filter((one) => one.name === field.name).indexOf(field);
  const stands = (field) => (["checkbox", "radio"].includes(field.type) ? field.checked : field.value);

  const fill = () => {
    form.elements.path.value = location.pathname + location.search;
    const page = document.querySelector("main[data-page]");
    if (page) form.elements.path.value = page.dataset.page;
    form.elements.fields.value = JSON.stringify(fields().map((field) => [field.name, which(field), stands(field)]));
  };

  const restore = () => {
    const draft = document.getElementById("draft");
    if (!draft) return;
    for (const [name, place, value] of JSON.parse(draft.dataset.fields)) {
      const field = fields().filter((one) => one.name === name)[place];
      if (!field) continue;
      if (["checkbox", "radio"].includes(field.type)) field.checked = value === true || value === field.value;
      else field.value = String(value);
    }
    draft.remove();
  };

  restore();
  if (!form) return;
  form.addEventListener("submit", fill);
  const after = Number(document.body.dataset.lockAfter) * 1000;
  let last = Date.now();
  let told = last;
  const touched = () => {
    last = Date.now();
    if (last - told < EVERY) return;
    told = last;
    fetch(form.dataset.touch, { method: "POST", headers: { "X-CSRFToken": form.elements.csrfmiddlewaretoken.value }, redirect: "manual" });
  };
  for (const kind of ["keydown", "pointerdown", "input", "scroll"]) document.addEventListener(kind, touched, { capture: true, passive: true });
  const look = () => {
    if (Date.now() - last >= after) form.requestSubmit();
    else setTimeout(look, Math.max(1000, after - (Date.now() - last)));
  };
  setTimeout(look, after);
})();
