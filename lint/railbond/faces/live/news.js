// News of the plan while it is written: from the editor that shows the page, or from the command that serves it.

class News {
  constructor(page) {
    this.page = page;
    addEventListener("message", (event) => this.hear(event.data));
    if (page.data.follows) this.follow(page.data.follows, page.data.version ?? 0);
    page.say({ railbond: "ready" });
  }

  /** A word from the editor that shows this page. */
  hear(message) {
    const { page } = this;
    if (message?.railbond === "shown") this.renew(message);
    if (message?.railbond === "stale") this.stale(message.words);
    if (message?.railbond === "cursor") this.point(message);
    if (message?.railbond === "throw" && page.graph.switches[message.name]) page.throwNext(message.name);
  }

  point({ path, line }) {
    this.page.cursor = { path, line };
    this.page.drawing.mark(this.page.ofLine(line, path), "chosen");
  }

  /** Takes a railroad, or what is new of the one that is shown. */
  renew({ shown, changes, since }) {
    const { page } = this;
    const before = page.data;
    if (changes && since !== before.number) return page.say({ railbond: "behind" });
    const after = shown ? { ...shown } : changed(before, changes);
    const isNew = (...names) => names.some((name) => after[name] !== before[name]);
    if (isNew("marks", "frame", "title", "words")) after.marks = page.drawing.renew(after.marks, after);
    if (isNew("sheets")) byId("sheets").replaceChildren(...new DOMParser().parseFromString(after.sheets ?? "", "text/html").body.children);
    if (isNew("words")) byId("words").replaceChildren(...(after.words ?? []).map((words) => made("li", words)));
    if (isNew("title")) document.title = document.querySelector("h1").textContent = after.title;
    if (this.isStale) page.tell(before.findings);
    this.stale("");
    page.show(after, before, page.graph.setting);
  }

  stale(words, findings = null) {
    this.isStale = Boolean(words);
    byId("banner").hidden = !words;
    byId("banner").textContent = words;
    if (!findings) return;
    listFindings(findings, true, () => undefined);
    byId("verdict").textContent = verdict(findings);
  }

  /** Asks for news, again and again: the answer comes when there is some. */
  async follow(address, version) {
    for (;;) {
      try {
        const answer = await fetch(`${address}?after=${version}&has=${this.page.data.number}`, { cache: "no-store" });
        if (!answer.ok) throw new Error(String(answer.status));
        const news = await answer.json();
        if (news.version !== version) {
          version = news.version;
          if (news.shown || news.changes) this.renew(news);
          else this.stale(news.stale, news.findings);
        }
      } catch {
        this.stale("railbond does not answer any more: this is the railroad as it was.");
        await new Promise((resolve) => setTimeout(resolve, 3000));
      }
    }
  }
}

new News(new Page(JSON.parse(byId("data").textContent)));
