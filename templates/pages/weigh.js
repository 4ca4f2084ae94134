// Every field is kept when it is left. One request at a time, so that none overtakes;
// what was typed while an answer was on its way is never touched by it.
const form = document.querySelector("form[data-keep]");
const kept = document.getElementById("kept");
let sending = false;
let again = false;

function say(words, bad) {
  kept.textContent = words;
  kept.classList.toggle("not", bad);
}

function stands(row) {
  const inputs = [...row.querySelectorAll("input")];
  return inputs.map((one) => (one.type === "checkbox" ? one.checked : one.value)).join("\n");
}

function rows() {
  return [...form.querySelectorAll("ol > li")];
}

function renew(row, now) {
  const active = document.activeElement;
  if (!row.contains(active) || !active.matches("input[inputmode]")) {
    row.replaceWith(now);
    return;
  }
  row.className = now.className;
  const mine = row.querySelector(":scope > .say");
  if (!mine.contains(active)) mine.replaceWith(now.querySelector(":scope > .say"));
}

function show(page, sent) {
  const focused = document.activeElement.id;
  for (const row of rows()) {
    const now = page.getElementById(row.id);
    if (now && stands(row) === sent.get(row.id)) renew(row, now);
  }
  if (focused && document.activeElement.id !== focused) document.getElementById(focused)?.focus();
  document.getElementById("count").replaceWith(page.getElementById("count"));
  say(page.getElementById("kept").textContent, false);
}

// A page with a form of its own, such as that of the PIN, takes along what is sent to it.
function remedy(page) {
  return page.querySelector("form[method=post]")
    ? "Press Keep so far, at the end of the page: nothing typed is lost."
    : "Load the page again.";
}

async function send() {
  const sent = new Map(rows().map((row) => [row.id, stands(row)]));
  const data = new URLSearchParams(new FormData(form));
  data.set("do", "keep");
  const answer = await fetch(form.action, { method: "POST", body: data, credentials: "same-origin" });
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (page.querySelector("[data-kept]")) show(page, sent);
  else say(`NOT KEPT: ${page.querySelector("h1")?.textContent ?? answer.status}. ${remedy(page)}`, true);
}

async function keep() {
  again = true;
  if (sending) return;
  sending = true;
  say("Keeping …", false);
  try {
    while (again) {
      again = false;
      await send();
    }
  } catch {
    say("NOT KEPT: no answer. Leave the page open; it is tried again.", true);
    setTimeout(keep, 5000);
  }
  sending = false;
}

form.addEventListener("change", keep);
addEventListener("online", () => { if (kept.classList.contains("not")) keep(); });
