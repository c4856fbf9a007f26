// When the bench does not answer, say so where the eye is. A form carries a token that counts once, so pressing again is safe.
(() => {
  "use strict";
  const say = () => {
    const place = document.getElementById("unanswered");
    if (place) place.hidden = false;
  };
  document.addEventListener("htmx:sendError", say);
  document.addEventListener("htmx:responseError", say);
  document.addEventListener("htmx:afterSwap", () => {
    const place = document.getElementById("unanswered");
    if (place) place.hidden = true;
  });
})();
