// One out of a few: native radio buttons, so that arrow keys and screen readers just work.
function render({ model, el }) {
  const name = "bc-" + Math.random().toString(36).slice(2);
  el.classList.add("bc-choice");
  el.setAttribute("role", "radiogroup");
  const build = () => {
    el.replaceChildren();
    el.setAttribute("aria-label", model.get("label"));
    el.classList.toggle("bc-stack", model.get("stacked"));
    model.get("texts").forEach((text, index) => {
      const label = document.createElement("label");
      const radio = document.createElement("input");
      const words = document.createElement("span");
      radio.type = "radio";
      radio.name = name;
      words.textContent = text;
      radio.addEventListener("change", () => {
        model.set("index", index);
        model.save_changes();
      });
      label.append(radio, words);
      el.append(label);
    });
    mark();
  };
  const mark = () => {
    el.querySelectorAll("input").forEach((radio, index) => {
      radio.checked = index === model.get("index");
      radio.disabled = model.get("disabled");
    });
  };
  model.on("change:texts change:label", build);
  model.on("change:index change:disabled", mark);
  build();
  return () => { model.off("change:texts change:label", build); model.off("change:index change:disabled", mark); };
}
export default { render };
