// Redraws a drawing in place: only what differs is touched, so that the page has little to lay out.
function attributes(old, fresh) {
  for (const { name, value } of fresh.attributes) {
    if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  }
  for (const name of old.getAttributeNames()) {
    if (!fresh.hasAttribute(name)) old.removeAttribute(name);
  }
}

function node(old, fresh) {
  const alike = old.nodeName === fresh.nodeName && old.childNodes.length === fresh.childNodes.length;
  if (!alike) {
    old.replaceWith(fresh);
  } else if (fresh.nodeType !== Node.ELEMENT_NODE) {
    if (old.data !== fresh.data) old.data = fresh.data;
  } else {
    attributes(old, fresh);
    const ours = [...old.childNodes];
    [...fresh.childNodes].forEach((child, place) => node(ours[place], child));
  }
}

// Makes the content of a place that of some markup.
export function redraw(place, markup) {
  const fresh = place.cloneNode(false);
  fresh.innerHTML = markup;
  node(place, fresh);
}

