package web

import (
	"fmt"
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"duskboard/internal/fault"
	"duskboard/web/guide"
	"duskboard/web/views"
)

// guideCrumb leads back to the list of all pages of the guide.
var guideCrumb = []views.Link{{Text: "Guide", Href: "/guide"}}

// guideRoutes are the user's guide. It holds nothing of the club: strangers may
// read it.
func (s *server) guideRoutes(r chi.Router) {
	r.Get("/guide", s.page(s.showGuide))
	r.Get("/guide/all", s.page(s.showGuideWhole))
	r.Get("/guide/{page}", s.page(s.showGuidePage))
}

// showGuide lists the pages, and what was found for q.
func (s *server) showGuide(w http.ResponseWriter, r *http.Request) error {
	query := strings.TrimSpace(strings.ToValidUTF8(r.URL.Query().Get("q"), ""))
	m := views.GuideModel{Query: query}
	groupOf := map[string]string{}
	for _, g := range s.book.Groups {
		list := views.GuideGroup{ID: g.Key, Title: g.Title, Lead: g.Lead}
		for _, p := range g.Pages {
			groupOf[p.Key] = g.Title
			list.Pages = append(list.Pages, views.GuideEntry{Title: p.Title, Summary: p.Summary, Href: p.Href()})
		}
		m.Groups = append(m.Groups, list)
	}
	found, unknown := s.book.Search(query)
	for _, f := range found {
		row := views.GuideFound{Title: f.Page.Title, Href: f.Page.Href(), Group: groupOf[f.Page.Key]}
		if f.Heading != "" {
			row.Href += "#" + f.Heading
		}
		for _, p := range f.Said {
			row.Said = append(row.Said, views.GuidePiece(p))
		}
		m.Found = append(m.Found, row)
	}
	m.Nothing = query != "" && len(found) == 0
	m.Unknown = quotedList(unknown)
	return s.show(w, r, http.StatusOK, views.Head{Title: "Guide"}, views.Guide(m))
}

// quotedList writes words as “a”, “b” or “c”.
func quotedList(words []string) string {
	s := ""
	for i, w := range words {
		switch {
		case i > 0 && i == len(words)-1:
			s += " or "
		case i > 0:
			s += ", "
		}
		s += "“" + w + "”"
	}
	return s
}

// showGuidePage shows one task, with its neighbours in the order of the work.
func (s *server) showGuidePage(w http.ResponseWriter, r *http.Request) error {
	key := chi.URLParam(r, "page")
	p := s.book.Page(key)
	if p == nil {
		return fault.New(fault.NotFound, "The guide has no page of this name. Look for it in the list of the guide.")
	}
	body, err := p.HTML(mayRead(r))
	if err != nil {
		return err
	}
	m := views.GuidePageModel{Title: p.Title, Summary: p.Summary, Body: body}
	var before *guide.Page
	for _, g := range s.book.Groups {
		for _, x := range g.Pages {
			switch {
			case x == p:
				m.Group = g.Title
				if before != nil {
					m.Before = &views.Link{Text: before.Title, Href: before.Href()}
				}
			case before == p:
				m.After = &views.Link{Text: x.Title, Href: x.Href()}
			}
			before = x
		}
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: p.Title, Crumbs: guideCrumb}, views.GuidePage(m))
}

// showGuideWhole shows every task in one document, to print.
func (s *server) showGuideWhole(w http.ResponseWriter, r *http.Request) error {
	club, err := s.store.Club(r.Context())
	if err != nil {
		return fmt.Errorf("load club for the guide: %w", err)
	}
	m := views.GuideWholeModel{Club: club.Name}
	for _, g := range s.book.Groups {
		part := views.GuideWholeGroup{ID: g.Key, Title: g.Title, Lead: g.Lead}
		for _, p := range g.Pages {
			body, err := p.InWhole(mayRead(r))
			if err != nil {
				return err
			}
			part.Pages = append(part.Pages, views.GuidePageModel{ID: p.Key, Title: p.Title, Summary: p.Summary, Body: body})
		}
		m.Groups = append(m.Groups, part)
	}
	return s.show(w, r, http.StatusOK, views.Head{Title: "The guide", Crumbs: guideCrumb}, views.GuideWhole(m))
}

// mayRead tells the guide which links to leave as words for whoever asks.
func mayRead(r *http.Request) func(href string) bool {
	return func(href string) bool { return views.May(r.Context(), http.MethodGet, href) }
}
