// What a folded group of a form holds stands in its summary.
import { all, one } from "./dom.js";

/** A folded group shows the values that it holds. */
export function showFolded(form) {
  for (const group of all("details.calc-group", form)) {
    const shown = all(".field", group).filter((field) => !field.hidden);
    const texts = shown.map((field) => {
      const entry = one("input:not([type=hidden]), select, textarea", field);
      if (entry.type === "checkbox") return entry.checked ? one("label", field).textContent : "";
      const text = entry.tagName === "SELECT" ? entry.selectedOptions[0].textContent : entry.value;
      const unit = one("[name$='.unit']", field);
      return text && unit ? `${text} ${unit.selectedOptions?.[0].textContent ?? one(".field-unit", field).textContent}` : text;
    });
    one(".value", group).textContent = texts.map((text) => text.trim()).filter(Boolean).join(", ");
  }
}
