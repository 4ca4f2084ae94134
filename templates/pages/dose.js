// Doses while they are typed, in whole numbers only: the same figures as the server's.
for (const part of document.querySelectorAll(".pour")) {
  const exact = (text) => {
    const [, whole, rest = ""] = /^(?=[.,]?\d)(\d*)[.,]?(\d*)$/.exec(text) ?? [];
    return whole === undefined ? null : { top: BigInt(whole + rest), under: 10n ** BigInt(rest.length) };
  };
  const times = (a, b) => ({ top: a.top * b.top, under: a.under * b.under });
  const over = (a, b) => ({ top: a.top * b.under, under: a.under * b.top });
  const isMore = (a, b) => a.top * b.under > b.top * a.under;
  const asNumber = ({ top, under }) => Number((top * 10n ** 30n) / under) / 1e30;

  // To so many significant figures, half up.
  const figures = (value, count) => {
    let exponent = value.top.toString().length - value.under.toString().length;
    if (value.top * 10n ** BigInt(Math.max(-exponent, 0)) < value.under * 10n ** BigInt(Math.max(exponent, 0))) exponent -= 1;
    const shift = count - 1 - exponent;
    const top = value.top * 10n ** BigInt(Math.max(shift, 0));
    const under = value.under * 10n ** BigInt(Math.max(-shift, 0));
    const digits = (2n * top + under) / (2n * under);
    return shift < 0
      ? { top: digits * 10n ** BigInt(-shift), under: 1n }
      : { top: digits, under: 10n ** BigInt(shift) };
  };

  const written = ({ top, under }) => {
    const places = under.toString().length - 1;
    const digits = top.toString().padStart(places + 1, "0");
    const whole = digits.slice(0, digits.length - places);
    const rest = digits.slice(digits.length - places).replace(/0+$/, "");
    return rest ? `${whole}.${rest}` : whole;
  };

  const perGram = exact(part.dataset.mlPerG);
  const u = part.dataset.u === "" ? null : Number(part.dataset.u);
  const bottle = exact(part.dataset.bottle);
  const made = exact(part.dataset.made);

  // Two figures, three where the strength is known so well or two would move it too far.
  // A strength is kept to 28 figures, and a product is no better than that.
  const rounded = (exactly) => {
    const value = figures(exactly, 28);
    const told = figures(value, u !== null && u < 0.01 ? 3 : 2);
    const moved = Math.abs(asNumber(told) - asNumber(value)) / asNumber(value);
    return written(u === null || moved <= 2 * u ? told : figures(value, 3));
  };

  // Nothing is at fault in a number that is only begun, such as 0.
  const answer = (form, done) => {
    const field = form.querySelector("input");
    const said = form.querySelector(".said");
    const text = field.value.trim().replace(field.name === "g" ? /\s*g$/i : /\s*mL$/i, "");
    const asked = /^[1-9]\d{0,2},\d{3}$/.test(text) || text.length > 12 ? null : exact(text);
    const good = asked !== null && asked.top > 0n;
    const mL = good && (field.name === "g" ? times(asked, perGram) : asked);
    const remark = good && made && isMore(mL, made) ? part.dataset.overMade
      : good && bottle && isMore(mL, bottle) ? part.dataset.overBottle : "";
    const wrong = text !== "" && (done ? !good : asked === null);
    form.querySelector("output b").textContent =
      good ? rounded(field.name === "g" ? mL : over(asked, perGram)) : "";
    said.textContent = wrong ? field.dataset.fault : remark;
    said.classList.toggle("fault", wrong);
    if (wrong) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
  };

  for (const form of part.querySelectorAll("form")) {
    form.addEventListener("input", () => answer(form, false));
    form.addEventListener("submit", (event) => { event.preventDefault(); answer(form, true); });
  }
  part.hidden = false;
}
