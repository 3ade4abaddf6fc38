// Tables sort by a click on a heading. Without script everything stays readable in the order in which it was written.
for (const table of document.querySelectorAll("main table")) {
  const body = table.tBodies[0];
  if (!body || body.rows.length < 3) continue;
  const { decimal, thousands } = document.documentElement.dataset;
  const value = (row, i) => {
    const told = row.cells[i].querySelector("time, [data-sort]");
    if (told) return told.dateTime ? Date.parse(told.dateTime) : Number(told.dataset.sort);
    const text = row.cells[i].textContent.trim();
    const bare = text.replaceAll(thousands, "").replace(/[\u00a0 ]/g, "").replace(decimal, ".").replace("\u2212", "-");
    const number = parseFloat(bare);
    return Number.isNaN(number) ? text.toLocaleLowerCase() : number;
  };
  [...table.tHead.rows[0].cells].forEach((head, i) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const up = head.getAttribute("aria-sort") !== "ascending";
      for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", up ? "ascending" : "descending");
      const order = (a, b) => {
        const [x, y] = [value(a, i), value(b, i)];
        if (typeof x === "number" && typeof y === "number") return x - y;
        if (typeof x === typeof y) return x.localeCompare(y, document.documentElement.lang);
        return typeof x === "number" ? -1 : 1;
      };
      const rows = [...body.rows].sort((a, b) => (up ? order(a, b) : order(b, a)));
      body.append(...rows);
    });
  });
}
