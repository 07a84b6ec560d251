package web

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/catalog"
	"duskboard/internal/fault"
	"duskboard/internal/night"
	"duskboard/web/views"
)

// wordsRoutes are the pages on which a club words its own cards.
func (s *server) wordsRoutes(r chi.Router) {
	r.Get("/", s.page(s.showWords))
	r.Post("/language", s.page(s.chooseLanguage))
	r.Post("/file", s.page(s.addLanguage))
	r.Get("/{lang}/texts.csv", s.page(s.languageFile))
	r.Post("/{lang}/undo", s.page(s.undoLanguage))
	r.Post("/{lang}/remove", s.page(s.removeLanguage))
	r.Post("/{lang}/restore", s.page(s.restoreLanguage))
	r.Get("/{lang}/{target}", s.page(s.editWords))
	r.Post("/{lang}/{target}", s.page(s.saveWords))
	r.Post("/{lang}/{target}/reset", s.page(s.resetWords))
	r.Post("/{lang}/{target}/undo", s.page(s.undoWords))
}

func wordsPath(lang string) string { return "/words?lang=" + url.QueryEscape(lang) }

func targetWordsPath(lang, target string) string {
	return "/words/" + url.PathEscape(lang) + "/" + url.PathEscape(target)
}

// showWords lists the languages and, in one of them, the targets.
func (s *server) showWords(w http.ResponseWriter, r *http.Request) error {
	return s.wordsPage(w, r, http.StatusOK, languageForm{}, nil, nil)
}

func (s *server) wordsPage(w http.ResponseWriter, r *http.Request, status int, f languageForm, faults fault.Fields, rows []RowFault) error {
	all, err := s.languages(r.Context())
	if err != nil {
		return err
	}
	papers, err := s.store.Papers(r.Context())
	if err != nil {
		return err
	}
	now, err := s.words(r.Context(), r.URL.Query().Get("lang"), papers.Language)
	if err != nil {
		return err
	}
	keys := all[0].languageKeys()
	m := views.WordsModel{Lang: now.Code, LangName: now.Name, Query: strings.TrimSpace(r.URL.Query().Get("q")), Faults: faultList(faults, map[string]string{"code": "Code", "name": "Name", "file": "File"})}
	for _, l := range all {
		row := views.LanguageRow{Name: l.Name, Code: l.Code, Href: wordsPath(l.Code), File: "/words/" + l.Code + "/texts.csv", Current: l.Code == now.Code, Usual: l.Code == papers.Language, Note: "Complete."}
		if l.Added {
			row.Remove = "/words/" + l.Code + "/remove"
			row.Note = fmt.Sprintf("%d of %d texts. What is missing is printed in English.", len(l.file), len(keys))
		}
		m.Languages = append(m.Languages, row)
	}
	cat, _, err := s.ownCatalogue(r.Context())
	if err != nil {
		return err
	}
	list := cat.All()
	if m.Query != "" {
		list = cat.Search(m.Query)
	}
	for _, t := range list {
		_, own := now.own[t.ID]
		if m.Query == "" && !own && !t.Showpiece && !t.Moves {
			continue // the rest is found by its name
		}
		m.Targets = append(m.Targets, views.WordsTarget{Name: now.shipped(t).Name, Href: targetWordsPath(now.Code, t.ID), Own: own})
	}
	for _, x := range rows {
		m.Rows = append(m.Rows, views.WordsFault{Row: x.Row, Key: x.Key, Message: x.Message})
	}
	m.Code = views.Field{Name: "code", Label: "Code", Hint: "Two or three letters, as on the web: nl, fr, cy.", Value: f.Code, Error: faults.For("code"), Width: "short", Required: true}
	m.Name = views.Field{Name: "name", Label: "Name of the language", Value: f.Name, Error: faults.For("name"), Width: "mid", Required: true}
	m.FileError, m.Text = faults.For("file"), f.Text
	return s.show(w, r, status, views.Head{Title: "Words of the cards", Section: inTargets, Crumbs: []views.Link{{Text: "Targets", Href: "/targets"}}}, views.WordsPage(m))
}

// chooseLanguage sets the language of every night that says nothing else.
func (s *server) chooseLanguage(w http.ResponseWriter, r *http.Request) error {
	l, err := s.words(r.Context(), r.PostFormValue("lang"))
	if err != nil {
		return err
	}
	p, err := s.store.Papers(r.Context())
	if err != nil {
		return err
	}
	p.Language = l.Code
	if err := s.store.SavePapers(r.Context(), p); err != nil {
		return err
	}
	return redirect(w, r, wordsPath(l.Code), views.Flash{Text: "Cards are in " + l.Name + " now, where a night says nothing else."})
}

// languageForm is a language file as sent.
type languageForm struct{ Code, Name, Text string }

var languageCode = regexp.MustCompile(`^[a-z]{2,3}(-[a-z0-9]{2,8})?$`)

// addLanguage reads a language file: all of it or, with a fault for each bad
// row, nothing.
func (s *server) addLanguage(w http.ResponseWriter, r *http.Request) error {
	text, wrong, err := sentText(r, "text")
	if err != nil {
		return err
	}
	f := languageForm{Code: strings.ToLower(strings.TrimSpace(r.PostFormValue("code"))), Name: strings.TrimSpace(r.PostFormValue("name")), Text: text}
	var faults fault.Fields
	if !languageCode.MatchString(f.Code) {
		faults = append(faults, fault.Field{Name: "code", Message: "Two or three small letters, such as nl."})
	} else if slices.Contains(catalog.Languages(), f.Code) {
		faults = append(faults, fault.Field{Name: "code", Message: "The program brings this language: change its words target by target, or choose another code, such as " + f.Code + "-club."})
	}
	if n := utf8.RuneCountInString(f.Name); n == 0 || n > 40 {
		faults = append(faults, fault.Field{Name: "name", Message: "1 to 40 characters."})
	}
	texts, rows, err := s.cardWords["en"].readLanguage(text)
	switch {
	case wrong != "":
		faults, rows = append(faults, fault.Field{Name: "file", Message: wrong}), nil
	case err != nil:
		faults = append(faults, fault.Field{Name: "file", Message: sentence(err.Error())})
	case len(rows) > 0:
		faults = append(faults, fault.Field{Name: "file", Message: "Nothing was kept: " + plural(len(rows), "row", "rows") + " to be put right."})
	}
	if len(faults) > 0 {
		return s.wordsPage(w, r, http.StatusUnprocessableEntity, f, faults, rows)
	}
	before, err := s.store.CardLanguages(r.Context())
	if err != nil {
		return err
	}
	if err := s.store.SaveCardLanguage(r.Context(), night.CardLanguage{Code: f.Code, Name: f.Name, Texts: texts}, s.now()); err != nil {
		return err
	}
	undo := "/words/" + f.Code + "/remove"
	if slices.ContainsFunc(before, func(l night.CardLanguage) bool { return l.Code == f.Code && !l.Removed }) {
		undo = "/words/" + f.Code + "/undo"
	}
	missing := len(s.cardWords["en"].languageKeys()) - len(texts)
	return redirect(w, r, wordsPath(f.Code), views.Flash{Text: fmt.Sprintf("%s: %s kept; %d more stay English.", f.Name, plural(len(texts), "text", "texts"), missing), Undo: undo})
}

// languageFile is a language as a table, to change or to translate.
func (s *server) languageFile(w http.ResponseWriter, r *http.Request) error {
	l, err := s.languageOf(r)
	if err != nil {
		return err
	}
	return sendCSV(w, "cards-"+l.Code+".csv", l.writeLanguage(s.cardWords["en"]))
}

// languageOf is the language in the address.
func (s *server) languageOf(r *http.Request) (*cardWords, error) {
	all, err := s.languages(r.Context())
	if err != nil {
		return nil, err
	}
	for _, l := range all {
		if l.Code == chi.URLParam(r, "lang") {
			return l, nil
		}
	}
	return nil, fault.New(fault.NotFound, "The cards do not speak this language.")
}

func (s *server) undoLanguage(w http.ResponseWriter, r *http.Request) error {
	code := chi.URLParam(r, "lang")
	if err := s.store.UndoCardLanguage(r.Context(), code); err != nil {
		return err
	}
	return redirect(w, r, wordsPath(code), views.Flash{Text: "The texts are as they were before the last file.", Undo: "/words/" + code + "/undo"})
}

func (s *server) removeLanguage(w http.ResponseWriter, r *http.Request) error {
	code := chi.URLParam(r, "lang")
	if err := s.store.RemoveCardLanguage(r.Context(), code, true); err != nil {
		return err
	}
	return redirect(w, r, "/words", views.Flash{Text: "The language is removed. Nights that chose it are printed in the club’s.", Undo: "/words/" + code + "/restore"})
}

func (s *server) restoreLanguage(w http.ResponseWriter, r *http.Request) error {
	code := chi.URLParam(r, "lang")
	if err := s.store.RemoveCardLanguage(r.Context(), code, false); err != nil {
		return err
	}
	return redirect(w, r, wordsPath(code), views.Flash{Text: "The language is back."})
}

// wordLine is one line of a target's words: its place in the form, what the
// program has, what the club has, and where the club's is kept.
type wordLine struct {
	name, label, hint, shipped, own string
	most                            int
	put                             func(*night.CardWords, string)
}

func (w *cardWords) wordLines(t catalog.Target) []wordLine {
	x, own := w.shipped(t).Words, w.own[t.ID]
	lines := []wordLine{{"Line", "Opening line", "What the operator says first.", x.Line, own.Line, catalog.MaxLine, func(c *night.CardWords, v string) { c.Line = v }}}
	for i := range catalog.MaxFacts {
		l := wordLine{name: "Fact" + strconv.Itoa(i+1), label: "Fact " + strconv.Itoa(i+1), most: catalog.MaxFact, put: func(c *night.CardWords, v string) {
			for len(c.Facts) <= i {
				c.Facts = append(c.Facts, "")
			}
			c.Facts[i] = v
		}}
		if i < len(x.Facts) {
			l.shipped = x.Facts[i]
		}
		if i < len(own.Facts) {
			l.own = own.Facts[i]
		}
		lines = append(lines, l)
	}
	return append(lines,
		wordLine{"LookFor", "Look for", "One task at the eyepiece.", x.LookFor, own.LookFor, catalog.MaxLookFor, func(c *night.CardWords, v string) { c.LookFor = v }},
		wordLine{"Expect", "What guests will see", "As it truly looks: small, grey, still.", x.Expect, own.Expect, catalog.MaxExpect, func(c *night.CardWords, v string) { c.Expect = v }},
		wordLine{"Find", "How to find it", "", x.Find, own.Find, catalog.MaxFind, func(c *night.CardWords, v string) { c.Find = v }},
		wordLine{"Child", "To a child", "Printed where the night is for families or a school.", w.shippedChild(t), own.Child, catalog.MaxLine, func(c *night.CardWords, v string) { c.Child = v }})
}

// wordsOf is the language and target in the address.
func (s *server) wordsOf(r *http.Request) (*cardWords, catalog.Target, error) {
	l, err := s.languageOf(r)
	if err != nil {
		return nil, catalog.Target{}, err
	}
	cat, _, err := s.ownCatalogue(r.Context())
	if err != nil {
		return nil, catalog.Target{}, err
	}
	t, ok := cat.ByID(chi.URLParam(r, "target"))
	if !ok {
		return nil, catalog.Target{}, fault.New(fault.NotFound, "There is no such target.")
	}
	return l, t, nil
}

// editWords is the form of one target's words.
func (s *server) editWords(w http.ResponseWriter, r *http.Request) error {
	l, t, err := s.wordsOf(r)
	if err != nil {
		return err
	}
	return s.editWordsPage(w, r, http.StatusOK, l, t, nil, nil)
}

func (s *server) editWordsPage(w http.ResponseWriter, r *http.Request, status int, l *cardWords, t catalog.Target, typed map[string]string, faults fault.Fields) error {
	_, own := l.own[t.ID]
	name := l.shipped(t).Name
	m := views.EditWordsModel{Title: name, Over: l.Name, Lang: l.Code, Action: targetWordsPath(l.Code, t.ID), Back: wordsPath(l.Code), Own: own}
	labels := map[string]string{}
	for _, x := range l.wordLines(t) {
		f := views.Field{Name: x.name, Label: x.label, Hint: x.hint, Value: x.own, Error: faults.For(x.name), Rows: 2}
		if f.Value == "" {
			f.Value = x.shipped
		} else {
			f.Hint = strings.TrimSpace(f.Hint + " The program has: " + x.shipped)
		}
		if v, ok := typed[x.name]; ok {
			f.Value = v
		}
		labels[x.name] = x.label
		m.Fields = append(m.Fields, f)
	}
	m.Faults = faultList(faults, labels)
	return s.show(w, r, status, views.Head{Title: "Words for " + name, Section: inTargets, Crumbs: []views.Link{{Text: "Targets", Href: "/targets"}, {Text: "Words of the cards", Href: wordsPath(l.Code)}}}, views.EditWords(m))
}

// saveWords keeps what differs from the program's words; an emptied line goes
// back to them.
func (s *server) saveWords(w http.ResponseWriter, r *http.Request) error {
	l, t, err := s.wordsOf(r)
	if err != nil {
		return err
	}
	var own night.CardWords
	var faults fault.Fields
	typed := map[string]string{}
	for _, x := range l.wordLines(t) {
		v := strings.Join(strings.Fields(r.PostFormValue(x.name)), " ")
		typed[x.name] = v
		if n := utf8.RuneCountInString(v); n > x.most {
			faults = append(faults, fault.Field{Name: x.name, Message: fmt.Sprintf("%d characters, at most %d fit on a card.", n, x.most)})
		}
		if v != x.shipped && v != "" {
			x.put(&own, v)
		}
	}
	if len(faults) > 0 {
		return s.editWordsPage(w, r, http.StatusUnprocessableEntity, l, t, typed, faults)
	}
	return s.keepWords(w, r, l, t, own, "The words for "+l.shipped(t).Name+" are kept.")
}

// resetWords brings the program's words back.
func (s *server) resetWords(w http.ResponseWriter, r *http.Request) error {
	l, t, err := s.wordsOf(r)
	if err != nil {
		return err
	}
	return s.keepWords(w, r, l, t, night.CardWords{}, l.shipped(t).Name+" has the program’s own words again.")
}

func (s *server) keepWords(w http.ResponseWriter, r *http.Request, l *cardWords, t catalog.Target, own night.CardWords, text string) error {
	if err := s.store.SaveCardWords(r.Context(), l.Code, t.ID, own); err != nil {
		return err
	}
	path := targetWordsPath(l.Code, t.ID)
	return redirect(w, r, path, views.Flash{Text: text, Undo: path + "/undo"})
}

// undoWords takes the last change of a target's words back.
func (s *server) undoWords(w http.ResponseWriter, r *http.Request) error {
	l, t, err := s.wordsOf(r)
	if err != nil {
		return err
	}
	if err := s.store.UndoCardWords(r.Context(), l.Code, t.ID); err != nil {
		return err
	}
	path := targetWordsPath(l.Code, t.ID)
	return redirect(w, r, path, views.Flash{Text: "The last change is taken back.", Undo: path + "/undo"})
}
