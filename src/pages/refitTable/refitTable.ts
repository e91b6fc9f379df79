import { make, roving, setText } from "../../preview/panel/dom";
import type { Speech } from "../../preview/panel/speech";
import { nextSorting } from "./columns";
import { type KeptState, readKeptState } from "./keptState";
import { makeMessageRow } from "./messageRow";
import type { PageDeeds } from "./pageDeeds";
import type { FromRefitTable, TableMessage, ToRefitTable } from "./protocol";
import { nothingShown, receive, type ShownState } from "./shownState";
import { arrange, makeTableGroup, type TableGroup } from "./tableGroup";
import { makeTableHead } from "./tableHead";
import { makeRunTeller } from "./telling";
import { makeToolbar } from "./toolbar";

/** The editor's side of the page. */
export interface PageHost {
  post(message: FromRefitTable): void;
  /** What was kept by `keep`, before the window was reloaded or the page hidden. */
  readonly kept: unknown;
  keep(state: KeptState): void;
}

/** The whole page: takes messages in, keeps table and controls in step. */
export class RefitTable {
  #shown: ShownState = nothingShown;
  #kept: KeptState;
  /** A scroll that waits for the rows to be there. */
  #scrollTo: number | undefined;
  readonly #host: PageHost;
  readonly #speech: Speech;
  readonly #tellRun = makeRunTeller();
  readonly #groups = new Map<string, TableGroup>();
  readonly #toolbar: ReturnType<typeof makeToolbar>;
  readonly #head: ReturnType<typeof makeTableHead>;
  readonly #table: HTMLTableElement;
  readonly #title = make("h1", {});
  readonly #caption = make("caption", {}, this.#title);
  readonly #messages = make("ul", { class: "messages", attributes: { role: "list" } });
  readonly #notice = make("div", { id: "notice", class: "notice" });
  readonly #cautions = make("ul", { attributes: { role: "list" } });
  readonly #scroll: HTMLElement;
  readonly #rows: ReturnType<typeof roving>;
  #toldNotice = "";
  #toldMessages = "";
  #isPainting = false;

  constructor(root: HTMLElement, host: PageHost, speech: Speech) {
    this.#host = host;
    this.#speech = speech;
    this.#kept = readKeptState(host.kept);
    this.#scrollTo = this.#kept.scroll;
    const deeds: PageDeeds = {
      show: (key) => host.post({ kind: "show", key }),
      toggle: (key) => this.#toggle(key),
      goTo: (place) => host.post({ kind: "goTo", place }),
      sortBy: (column) => this.#keep({ sorting: nextSorting(this.#kept.sorting, column) }),
      setScope: (scope) => host.post({ kind: "scope", scope }),
      cancel: () => host.post({ kind: "cancel" }),
      again: () => host.post({ kind: "again" }),
      exportFiles: () => host.post({ kind: "export" }),
      command: (command) => host.post({ kind: "command", command }),
    };
    this.#deeds = deeds;
    this.#toolbar = makeToolbar(deeds);
    this.#head = makeTableHead((column) => deeds.sortBy(column));
    this.#table = make("table", { id: "table" }, this.#caption, this.#head.element);
    this.#scroll = make(
      "main",
      { class: "scroll" },
      this.#notice,
      this.#messages,
      this.#table,
      make(
        "footer",
        { id: "cautions", class: "cautions", attributes: { "aria-label": "Cautions" } },
        make("h2", { text: "Before it is worn" }),
        this.#cautions,
      ),
    );
    root.append(this.#toolbar.element, this.#scroll);
    this.#rows = roving(this.#table, ".row-show", "down");
    this.#scroll.addEventListener("scroll", () => {
      if (this.#scrollTo !== undefined) return;
      this.#kept = { ...this.#kept, scroll: this.#scroll.scrollTop };
      host.keep(this.#kept);
    });
    this.#paint();
  }

  readonly #deeds: PageDeeds;

  /** Takes a message that was checked. */
  receive(message: ToRefitTable): void {
    this.#shown = receive(this.#shown, message);
    if (message.kind === "table") {
      const { scope, design } = message;
      this.#kept = { ...this.#kept, table: { scope, ...(design && { design: design.uri }) } };
      this.#host.keep(this.#kept);
    }
    this.#paintSoon();
  }

  #toggle(key: string): void {
    const { open } = this.#kept;
    this.#keep({ open: open.includes(key) ? open.filter((one) => one !== key) : [...open, key] });
  }

  #keep(change: Partial<KeptState>): void {
    this.#kept = { ...this.#kept, ...change };
    this.#host.keep(this.#kept);
    this.#paint();
  }

  /** Many rows may come at once: they are drawn together. */
  #paintSoon(): void {
    if (this.#isPainting) return;
    this.#isPainting = true;
    // Not at the next picture: a page that is not looked at has none, and is to speak all the same.
    setTimeout(() => {
      this.#isPainting = false;
      this.#paint();
    }, 30);
  }

  #paint(): void {
    const { table, notice } = this.#shown;
    this.#toolbar.update(this.#shown);
    this.#paintNotice();
    const hasTable = table !== undefined && notice === undefined;
    this.#table.hidden = !hasTable;
    const footer = this.#cautions.parentElement as HTMLElement;
    footer.hidden = !hasTable || table.cautions.length === 0;
    this.#messages.hidden = !hasTable || table.messages.length === 0;
    if (hasTable) this.#paintTable(table);
    const told = this.#tellRun(this.#shown, performance.now());
    if (told !== undefined) this.#speech.say(told);
  }

  #paintTable(table: TableMessage): void {
    const { groups, scope, design } = table;
    const { sorting, open } = this.#kept;
    const of = scope === "all" ? "All designs" : (design?.label ?? groups[0]?.label ?? "Design");
    setText(this.#title, `${of}, fitted to each wearer`);
    this.#head.update(sorting);
    const wanted = new Set(groups.map((group) => group.design));
    for (const known of [...this.#groups.keys()]) if (!wanted.has(known)) this.#groups.delete(known);
    const elements = groups.map((group) => {
      let shown = this.#groups.get(group.design);
      if (!shown) {
        shown = makeTableGroup(this.#deeds);
        this.#groups.set(group.design, shown);
      }
      shown.update({
        group,
        figures: this.#shown.figures,
        phase: table.run.phase,
        sorting,
        open: new Set(open),
        isNamed: groups.length > 1,
      });
      return shown.element;
    });
    arrange(this.#table, [this.#caption, this.#head.element, ...elements]);
    this.#rows.refresh();
    this.#paintTexts(table);
    if (this.#scrollTo !== undefined && groups.length > 0) {
      this.#scroll.scrollTop = this.#scrollTo;
      this.#scrollTo = undefined;
    }
  }

  #paintTexts({ messages, cautions }: TableMessage): void {
    const told = JSON.stringify([messages, cautions]);
    if (told === this.#toldMessages) return;
    this.#toldMessages = told;
    this.#messages.replaceChildren(
      ...messages.map((message) => makeMessageRow(message, (place) => this.#deeds.goTo(place))),
    );
    this.#cautions.replaceChildren(...cautions.map((text) => make("li", { text })));
  }

  #paintNotice(): void {
    const { notice } = this.#shown;
    this.#notice.hidden = notice === undefined;
    const told = JSON.stringify(notice ?? "");
    if (told === this.#toldNotice) return;
    this.#toldNotice = told;
    if (!notice) return;
    const { title, text, action } = notice;
    const button =
      action &&
      make("button", {
        id: "notice-action",
        class: "button",
        text: action.label,
        attributes: { type: "button" },
      });
    button?.addEventListener("click", () => action && this.#deeds.command(action.command));
    this.#notice.replaceChildren(
      make("h1", { id: "notice-title", text: title }),
      make("p", { text }),
      ...(button ? [button] : []),
    );
    this.#speech.say(`${title}. ${text}`);
  }
}
