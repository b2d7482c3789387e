// A size table wider than the window begins where its ringed sizes are, beside the names of its rows.
for (const chart of document.querySelectorAll('.chart')) {
  const rings = [...chart.querySelectorAll('.cut-here')].map((ring) => ring.getBoundingClientRect());
  if (!rings.length || chart.scrollWidth <= chart.clientWidth) continue;
  const left = Math.min(...rings.map((ring) => ring.left)), right = Math.max(...rings.map((ring) => ring.right));
  const names = chart.querySelector('tbody th').getBoundingClientRect().right;
  const middle = (names + chart.getBoundingClientRect().right) / 2;
  chart.scrollLeft = Math.min((left + right) / 2 - middle, left - names);
}
