// A text field with its label, its unit and a sentence beside it.
// Enter (and, for number boxes, leaving the field) sends what was written; Python reads
// it, because only Python knows units. Arrow keys step a number box.
function render({ model, el }) {
  const id = "bc-" + Math.random().toString(36).slice(2);
  const make = (tag, name) => {
    const made = document.createElement(tag);
    made.className = name;
    el.append(made);
    return made;
  };
  el.classList.add("bc-entry");
  const label = make("label", "bc-entry-label");
  const input = make("input", "bc-input");
  const unit = make("span", "bc-unit");
  const says = make("p", "bc-says");
  label.htmlFor = input.id = id;
  says.id = id + "-says";
  says.setAttribute("role", "status");
  input.type = "text";
  input.autocomplete = "off";
  input.spellcheck = false;
  input.setAttribute("aria-describedby", says.id);

  const send = () => {
    model.set("value", input.value);
    model.set("sent", model.get("sent") + 1);
    model.save_changes();
  };
  const step = (ways) => {
    const now = parseFloat(input.value.replace(",", "."));
    const next = Math.round((now + ways * model.get("step")) * 100) / 100;
    if (Number.isNaN(next) || next < model.get("low") || next > model.get("high")) return;
    input.value = String(next);
    send();
  };
  input.addEventListener("input", () => {
    if (model.get("step")) return;
    model.set("value", input.value);
    model.save_changes();
  });
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter") send();
    if (event.key === "Escape") input.blur();
    if (!model.get("step")) return;
    const ways = { ArrowUp: 1, ArrowDown: -1, PageUp: 5, PageDown: -5 }[event.key];
    if (ways) {
      event.preventDefault();
      step(ways);
    }
  });
  // Enter fires this too: what was sent already, or put back by Python, is not news
  input.addEventListener("change", () => {
    if (model.get("step") && input.value !== model.get("value")) send();
  });

  const name_slider = (tries) => {
    const handle = el.closest(".bc-row")?.querySelector(".noUi-handle");
    if (!handle) {
      if (tries > 0) setTimeout(() => name_slider(tries - 1), 150);
      return;
    }
    handle.setAttribute("aria-label", model.get("label"));
    handle.setAttribute("aria-valuetext", `${model.get("value")} ${model.get("unit")}`);
  };
  const show = () => {
    const numeric = Boolean(model.get("step"));
    label.textContent = model.get("label");
    label.classList.toggle("bc-unseen", !model.get("label_shown"));
    input.placeholder = model.get("placeholder");
    input.readOnly = model.get("disabled"); // keeps the focus where it was
    input.inputMode = numeric ? "decimal" : "text";
    unit.textContent = model.get("unit");
    says.innerHTML = model.get("says"); // made and escaped by Python
    input.setAttribute("aria-invalid", model.get("tone") === "refused");
    el.dataset.tone = model.get("tone");
    if (numeric) {
      input.setAttribute("role", "spinbutton");
      input.setAttribute("aria-valuenow", parseFloat(input.value));
      input.setAttribute("aria-valuemin", model.get("low"));
      input.setAttribute("aria-valuemax", model.get("high"));
      input.setAttribute("aria-valuetext", `${input.value} ${model.get("unit")}`);
      name_slider(20);
    }
  };
  const put = () => {
    if (input.value !== model.get("value")) input.value = model.get("value");
  };
  model.on("change:value", put);
  model.on("change", show);
  put();
  show();
  return () => {
    model.off("change:value", put);
    model.off("change", show);
  };
}
export default { render };
