// Point at a stretch of a bird's row: by drag, by two taps, or by keys. It only fills the form
// under the drawing, which does the same without this script.

const DAY_MS = 86400000;
const day = (text) => Date.parse(`${text}T00:00:00Z`);
const iso = (ms) => new Date(ms).toISOString().slice(0, 10);

export function attach(figure) {
  const svg = figure.querySelector("svg");
  const form = document.querySelector("#pin");
  if (!svg || !form || figure.dataset.attached) return;
  figure.dataset.attached = "yes";
  const rows = JSON.parse(figure.dataset.rows);
  const [left, right] = [Number(figure.dataset.left), Number(figure.dataset.right)];
  const [first, last] = [day(figure.dataset.from), day(figure.dataset.to)];
  const weeks = Math.ceil((last - first + DAY_MS) / (7 * DAY_MS));
  const said = figure.querySelector(".said");
  const drawn = figure.querySelector(".drawn");
  const view = svg.viewBox.baseVal;
  const frame = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  frame.setAttribute("class", "chosen");
  frame.setAttribute("visibility", "hidden");
  svg.append(frame);
  let row = 0, anchor = 0, end = 0, tapped = null, dragging = false;

  const week = (n) => {
    const from = first + n * 7 * DAY_MS;
    return [from, Math.min(last, from + 6 * DAY_MS)];
  };
  const share = (ms) => left + ((right - left) * (ms - first)) / (last - first + DAY_MS);

  const show = () => {
    const [a, b] = anchor <= end ? [anchor, end] : [end, anchor];
    const [from, to] = [week(a)[0], week(b)[1]];
    const [bird, top, bottom] = rows[row];
    const x = share(from) * view.width;
    frame.setAttribute("x", x);
    frame.setAttribute("width", share(to + DAY_MS) * view.width - x);
    frame.setAttribute("y", top * view.height);
    frame.setAttribute("height", (bottom - top) * view.height);
    frame.setAttribute("visibility", "visible");
    const where = placeOf(svg, bird, from);
    form.elements.pin_bird.value = bird;
    form.elements.pin_from.value = iso(from);
    form.elements.pin_to.value = iso(to);
    if (where) form.elements.pin_quarters.value = where;
    said.textContent = `${bird}, ${iso(from)} to ${iso(to)}${where ? `, now in ${where}` : ""}`;
  };

  const at = (event) => {
    const box = svg.getBoundingClientRect();
    const [x, y] = [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height];
    const r = rows.findIndex(([, top, bottom]) => y >= top && y < bottom);
    if (r < 0 || x < left || x > right) return null;
    const days = ((x - left) / (right - left)) * ((last - first) / DAY_MS + 1);
    return [r, Math.min(weeks - 1, Math.floor(days / 7))];
  };

  svg.addEventListener("pointerdown", (event) => {
    const place = at(event);
    if (!place || event.button !== 0) return;
    if (event.pointerType === "touch") return; // a finger scrolls; its taps come as clicks
    [row, anchor] = place;
    end = anchor;
    dragging = true;
    svg.setPointerCapture(event.pointerId);
    event.preventDefault();
    show();
  });
  svg.addEventListener("pointermove", (event) => {
    const place = dragging && at(event);
    if (!place) return;
    end = place[1];
    show();
  });
  for (const over of ["pointerup", "pointercancel"]) {
    svg.addEventListener(over, () => { dragging = false; });
  }
  svg.addEventListener("click", (event) => {
    if (event.pointerType !== "touch") return;
    const place = at(event);
    if (!place) return;
    if (tapped && tapped[0] === place[0]) {
      [row, anchor] = tapped;
      end = place[1];
      tapped = null;
    } else {
      [row, anchor] = place;
      end = anchor;
      tapped = place;
    }
    show();
  });
  drawn.addEventListener("keydown", (event) => {
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    const turn = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (event.key === "Enter") {
      form.elements.pin_quarters.focus();
    } else if (step) {
      end = Math.max(0, Math.min(weeks - 1, end + (frame.getAttribute("visibility") === "hidden" ? 0 : step)));
      if (!event.shiftKey) anchor = end;
      show();
    } else if (turn) {
      row = Math.max(0, Math.min(rows.length - 1, row + (frame.getAttribute("visibility") === "hidden" ? 0 : turn)));
      show();
    } else {
      return;
    }
    event.preventDefault();
  });
}

// The drawing tells of each bar whose it is and when: "stay:Moth: Barn loft, loose, FROM to TO".
function placeOf(svg, bird, ms) {
  const start = `stay:${bird}: `;
  for (const bar of svg.querySelectorAll("[data-item]")) {
    if (!bar.dataset.item.startsWith(start)) continue;
    const found = bar.dataset.item.slice(start.length).match(/^(.*), (?:loose|tethered), (\S+) to (\S+)$/);
    if (found && day(found[2]) <= ms && ms <= day(found[3])) return found[1];
  }
  return null;
}

document.documentElement.classList.add("scripted");
const attachAll = () => document.querySelectorAll("#plan[data-rows]").forEach(attach);
attachAll();
document.addEventListener("htmx:afterSettle", attachAll);
