"use strict";
(() => {
  const all = (selector, from = document) => [...from.querySelectorAll(selector)];
  const one = (id) => document.getElementById(id);
  const form = one("filter");
  const joints = all(".joint");
  const rows = joints.flatMap((joint) =>
    all("tbody > tr", joint).map((row) => ({ row, joint, cells: all("td[id]", row) })));
  const articles = all("article");
  const squares = new Map(all(".q").map((square) => [square.dataset.c, square]));
  const kindOf = new Map();
  for (const article of articles) {
    if (article.id) kindOf.set(article.id, article.dataset.k);
    for (const member of all(".members [id]", article)) kindOf.set(member.id, article.dataset.k);
  }
  const number = (count, word) => `${count.toLocaleString("en")} ${word}${count === 1 ? "" : "s"}`;

  // --- filter ---
  const textOf = new WeakMap();
  const text = (element) => {
    if (!textOf.has(element)) textOf.set(element, element.textContent.toLowerCase());
    return textOf.get(element);
  };
  const marksOf = (cell) => {
    if (!cell.marks) {
      const labels = all("a", cell).map((link) => link.hash.slice(1)).filter((label) => kindOf.has(label));
      cell.marks = { weights: new Set(labels.map((label) => label[0])), kinds: new Set(labels.map((label) => kindOf.get(label))) };
    }
    return cell.marks;
  };
  const inState = (cell, state) => {
    const step = Number(cell.dataset.d);
    return state === "" || (state === "u" ? step < 2 : state === "t" ? step < 3 : step === Number(state));
  };
  const asked = () => {
    const data = new FormData(form);
    return { words: data.get("text").toLowerCase().split(/\s+/).filter(Boolean), joint: data.get("joint"),
      side: data.get("side"), state: data.get("state"), kind: data.get("kind"), weights: data.getAll("weight") };
  };
  const hasWords = (element, words) => words.every((word) => text(element).includes(word));
  const cellMatches = (cell, ask) =>
    (!ask.side || cell.dataset.s === ask.side) && inState(cell, ask.state) &&
    (!ask.kind || marksOf(cell).kinds.has(ask.kind)) &&
    (!ask.weights.length || ask.weights.some((weight) => marksOf(cell).weights.has(weight)));
  const articleMatches = (article, ask) =>
    (!ask.joint || article.dataset.j === ask.joint) &&
    (!ask.side || !article.dataset.s || article.dataset.s.split(" ").includes(ask.side)) &&
    (!ask.kind || article.dataset.k === ask.kind) &&
    (!ask.weights.length || ask.weights.includes(article.dataset.w)) &&
    hasWords(article, ask.words);

  const apply = () => {
    const ask = asked();
    let shown = 0, total = 0, found = 0;
    const open = new Set();
    for (const { row, joint, cells } of rows) {
      const here = (!ask.joint || joint.dataset.j === ask.joint) && hasWords(row, ask.words);
      let any = false;
      for (const cell of cells) {
        const matches = here && cellMatches(cell, ask);
        any ||= matches;
        total += 1;
        shown += matches;
        squares.get(cell.id.slice(1))?.classList.toggle("dim", !matches);
      }
      row.classList.toggle("hide", !any);
      if (any) open.add(joint);
    }
    for (const joint of joints) joint.classList.toggle("hide", !open.has(joint));
    for (const article of articles) {
      const matches = articleMatches(article, ask);
      found += matches;
      article.classList.toggle("hide", !matches);
    }
    for (const part of all(".findings")) part.classList.toggle("hide", !part.querySelector("article:not(.hide)"));
    one("shown").textContent = shown === total && found === articles.length ? "" :
      `${number(shown, "connection")} of ${total.toLocaleString("en")} and ` +
      `${number(found, "entry").replace("entrys", "entries")} of ${articles.length.toLocaleString("en")} under findings shown. ` +
      "The verdict is that of the whole.";
  };
  let waiting = 0;
  const soon = () => { clearTimeout(waiting); waiting = setTimeout(apply, 120); };
  form.addEventListener("input", soon);
  form.addEventListener("submit", (event) => { event.preventDefault(); apply(); });
  form.addEventListener("reset", () => setTimeout(apply));
  form.hidden = false;

  // --- selection: a connection with its route, a joint, or a finding ---
  const clear = () => {
    for (const each of all(".on, .way")) each.classList.remove("on", "way");
    one("way")?.setAttribute("d", "");
    one("bar").hidden = true;
  };
  const say = (words, links = []) => {
    const line = one("selected");
    line.replaceChildren(words);
    for (const [label, hash] of links) {
      const link = document.createElement("a");
      link.href = hash;
      link.textContent = label;
      line.append(" ", link);
    }
    one("bar").hidden = false;
  };
  const words = (cell) => {
    const row = cell.parentElement;
    const joint = cell.closest(".joint").querySelector("h3").textContent;
    const id = row.querySelector("th").textContent, carries = row.querySelector("td:not(.s) div")?.textContent ?? "";
    const marks = all("a", cell).map((link) => link.textContent).join(", ");
    return `${joint} ${cell.dataset.s}: ${id}${carries && `, ${carries}`}, ${cell.querySelector("small").textContent}` +
      (marks && `, findings ${marks}`);
  };
  const centre = (square) => {
    const box = square.firstElementChild;
    return [Number(box.getAttribute("x")) + Number(box.getAttribute("width")) / 2,
      Number(box.getAttribute("y")) + Number(box.getAttribute("height")) / 2];
  };
  const selectConnection = (cell) => {
    cell.classList.add("on");
    cell.parentElement.classList.add("on");
    const square = squares.get(cell.id.slice(1));
    square?.classList.add("on");
    const route = cell.dataset.r;
    const way = route === undefined ? [] : all(`.q[data-r="${route}"]`);
    for (const each of way) each.classList.add("way");
    if (way.length > 1) {
      one("way").setAttribute("d", "M" + way.map(centre).sort((a, b) => a[0] - b[0]).join("L"));
      for (const each of all(`td[data-r="${route}"]`)) each.classList.add("on");
    }
    const others = all(`td[data-r="${route}"]`).filter((each) => route !== undefined && each !== cell);
    say(`${words(cell)}.` + (others.length ? " Its route goes on through" : ""),
      others.slice(0, 6).map((each) => [each.parentElement.querySelector("th").textContent + " " + each.dataset.s, "#" + each.id]));
  };
  const selectJoint = (joint) => {
    joint.classList.add("on");
    const at = joint.dataset.j;
    for (const line of all(".bundles path")) line.classList.toggle("on", line.dataset.a === at || line.dataset.b === at);
    for (const square of all(`.face[data-j="${at}"] .q`)) square.classList.add("way");
    const found = articles.filter((article) => article.dataset.j === at);
    say(`Joint ${joint.querySelector("h3").textContent}: ${number(all("td[id]", joint).length, "connection")}, ` +
      `${number(found.length, "entry").replace("entrys", "entries")} under findings.`,
      found.slice(0, 4).map((article) => [article.querySelector("h4 b").textContent, "#" + (article.id || article.querySelector("[id]").id)]));
  };
  const selectFinding = (target) => {
    const article = target.closest("article");
    article.classList.add("on");
    const links = all('a[href^="#c"]', target.matches("article") ? article.querySelector("h4") : target);
    const all_ = links.length ? links : all('a[href^="#c"]', article);
    for (const link of all_) {
      const cell = one(link.hash.slice(1));
      cell?.classList.add("on");
      squares.get(link.hash.slice(2))?.classList.add("on");
    }
    say(article.querySelector("h4").textContent.trim() + ".", all_.slice(0, 6).map((link) => [link.textContent, link.hash]));
  };
  const select = () => {
    clear();
    const id = decodeURIComponent(location.hash.slice(1));
    const target = id && one(id);
    if (!target) return;
    const hidden = target.closest(".hide");
    if (hidden) { form.reset(); apply(); }
    if (/^c\d+$/.test(id)) selectConnection(target);
    else if (/^j\d+$/.test(id)) selectJoint(target);
    else if (/^[HON]\d+$/.test(id)) selectFinding(target);
    else return;
    target.scrollIntoView({ block: "center" });
  };
  addEventListener("hashchange", select);
  one("unselect").addEventListener("click", () => {
    history.replaceState(null, "", location.pathname + location.search);
    clear();
  });

  // --- the drawing: mouse and keys ---
  const sheet = one("sheet");
  if (sheet) {
    all(".js").forEach((each) => { each.hidden = false; });
    sheet.addEventListener("click", (event) => {
      const square = event.target.closest(".q"), label = event.target.closest("text.joint");
      if (square) location.hash = "c" + square.dataset.c;
      else if (label) location.hash = "j" + label.dataset.j;
    });
    const order = [...squares.values()];
    let here = null;
    const go = (square) => {
      here?.classList.remove("here");
      here = square;
      here.classList.add("here");
      here.scrollIntoView({ block: "nearest", inline: "nearest" });
      say(words(one("c" + here.dataset.c)) + ".", [["Select", "#c" + here.dataset.c]]);
    };
    const nearest = (dx, dy) => {
      const [x, y] = centre(here);
      let best = null, least = Infinity;
      for (const each of order) {
        const [ex, ey] = centre(each);
        const along = (ex - x) * dx + (ey - y) * dy, across = Math.abs((ex - x) * dy) + Math.abs((ey - y) * dx);
        if (along > 1 && along + 3 * across < least) { least = along + 3 * across; best = each; }
      }
      return best;
    };
    const moves = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] };
    sheet.addEventListener("keydown", (event) => {
      if (event.key in moves) {
        event.preventDefault();
        const next = here ? nearest(...moves[event.key]) : order[0];
        if (next) go(next);
      } else if (event.key === "Enter" && here) {
        location.hash = "c" + here.dataset.c;
      }
    });
  }
  addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !one("bar").hidden) one("unselect").click();
    else if (event.key === "/" && !event.target.closest("input, select")) {
      event.preventDefault();
      form.elements.text.focus();
    }
  });
  select();
})();
