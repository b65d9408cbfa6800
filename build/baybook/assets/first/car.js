// Which car the page is for, and its data before the page is painted: no wrong figure is ever seen.
// It asks for the data by document.write, which holds the page as a script in its head would, and
// works from a folder too.
{
  const KEY = "baybook.car";
  const OWN = "baybook.cars";
  const root = new URL("../../", document.currentScript.src);
  const page = document.documentElement;

  // A browser that keeps nothing still shows the car that the address names.
  const kept = (read) => {
    try {
      return read();
    } catch {
      return null;
    }
  };
  const given = new URLSearchParams(location.search).get("car");
  const id = given ?? kept(() => sessionStorage.getItem(KEY)) ?? "";
  if (given) kept(() => sessionStorage.setItem(KEY, given));

  window.baybook.root = root.href;
  window.baybook.wanted = /^[a-z][a-z0-9-]*$/.test(id) ? id : "";
  window.baybook.data = { car: null, forms: {}, trees: {}, search: {}, catalog: null, page: null, work: null, exercise: null, libraries: {} };
  window.baybook.take = {
    car: (data) => {
      window.baybook.data.car = data;
      page.dataset.car = data.id;
    },
    page: (data) => {
      window.baybook.data.page = data;
    },
    catalog: (data) => {
      window.baybook.data.catalog = data;
    },
    search: (data) => {
      window.baybook.data.search[data.name] = data;
    },
    tree: (data) => {
      window.baybook.data.trees[data.id] = data.html;
    },
    work: (data) => {
      window.baybook.data.work = data;
    },
    exercise: (data) => {
      window.baybook.data.exercise = data;
    },
    form: (data) => {
      window.baybook.data.forms[data.id] = data.html;
    },
  };

  page.dataset.car = "";
  const wanted = window.baybook.wanted;
  if (wanted.startsWith("my-")) {
    const own = kept(() => JSON.parse(localStorage.getItem(OWN))[wanted]);
    if (own?.answered) window.baybook.take.car({ ...own.answered, id: wanted, own: true });
  } else if (wanted) {
    page.dataset.car = wanted; // the neutral words stay hidden until its figures are in
    page.classList.add("car-waits");
    document.write(`<script src="${root.href}cars/${wanted}.js"></` + "script>");
  }
}
