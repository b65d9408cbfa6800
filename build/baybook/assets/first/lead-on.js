// An old address leads on to the new one, with the car, the rest of the query and the place.
{
  const { page, car } = document.currentScript.dataset;
  const query = new URLSearchParams(location.search);
  query.set("car", car);
  location.replace(`${page}?${query}${location.hash}`);
}
