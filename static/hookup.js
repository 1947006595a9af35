/* The print button: without this script the browser's own menu prints the same. */
"use strict";
(() => {
  document.addEventListener("DOMContentLoaded", () => {
    for (const button of document.querySelectorAll("[data-print]")) {
      button.hidden = false;
      button.addEventListener("click", () => window.print());
    }
  });
})();
