package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/exchange"
	"duskboard/web/views"
)

// tableImport is one kind of thing that comes in and goes out as a table. The
// pages are the same for all: a box, what the table would do, one button.
type tableImport struct {
	s           *server
	path        string // in the address: /kit gives /kit/import and /kit/export.csv
	over, title string
	section     string
	crumb       views.Link
	one, many   string
	hint        string // what finds the row's counterpart
	file        string // name of an exported file
	columns     []exchange.ColumnInfo
	template    string
	plan        func(ctx context.Context, text string) (tablePlan, error)
	export      func(ctx context.Context) ([]byte, error)
}

// tablePlan is what a table would do, and the way to do it.
type tablePlan struct {
	changes []exchange.Change
	save    func(ctx context.Context) (undo string, err error) // all of it or nothing
}

func (p tablePlan) count(o exchange.Outcome) int {
	n := 0
	for _, c := range p.changes {
		if c.Outcome == o {
			n++
		}
	}
	return n
}

// mount adds the pages.
func (t tableImport) mount(r chi.Router) {
	r.Get(t.path+"/import", t.s.page(t.show))
	r.Post(t.path+"/import", t.s.page(t.take))
	r.Get(t.path+"/import/template.csv", t.s.page(t.sendTemplate))
	r.Get(t.path+"/export.csv", t.s.page(t.sendExport))
}

func (t tableImport) show(w http.ResponseWriter, r *http.Request) error {
	return t.render(w, r, http.StatusOK, views.TableImport{})
}

func (t tableImport) sendTemplate(w http.ResponseWriter, r *http.Request) error {
	return sendCSV(w, t.file+"-to-start-from.csv", []byte(t.template))
}

func (t tableImport) sendExport(w http.ResponseWriter, r *http.Request) error {
	b, err := t.export(r.Context())
	if err != nil {
		return err
	}
	return sendCSV(w, t.file+".csv", b)
}

// take shows what a table would do; sent again with "keep" it is done. A table
// with any fault changes nothing and stands in the box as it was sent.
func (t tableImport) take(w http.ResponseWriter, r *http.Request) error {
	text, wrong, err := sentText(r, "text")
	if err != nil {
		return err
	}
	if wrong != "" {
		return t.render(w, r, http.StatusUnprocessableEntity, views.TableImport{Faults: []views.RowFault{{Row: "the file", Message: wrong}}})
	}
	m := views.TableImport{Text: text}
	p, err := t.plan(r.Context(), text)
	var faults exchange.Faults
	switch {
	case errors.As(err, &faults):
		m.Faults = rowFaults(faults)
		if len(text) > exchange.MaxSize {
			m.Text = "" // it would only be sent to and fro
		}
		return t.render(w, r, http.StatusUnprocessableEntity, m)
	case err != nil:
		return err
	}
	m.Added, m.Changed, m.Same = p.count(exchange.Added), p.count(exchange.Changed), p.count(exchange.Same)
	m.Ready = m.Added+m.Changed > 0
	if r.PostFormValue("keep") == "1" && m.Ready {
		undo, err := p.save(r.Context())
		if err != nil {
			return err
		}
		words := fmt.Sprintf("%s: %d added, %d changed, %d left alone.", first(t.many), m.Added, m.Changed, m.Same)
		return redirect(w, r, t.crumb.Href, views.Flash{Text: words, Undo: undo})
	}
	for _, c := range p.changes {
		m.Rows = append(m.Rows, changedRow(c))
	}
	return t.render(w, r, http.StatusOK, m)
}

func (t tableImport) render(w http.ResponseWriter, r *http.Request, status int, m views.TableImport) error {
	m.Over, m.Title, m.Many, m.Hint = t.over, t.title, t.many, t.hint
	m.Action, m.Template, m.Export = t.path+"/import", t.path+"/import/template.csv", t.path+"/export.csv"
	for _, c := range t.columns {
		m.Columns = append(m.Columns, views.ColumnRow{Name: c.Name, Meaning: c.Meaning, For: c.For, Needed: c.Needed})
	}
	head := views.Head{Title: t.title, Section: t.section, Crumbs: []views.Link{t.crumb}}
	return t.s.show(w, r, status, head, views.ImportTable(m))
}

// mostFaults bounds the list: whoever sent the wrong file need not read more.
const mostFaults = 200

func rowFaults(faults exchange.Faults) []views.RowFault {
	var out []views.RowFault
	for i, f := range faults {
		if i == mostFaults {
			out = append(out, views.RowFault{Row: "and more", Message: fmt.Sprintf("%d faults besides these", len(faults)-mostFaults)})
			break
		}
		x := views.RowFault{Row: "the file", Column: f.Column, Message: first(f.Message) + "."}
		if f.Line > 0 {
			x.Row = strconv.Itoa(f.Line)
		}
		out = append(out, x)
	}
	return out
}

func changedRow(c exchange.Change) views.ChangedRow {
	x := views.ChangedRow{Row: strconv.Itoa(c.Line), Name: c.Name, Kind: c.Kind, State: first(string(c.Outcome))}
	for _, d := range c.Columns {
		x.Details = append(x.Details, d.Column+": "+orNothing(d.Was)+" → "+orNothing(d.Is))
	}
	return x
}

func orNothing(s string) string {
	if s == "" {
		return "(nothing)"
	}
	return s
}
