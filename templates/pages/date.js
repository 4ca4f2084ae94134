for (const badge of document.querySelectorAll("[data-discard]")) {
  const written = badge.dataset.discard;
  const lastMoment = Date.parse(written.includes("T") ? written : written + "T23:59:59");
  if (Number.isNaN(lastMoment)) continue;
  const past = Date.now() > lastMoment;
  badge.textContent = past ? "PAST ITS DATE" : "in date";
  badge.classList.toggle("past", past);
  badge.hidden = !past && !("both" in badge.dataset);
}
