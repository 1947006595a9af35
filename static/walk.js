/* A walk with the tablet: each tap is written into the outbox first and judged here at once; the server's answer
   replaces the card when it comes. Without this script the same forms work by themselves. */
"use strict";
(() => {
  const outbox = globalThis.Studbay?.outbox;
  if (!outbox) return;
  // a photograph can be attached only with this script: it waits in the outbox like everything else
  function photoFields(root) {
    for (const field of root.querySelectorAll(".photo-field[hidden]")) {
      const input = field.querySelector("input");
      field.hidden = false;
      input.disabled = false;
      input.addEventListener("change", () => chosen(field, input));
    }
  }
  /** The picture that was taken shows at once, to be marked before it is recorded. */
  function chosen(field, input) {
    field.querySelector(".marking")?.remove();
    const [file] = input.files, mark = globalThis.Studbay.marking;
    field.querySelector(".photo-word").textContent = file ? "Another photograph" : "Photograph";
    if (file && mark) field.append(mark.preview(file, "The photograph that was just taken"));
  }
  const announce = (text) => { const live = document.getElementById("live"); if (live) live.textContent = text; };
  const cardOf = (form) => form.closest(".card");

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (!form.matches("form[data-record]")) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    const fields = new FormData(form, event.submitter);
    const photo = fields.get("photo");
    const marks = String(fields.get("marks") ?? "[]");
    fields.delete("photo");
    fields.delete("marks");
    fields.set("key", crypto.randomUUID());
    if (fields.has("seen_at")) fields.set("seen_at", new Date().toISOString());
    const problem = judge(form, fields);
    if (problem) { showProblem(form, problem); return; }
    try {
      const attached = photo instanceof File && photo.size ? await keepPhoto(form, fields, photo, marks) : "";
      if (attached) fields.set("photographs", attached);
      await outbox.keep({ kind: "look", url: form.getAttribute("action"), body: new URLSearchParams(fields).toString(), title: cardOf(form)?.querySelector("h3")?.textContent ?? form.closest("section")?.querySelector("h2")?.textContent ?? "", told: tell(fields), card: cardOf(form)?.id ?? "" });
    } catch {
      showProblem(form, "This tablet's storage refused it: nothing was recorded. Free some space and try again.");
      return;
    }
    recordedHere(form, fields);
    outbox.drain();
  }, true);

  async function keepPhoto(form, fields, photo, marks) {
    const id = crypto.randomUUID();
    const shrunk = await shrink(photo);
    const [subject_kind = "", subject_id = ""] = String(fields.get("subject") ?? form.dataset.of ?? "").split(":");
    await outbox.keep({ kind: "photo", url: form.dataset.photographs, fields: { id, subject_kind, subject_id, note: String(fields.get("note") ?? ""), marks }, bytes: await shrunk.arrayBuffer(), name: "photograph.jpg", type: shrunk.type || photo.type, title: "Photograph", told: marks === "[]" ? "" : "with its marks" });
    return id;
  }
  /** Smaller before it is sent: a convenience for the signal; the server does all of it again. */
  async function shrink(file) {
    try {
      const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
      const scale = Math.min(1, 2000 / Math.max(picture.width, picture.height));
      const canvas = Object.assign(document.createElement("canvas"), { width: Math.round(picture.width * scale), height: Math.round(picture.height * scale) });
      canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
      return await new Promise((resolve) => canvas.toBlob((blob) => resolve(blob ?? file), "image/jpeg", 0.85));
    } catch { return file; }
  }

  /** What cannot be right is said before it is recorded. */
  function judge(form, fields) {
    const text = String(fields.get("measure") ?? "");
    if (fields.get("answer") !== "measured") return text.trim() ? "Record the measure, or leave it empty and say what else is wrong." : "";
    if (!text.trim()) return "Write what was measured, such as 3/8.";
    return globalThis.Studbay.measure.parse(text) ? "" : "That is no length: write it as 3/8, 1 1/2 or 6' 2\".";
  }
  function showProblem(form, text) {
    if (!cardOf(form)) return;
    let place = cardOf(form).querySelector(".card-problem");
    if (!place) { place = Object.assign(document.createElement("p"), { className: "error card-problem" }); place.setAttribute("role", "alert"); form.before(place); }
    place.textContent = text;
    form.querySelector("input[name=measure]")?.focus();
  }
  function tell(fields) {
    const note = fields.get("note") ? `: ${fields.get("note")}` : "";
    return { measured: `Measured ${fields.get("measure")}`, wrong: `Wrong${note}`, "not here": "Not here" }[fields.get("answer")] ?? (fields.has("observation") ? "Taken back" : "Right");
  }

  /** Mark the card at once: recorded here, judged here, not yet sent. */
  function recordedHere(form, fields) {
    const card = cardOf(form);
    if (!card) { partHere(form); return; }
    const measure = form.querySelector("input[name=measure]");
    let words = tell(fields), wrong = fields.get("answer") === "wrong";
    if (fields.get("answer") === "measured" && measure?.dataset.limit) {
      const enough = globalThis.Studbay.measure.enough(measure.value, measure.dataset.limit, measure.dataset.least === "yes");
      wrong = enough === false;
      words += enough ? ", enough" : `, falls short of ${measure.dataset.words}`;
      if (wrong && form.matches(".card-measure")) askWhich(card, measure.value);
    }
    const said = card.querySelector(".card-said") ?? card.querySelector(".card-head").insertAdjacentElement("afterend", Object.assign(document.createElement("p"), { className: "card-said" }));
    said.textContent = `${words}. Recorded on this tablet.`;
    card.classList.add("just-recorded", "card-kept");
    card.classList.toggle("card-kept-wrong", wrong);
    const count = card.querySelector(".card-count");
    if (count) count.textContent = wrong ? "wrong" : "recorded";
    card.querySelector(".card-problem")?.remove();
    announce(said.textContent);
  }

  /** The worst one of the place falls short: which one it is can be said at once, with the same figure. */
  function askWhich(card, figure) {
    const more = card.querySelector(".card-more"), choices = more?.querySelectorAll("input[name=subject]") ?? [];
    if (choices.length < 2) return;
    for (const choice of choices) choice.checked = false;
    more.querySelector("input[name=measure]").value = figure;
    more.querySelector("summary").textContent = "Which one is it?";
    more.open = true;
  }

  /** A whole part was recorded: every card that it names says so. */
  function partHere(form) {
    for (const input of form.querySelectorAll("input[name=rules]")) {
      const card = document.getElementById(input.value);
      card?.classList.add("just-recorded", "card-kept");
      const count = card?.querySelector(".card-count");
      if (count) count.textContent = "recorded";
    }
    // what is recorded now is not offered again: this form, and any that asks for no more than it did
    const done = new Set(new FormData(form).getAll("rules"));
    for (const other of document.querySelectorAll("form.part-all")) if (new FormData(other).getAll("rules").every((rule) => done.has(rule))) other.hidden = true;
    announce("Recorded on this tablet.");
  }

  // a photograph has arrived: the card that waits for it shows it
  document.addEventListener("studbay:photo-sent", (event) => {
    const { entry, id } = event.detail;
    for (const place of document.querySelectorAll(`[data-coming="${CSS.escape(entry.fields.id)}"]`)) {
      const link = Object.assign(document.createElement("a"), { href: `${entry.url}/${encodeURIComponent(id)}/view?back=${encodeURIComponent(location.pathname)}`, className: "tall", textContent: "Photograph" });
      place.replaceChildren(link);
    }
  });

  // the server's answer: the card as it stands, and the counts around it
  document.addEventListener("studbay:sent", (event) => {
    const answer = new DOMParser().parseFromString(event.detail.text, "text/html");
    for (const part of answer.querySelectorAll("article.card[id], #walk-counts, #live")) {
      const here = document.getElementById(part.id);
      if (!here) continue;
      const held = here.contains(document.activeElement);
      part.removeAttribute("hx-swap-oob");
      here.replaceWith(part);
      if (part.id === "live") announce(part.textContent);
      if (held) (part.querySelector("button, summary, a") ?? part).focus?.({ preventScroll: true });
      globalThis.htmx?.process?.(part);
      fractions(part);
      photoFields(part);
    }
  });

  /** Keys for the fractions of a tape, beside each field that takes inches. */
  const KEYS = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
  function fractions(root) {
    for (const input of root.querySelectorAll('input[data-fractions="in"]:not([data-keyed])')) {
      input.dataset.keyed = "yes";
      const row = Object.assign(document.createElement("div"), { className: "fraction-keys" });
      row.setAttribute("role", "group");
      row.setAttribute("aria-label", "Fractions of an inch");
      for (const key of KEYS) {
        const button = Object.assign(document.createElement("button"), { type: "button", className: "fraction-key", textContent: key });
        button.addEventListener("click", () => {
          const whole = input.value.trim().replace(/\s*\d+\/\d+$/, "");
          input.value = whole ? `${whole} ${key}` : key;
        });
        row.append(button);
      }
      input.closest(".control").after(row);
    }
  }
  document.addEventListener("DOMContentLoaded", () => { fractions(document); photoFields(document); });
})();
