// Draws the rows that rows_table.py sends: sorted, a page at a time, and as a file.
const kept = new WeakMap();  // what a reader chose, by the place of the table

const made = (kind, look = {}, ...inside) => {
  const one = document.createElement(kind);
  for (const [name, value] of Object.entries(look)) {
    if (value !== null && value !== undefined && value !== false) one.setAttribute(name, value);
  }
  one.append(...inside);
  return one;
};

// A plain click leads on in this tab without loading the page anew: as "forward" does.
const follow = (event) => {
  const modified = event.ctrlKey || event.metaKey || event.shiftKey || event.altKey;
  if (modified || event.button !== 0) return;
  event.preventDefault();
  history.pushState({}, "", event.currentTarget.href);
  dispatchEvent(new PopStateEvent("popstate", { state: {} }));
  if (!location.hash) document.querySelector("[data-testid=stMain]")?.scrollTo(0, 0);
};

const drawn = (line) => {
  const ns = "http://www.w3.org/2000/svg", top = Math.max(...line, 1e-9);
  const svg = document.createElementNS(ns, "svg"), path = document.createElementNS(ns, "polyline");
  svg.setAttribute("viewBox", "0 0 100 30");
  svg.setAttribute("preserveAspectRatio", "none");
  svg.setAttribute("aria-hidden", "true");
  const step = 100 / Math.max(line.length - 1, 1);
  path.setAttribute("points", line.map((y, at) => `${at * step},${29 - 28 * y / top}`).join(" "));
  svg.append(path);
  return svg;
};

const words = (cell) => cell.pieces.map(([text]) => text).join("");

const inside = (cell) => {
  if (cell.line) return [drawn(cell.line)];
  return cell.pieces.map(([text, leads]) => {
    if (!leads) return text;
    const link = made("a", { href: leads, target: "_self" }, text);
    link.addEventListener("click", follow);
    return link;
  });
};

// Lines inside another one stay below it.
const sorted = (rows, by, down) => {
  if (by === null) return rows;
  const groups = [];
  for (const row of rows) row.inside && groups.length ? groups.at(-1).push(row) : groups.push([row]);
  const way = down ? -1 : 1;
  groups.sort(([one], [other]) => {
    const a = one.cells[by].by, b = other.cells[by].by;
    if (a === null || b === null) return (a === null) - (b === null);
    if (typeof a === "number" && typeof b === "number") return way * (a - b);
    return way * String(a).localeCompare(String(b), "en");
  });
  return groups.flat();
};

// A cell that a spreadsheet would read as a formula begins with an apostrophe; a figure does not.
const guarded = (cell) => {
  const text = words(cell).trim();
  const safe = typeof cell.by === "number" || !/^[=+\-@\t\r]/.test(text) ? text : `'${text}`;
  return `"${safe.replaceAll('"', '""')}"`;
};

const file = (data, rows) => {
  const written = data.columns.map((column, at) => at).filter((at) => !rows.some((r) => r.cells[at].line));
  const head = written.map((at) => guarded({ pieces: [[data.columns[at].name, ""]] })).join(",");
  const lines = rows.map((row) => written.map((at) => guarded(row.cells[at])).join(","));
  const csv = new Blob(["\ufeff", [head, ...lines].join("\r\n"), "\r\n"], { type: "text/csv" });
  const link = made("a", { href: URL.createObjectURL(csv), download: `${data.name}.csv` });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
};

const row = (data, each) => {
  const line = made("tr", { role: "row" });
  const rest = data.columns.length > 2;
  each.cells.forEach((cell, at) => {
    const { name, figures, long } = data.columns[at];
    const kinds = [figures && "figures", long && "long", at === data.beside && "beside"];
    const look = { class: kinds.filter(Boolean).join(" ") };
    line.append(at === 0
      ? made("th", { ...look, scope: "row", role: "rowheader" }, made("span", {}, ...inside(cell)))
      : made("td", { ...look, role: "cell", "data-head": name },
        made("span", { class: "is" }, ...inside(cell))));
  });
  if (rest) {
    const name = words(each.cells[0]).trim();
    const more = made("button", { type: "button", class: "more", "aria-expanded": "false",
      "aria-label": `More of ${name}` }, "⋯");
    more.addEventListener("click", () => {
      more.setAttribute("aria-expanded", String(line.classList.toggle("open")));
    });
    line.firstChild.append(more);
  }
  return line;
};

export default function ({ data, parentElement }) {
  const place = parentElement.querySelector(".rows");
  const chose = kept.get(parentElement) ?? { by: null, down: false, page: 0, every: false };
  kept.set(parentElement, chose);

  const order = (at) => {
    if (chose.by === at) chose.down = !chose.down;
    else Object.assign(chose, { by: at, down: data.columns[at].figures });
    chose.page = 0;
    draw();
  };

  const head = () => made("thead", { role: "rowgroup" }, made("tr", { role: "row" },
    ...data.columns.map(({ name, figures, meant }, at) => {
      const sort = at !== chose.by ? null : chose.down ? "descending" : "ascending";
      const label = name.trim() || "\u00a0";
      const button = made("button", { type: "button", title: meant || null }, label);
      button.addEventListener("click", () => { order(at); focus(at); });
      return made("th", { scope: "col", role: "columnheader", "aria-sort": sort,
        class: figures ? "figures" : null }, data.rows.length > 1 && name.trim() ? button : label);
    })));

  const focus = (at) => place.querySelectorAll("thead th")[at]?.querySelector("button")?.focus();

  const below = (rows, pages) => {
    const bar = made("div", { class: "under" });
    const button = (label, off, act) => {
      const one = made("button", { type: "button" }, label);
      one.disabled = off;
      one.addEventListener("click", act);
      bar.append(one);
    };
    if (data.rows.length > 1) {
      const select = made("select", {}, made("option", { value: "" }, "as listed"),
        ...data.columns.map(({ name }, at) => made("option", { value: at }, name)));
      select.value = chose.by ?? "";
      select.addEventListener("change", () => {
        if (select.value === "") { chose.by = null; draw(); } else order(Number(select.value));
      });
      bar.append(made("label", { class: "order" }, "Sort by ", select));
    }
    if (pages > 1) {
      const first = chose.page * data.page;
      const turn = (by) => () => { chose.page += by; draw(); };
      button("Back", chose.page === 0, turn(-1));
      bar.append(made("span", { role: "status" },
        `${first + 1} to ${Math.min(first + data.page, rows.length)} of ${rows.length}`));
      button("Next", chose.page >= pages - 1, turn(1));
    }
    button("As a file (CSV)", false, () => file(data, rows));
    return bar;
  };

  const draw = () => {
    const rows = sorted(data.rows, chose.by, chose.down);
    const pages = Math.ceil(rows.length / data.page);
    chose.page = Math.min(chose.page, pages - 1);
    const first = chose.page * data.page;
    const shown = chose.every ? rows : rows.slice(first, first + data.page);
    const table = made("table", { role: "table", "aria-label": data.name,
      class: data.columns.length > 2 ? "fold" : null }, head(),
      made("tbody", { role: "rowgroup" }, ...shown.map((each) => row(data, each))));
    place.replaceChildren(made("div", { class: "scroll" }, table), below(rows, pages));
  };

  const print = (every) => () => { chose.every = every; draw(); };
  const before = print(true), after = print(false);
  addEventListener("beforeprint", before);
  addEventListener("afterprint", after);
  draw();
  return () => {
    removeEventListener("beforeprint", before);
    removeEventListener("afterprint", after);
  };
}
