/* The page of what waits on this tablet. */
"use strict";
(() => {
  const outbox = globalThis.Studbay?.outbox, list = document.getElementById("waiting");
  if (!outbox || !list) return;
  const empty = document.getElementById("nothing-waits"), send = document.getElementById("send-now");
  const make = (tag, className, text) => Object.assign(document.createElement(tag), { className, textContent: text });

  document.addEventListener("studbay:outbox", (event) => {
    list.replaceChildren();
    empty.hidden = event.detail.entries.length > 0;
    send.hidden = !empty.hidden;
    for (const entry of event.detail.entries) {
      const item = make("li", "row", "");
      const title = make("span", "row-title", `${entry.title || "Recorded"}${entry.told ? `: ${entry.told}` : ""}`);
      title.append(make("span", "row-note", `${outbox.age(Date.now() - entry.createdAt)} old${entry.message ? `. ${entry.message}` : ", waits for signal"}`));
      item.append(title);
      if (entry.state === "kept") {
        const again = make("button", "button", "Send again");
        again.addEventListener("click", async () => { await outbox.put({ ...entry, state: "waiting", message: "" }); await outbox.drain(); });
        const away = make("button", "button button-quiet", "Throw away");
        away.addEventListener("click", async () => {
          if (away.dataset.sure) { await outbox.drop(entry.order); await outbox.show(); return; }
          away.dataset.sure = "yes";
          away.textContent = "Really throw away";
        });
        item.append(again, away);
      }
      list.append(item);
    }
  });
  send.addEventListener("click", () => outbox.drain());
  document.addEventListener("DOMContentLoaded", () => outbox.show());
})();
