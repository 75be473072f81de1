package cards

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"strings"

	"longgrain/internal/paper/svg"
	"longgrain/internal/work/schedule"
)

//go:embed carry.css
var carryCSS string

//go:embed carry.js
var carryJS string

// FileName is the name of the file of all cards among the exports.
const FileName = "cards.html"

// File writes all cards into one HTML file that needs nothing else: no network, no program. It asks for nothing outside itself, and
// its own rules forbid it to. Without script it is a list of cards to read and to print; with script it shows one card at a time,
// keeps ticks, notes and timers in the browser under key, and gives the ticks as a text that the page of the cards takes. key tells
// the files of different pieces apart; an empty one is made from the deck.
func File(d Deck, key string) []byte {
	w := &carrier{figures: map[string]Figure{}}
	for _, f := range d.Figures {
		w.figures[f.ID] = f
	}
	if key == "" {
		sum := sha256.Sum256([]byte(d.Piece + "\n" + d.Shop))
		key = hex.EncodeToString(sum[:8])
	}
	style := svg.CSS() + carryCSS
	policy := fmt.Sprintf("default-src 'none'; script-src '%s'; style-src '%s'; base-uri 'none'; form-action 'none'", hashOf(carryJS), hashOf(style))
	w.raw("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	w.f("<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">\n", policy)
	w.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1, viewport-fit=cover\">\n<meta name=\"color-scheme\" content=\"light dark\">\n")
	w.f("<title>%s, bench cards</title>\n", d.Piece)
	w.raw("<style>" + style + "</style>\n</head>\n")
	w.f("<body data-key=\"%s\" data-piece=\"%s\">\n", key, d.Piece)
	w.f("<header><p><strong>%s</strong> <span class=\"soft\">%s</span> <span id=\"count\"></span> <strong id=\"state\" role=\"status\"></strong></p>\n", d.Piece, d.Shop)
	w.raw("<p id=\"keeps\" hidden>This browser keeps nothing for this file: copy your ticks before you close it.</p>\n<div id=\"alarms\" role=\"alert\"></div><div id=\"runs\"></div></header>\n<main>\n")
	for _, c := range d.Cards {
		w.card(c)
	}
	w.raw(carryFoot)
	w.raw("<script>" + carryJS + "</script>\n</body>\n</html>\n")
	return []byte(w.String())
}

// carryFoot is what the script works with; it is hidden until the script runs.
const carryFoot = `<p id="noted"></p>
<section class="live" hidden aria-label="Ticks">
<p><button type="button" id="copy">Copy my ticks</button></p>
<div id="taken" hidden><p id="copied" role="status"></p><label>My ticks<textarea id="ticks" rows="4" readonly></textarea></label></div>
</section>
</main>
<nav class="live" hidden aria-label="Card">
<form id="writing" hidden><label>Note<input type="text" id="words" maxlength="2000"></label><button type="submit">Keep</button></form>
<button type="button" id="start">Start</button><button type="button" id="write">Note</button><button type="button" id="back">Back</button>
<button type="button" id="done" class="strong">Done</button><button type="button" id="next">Next</button>
</nav>
`

// hashOf names a script or style sheet in a content security policy.
func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// carrier writes the file.
type carrier struct {
	strings.Builder
	figures map[string]Figure
}

// raw writes what is HTML already.
func (w *carrier) raw(text string) { w.WriteString(text) }

// f writes HTML with words put in; every one of them is escaped.
func (w *carrier) f(format string, words ...string) {
	safe := make([]any, len(words))
	for i, s := range words {
		safe[i] = html.EscapeString(s)
	}
	fmt.Fprintf(w, format, safe...)
}

func (w *carrier) list(class, label string, lines []string) {
	if len(lines) == 0 {
		return
	}
	w.f("<ul class=\"%s\" aria-label=\"%s\">", class, label)
	for _, l := range lines {
		w.f("<li>%s</li>", l)
	}
	w.raw("</ul>\n")
}

func (w *carrier) card(c Card) {
	type task struct {
		ID   string `json:"id"`
		Name string `json:"name"`
	}
	var tasks []task
	state, begun := "open", false
	for _, t := range c.Tasks {
		tasks = append(tasks, task{t.ID, t.Name})
		begun = begun || t.State == schedule.Started
	}
	switch {
	case c.Done:
		state = "done"
	case begun:
		state = "started"
	}
	ids, err := json.Marshal(tasks)
	if err != nil {
		panic("cards: names of tasks cannot be written: " + err.Error())
	}
	id := fmt.Sprint(c.Number)
	w.f("<section class=\"card\" id=\"card-%s\" data-tasks=\"%s\" data-state=\"%s\">\n", id, string(ids), state)
	w.f("<p class=\"soft\">%s, %s", c.Day, c.At)
	for _, x := range c.Again {
		w.f(" · goes on %s", x)
	}
	w.f("</p>\n<h1 tabindex=\"-1\">%s. %s</h1>\n<p>about %s min", id, c.Title, fmt.Sprint(c.Minutes))
	if c.People > 1 {
		w.f(" each, %s people", fmt.Sprint(c.People))
	}
	w.raw("</p>\n")
	var parts []string
	for _, p := range c.Parts {
		parts = append(parts, p.Mark+" "+p.Name)
	}
	if len(parts) > 0 {
		w.f("<p>%s</p>\n", strings.Join(parts, " · "))
	}
	w.list("after", "Only after", c.After)
	for _, x := range c.Cautions {
		w.raw("<div class=\"box\">")
		for _, p := range []struct{ format, text string }{{"<p><strong>%s</strong></p>", x.Title}, {"<p>%s</p>", x.Text}, {"<p class=\"stop\">%s</p>", x.Stop}} {
			if p.text != "" {
				w.f(p.format, p.text)
			}
		}
		w.raw("</div>\n")
	}
	for _, name := range c.Figures {
		f := w.figures[name]
		w.f("<figure tabindex=\"0\" aria-label=\"%s\">", f.Caption)
		// An id may stand only once in a page, and a figure may stand on several cards.
		w.raw(svg.Inline(f.Scene, "c"+id+"-"+name+"-", true))
		w.f("<figcaption>%s <button type=\"button\" class=\"live\" hidden data-larger=\"\" aria-pressed=\"false\">Larger</button></figcaption></figure>\n", f.Caption)
	}
	if len(c.Settings) > 0 {
		w.raw("<h2>Set and have ready</h2>\n<dl>")
		for _, s := range c.Settings {
			w.f("<div><dt>%s</dt><dd>%s</dd></div>", s.Name, s.Value)
		}
		w.raw("</dl>\n")
	}
	if len(c.Steps) > 0 {
		w.raw("<h2>Step by step</h2>\n<ul class=\"steps\">")
		for i, s := range c.Steps {
			w.f("<li><label><input type=\"checkbox\" data-step=\"%s\"><span>%s</span></label></li>", fmt.Sprintf("%s/%d", c.Tasks[0].ID, i), s)
		}
		w.raw("</ul>\n")
	}
	if len(c.Timers) > 0 {
		w.raw("<h2>Times to keep</h2>\n<ul class=\"times\">")
		for _, t := range c.Timers {
			w.f("<li><span><strong>%s</strong> %s</span> <button type=\"button\" class=\"live\" hidden data-timer=\"%s\" data-name=\"%s\" data-ring=\"%s\" data-minutes=\"%s\">Start %s min</button></li>",
				t.Name+", "+fmt.Sprint(t.Minutes)+" min", t.Note, c.Tasks[0].ID+"/"+t.ID, t.Name, t.Ring, fmt.Sprint(t.Minutes), fmt.Sprint(t.Minutes))
		}
		w.raw("</ul>\n")
	}
	if len(c.Notes) > 0 {
		w.raw("<h2>Mind</h2>\n")
		w.list("mind", "Mind", c.Notes)
	}
	if c.Then != "" {
		w.f("<p><strong>Then:</strong> %s</p>\n", c.Then)
	}
	w.raw("</section>\n")
}
